#include "src/record/page_style.h"

#include <fmt/format.h>

#include <string>

namespace evenleg {
namespace {

// Colours keep a contrast of 4.5 to 1 and more with what they stand on (WCAG 2.1, 1.4.3); none of
// them says anything that words or a shape do not say as well.
constexpr std::string_view kScreen = R"css(
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: #fff; color: #161616;
  font: 1rem/1.5 "DejaVu Sans", Verdana, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0 0 .25rem; }
h2 { font-size: 1.25rem; line-height: 1.25; margin: 2rem 0 .5rem; padding-top: .5rem;
  border-top: 2px solid #161616; }
h3 { font-size: 1rem; margin: 0 0 .35rem; }
p { margin: .5rem 0; max-width: 46rem; }
ul, ol { margin: .5rem 0; padding-left: 1.5rem; max-width: 46rem; }
li { margin: .25rem 0; }
a { color: #17505c; }
.made { margin: 0 0 1rem; color: #404040; }
.first { border: 3px solid #a0121c; padding: .25rem 1rem .75rem; margin: 1rem 0; }
.first h2 { border: 0; margin: .25rem 0; padding: 0; color: #8a0f18; }
.first h2::before { content: "\25B2\00A0"; }
.first .found { font-weight: bold; }
.first .group { margin-top: .75rem; }
.first li { margin: .15rem 0; }
.contents ul { padding: 0; list-style: none; columns: 16rem; max-width: none; }
.contents li { padding: .15rem 0; }
dl { margin: .5rem 0; }
dl > div { display: flex; flex-wrap: wrap; gap: 0 1rem; padding: .2rem 0;
  border-bottom: 1px solid #c4c4c4; }
dt { flex: 0 0 12rem; max-width: 100%; color: #404040; }
dd { flex: 1 1 14rem; margin: 0; min-width: 0; white-space: pre-line; }
dd.blank { min-height: 1.6em; border-bottom: 1px dotted #161616; }
.statement { border-left: 6px solid #6b6b6b; padding: .25rem 0 .25rem .9rem; margin: 1rem 0; }
.statement.grave { border-left-color: #a0121c; }
.statement dl > div { border: 0; padding: .1rem 0; }
.statement dt { flex-basis: 8.5rem; }
.weight { display: inline-block; border: 1.5px solid #161616; padding: 0 .4rem; margin-right: .5rem;
  font-size: .85rem; }
.grave .weight { background: #a0121c; border-color: #a0121c; color: #fff; }
table { border-collapse: collapse; width: 100%; margin: .75rem 0; font-size: .875rem; }
caption { text-align: left; font-weight: bold; padding: .25rem 0; }
th, td { text-align: left; vertical-align: top; padding: .25rem .5rem; border-bottom: 1px solid #c4c4c4; }
thead th { border-bottom: 2px solid #161616; vertical-align: bottom; }
tbody th { font-weight: normal; }
.number { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
thead .number { white-space: normal; }
td, th { overflow-wrap: break-word; }
.long { overflow-wrap: anywhere; min-width: 8em; }
.brief { white-space: nowrap; }
.notes { font-size: .875rem; color: #333; }
figure { margin: 1rem 0; max-width: 40rem; }
figure svg { display: block; width: 100%; height: auto; border: 1px solid #c4c4c4; }
.pair figure { display: inline-block; width: 100%; vertical-align: top; }
footer { margin-top: 2rem; padding-top: .75rem; border-top: 2px solid #161616; font-size: .875rem; }
.first .groups { columns: 19rem; column-gap: 2rem; }
.first .group { break-inside: avoid; }
@media (min-width: 56rem) {
  .pair figure { width: 49%; margin-right: .5%; }
}
)css";

constexpr std::string_view kPaper = R"css(@page { margin: 16mm 15mm 18mm;
  @bottom-left { content: "Calculated from a description; what that is worth stands at the end."; font: 8pt sans-serif; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }
@page client { margin: 11mm 14mm 14mm; }
@media print {
  body { max-width: none; padding: 0; font-size: 9.5pt; line-height: 1.4; }
  h1 { font-size: 16pt; } h2 { font-size: 12.5pt; margin-top: 14pt; }
  h2, h3, caption, thead, tbody tr:first-child { break-after: avoid; }
  p, li { orphans: 3; widows: 3; }
  .contents { display: none; }
  .first h2 { margin: 0; }
  .first li { font-size: 8.5pt; line-height: 1.3; }
  .first, .statement, tr, figure, dl > div { break-inside: avoid; }
  .new-page { break-before: page; }
  thead { display: table-header-group; }
  th, td { padding: 1.5pt 4pt; }
  .pair { orphans: 1; widows: 1; }
  figure svg { max-height: 215mm; }
  table { font-size: 8pt; }
  figure { max-width: 120mm; margin: 8pt 0; }
  .pair figure { width: 49%; max-width: none; margin-right: .5%; }
  h3 { font-size: 10pt; }
  .for-client { page: client; font-size: 9pt; line-height: 1.25; }
  .for-client .first .group { break-inside: auto; }
  .for-client figure svg { max-height: 62mm; }
  .for-client .first h3 { margin: 0; }
  .for-client .first ul { margin: 0; }
  .for-client h2 { margin: 4pt 0 1pt; padding-top: 2pt; font-size: 11.5pt; }
  .for-client figure { margin: 3pt 0; }
  .for-client .first { margin: 4pt 0; padding: 2pt 8pt 2pt; }
  .for-client .first h2 { margin: 0; }
  .for-client dl { margin: 0; }
  .for-client ol { margin: 2pt 0; }
  .for-client p, .for-client li { margin: 1.5pt 0; max-width: none; }
  .for-client dl > div { padding: 1pt 0; }
  .for-client h1 { font-size: 14pt; }
  .for-client footer { margin-top: 4pt; padding-top: 2pt; font-size: 7pt; line-height: 1.2; }
}
)css";

// Below that width each row of such a table is a block of labelled lines.
std::string stacked(std::string_view table, std::string_view width, std::string_view columns) {
  return fmt::format(
      R"css(@media screen and (max-width: {1}) {{
  {0} thead {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }}
  {0} tr {{ display: grid; grid-template-columns: {2}; gap: 0 2.5rem; padding: .4rem 0;
    border-bottom: 2px solid #8a8a8a; }}
  {0} td, {0} tbody th {{ display: flex; gap: 1rem; justify-content: space-between;
    border: 0; padding: .1rem 0; text-align: right; white-space: normal; }}
  {0} td:empty {{ display: none; }}
  {0} td::before, {0} tbody th::before {{ content: attr(data-label); color: #404040;
    text-align: left; flex: 0 0 40%; }}
  {0} tbody th {{ font-weight: bold; }}
  {0} .cell {{ min-width: 0; overflow-wrap: anywhere; }}
}}
)css",
      table, width, columns);
}

}  // namespace

std::string page_style() {
  constexpr std::string_view kPhone = "40rem", kTablet = "52rem";
  return std::string(kScreen) + stacked(".widest", kTablet, "1fr 1fr") +
         stacked(".wide", kPhone, "1fr") + stacked(".widest", kPhone, "1fr") + std::string(kPaper);
}

}  // namespace evenleg

#include "evenleg/base/percent.h"
#include "evenleg/base/text_table.h"
#include "evenleg/report/audit_words.h"
#include "src/report/audit_sections.h"

namespace evenleg {
namespace {

constexpr int kShownOrders[] = {3, 5, 7, 9};

std::string percent(const std::optional<double>& ratio) {
  return ratio ? fixed(kPercent * *ratio, 1) : "-";
}

// The orders that have no column of their own, together.
double other_orders(const HarmonicCurrent& current) {
  std::vector<double> others;
  for (const OrderAmps& part : current.orders) {
    bool own_column = part.order == 1;
    for (const int order : kShownOrders) own_column = own_column || part.order == order;
    if (!own_column) others.push_back(part.amps.si());
  }
  return total_rms(others);
}

double amps_at(const HarmonicCurrent& current, int order) {
  for (const OrderAmps& part : current.orders) {
    if (part.order == order) return part.amps.si();
  }
  return 0;
}

std::vector<std::string> cells(std::string conductor, const HarmonicCurrent& current) {
  std::vector<std::string> row{std::move(conductor), shown(amps_at(current, 1)),
                               shown(current.rms.si()), percent(current.distortion)};
  for (const int order : kShownOrders) row.push_back(shown(amps_at(current, order)));
  row.push_back(shown(other_orders(current)));
  return row;
}

std::string volts_text(const AuditView& view, const Harmonics& harmonics) {
  std::vector<std::string> sound;
  std::vector<std::string> degraded;
  for (std::size_t i = 0; i < harmonics.legs.size(); ++i) {
    const HarmonicLeg& leg = harmonics.legs[i];
    sound.push_back(view.audit.legs[i].leg + " " + percent(leg.volts_distortion) + " %");
    degraded.push_back(view.audit.legs[i].leg + " " + percent(leg.volts_distortion_degraded) +
                       " %");
  }
  return fmt::format(
      "Distortion of the volts at the first panel: {}; with {} Ω added in the "
      "service neutral: {}.",
      listed(sound), figure(harmonics.degraded_neutral.si()), listed(degraded));
}

}  // namespace

std::string harmonics_section(const AuditView& view, SourceList& sources) {
  if (!view.audit.harmonics) return "";
  const Harmonics& harmonics = *view.audit.harmonics;
  std::string text = heading("Harmonics as found, amperes by order");
  TextTable table({{"conductor"},
                   {"1st", Align::Right},
                   {"rms A", Align::Right},
                   {"THD %", Align::Right},
                   {"3rd", Align::Right},
                   {"5th", Align::Right},
                   {"7th", Align::Right},
                   {"9th", Align::Right},
                   {"others", Align::Right},
                   {"rated A", Align::Right}});
  for (std::size_t i = 0; i < harmonics.legs.size(); ++i) {
    auto row = cells(view.audit.legs[i].leg, harmonics.legs[i].current);
    row.emplace_back();
    table.add(std::move(row));
  }
  for (std::size_t i = 0; i < harmonics.neutrals.size(); ++i) {
    const NeutralRow& neutral = view.audit.neutrals[i];
    auto row = cells("neutral: " + neutral.place, harmonics.neutrals[i]);
    row.push_back(shown(neutral.rated_amps));
    table.add(std::move(row));
  }
  text += table.text();
  text += paragraph(volts_text(view, harmonics));
  std::string marks;
  for (const Citation& source : harmonics.sources) {
    marks += (marks.empty() ? "" : " ") + sources.mark(source);
  }
  text += paragraph(fmt::format(
      "{} a spectrum, stated or of their kind{}. rms A is all orders together: what heats a "
      "conductor and is to be held against its rating. Harmonics that meet in a neutral may cancel "
      "or add; \"highest A\" above is of the first order alone. Nameplate amperes count as the "
      "first order: where they hold the harmonics already, these figures are on the high side.",
      counted(harmonics.loads.size(), "load that is on has", "loads that are on have"),
      marks.empty() ? "" : " " + marks));
  return text;
}

}  // namespace evenleg

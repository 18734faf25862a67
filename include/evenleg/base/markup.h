// Text that people wrote, made fit to stand in markup and on a page.
#pragma once

#include <string>
#include <string_view>

namespace evenleg {

// Without what would reach beyond the text itself: control characters (line ends and tabs become
// spaces) and Unicode's explicit directional formatting (UAX #9, section 2: embeddings, overrides,
// isolates, marks). Bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string plain_text(std::string_view text);

// plain_text() for HTML, SVG and XML, as content or within quotation marks: & < > " ' as entities.
// Runs of letters written from right to left are isolated (U+2068 to U+2069), so that they do not
// take figures beside them along.
[[nodiscard]] std::string escaped_markup(std::string_view text);

}  // namespace evenleg

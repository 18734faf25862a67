#include "evenleg/base/citation.h"

namespace evenleg {

std::string short_form(const Citation& citation) {
  std::string text = citation.title;
  if (!citation.section.empty()) text += ", " + citation.section;
  if (!citation.edition.empty()) text += " (" + citation.edition + ")";
  return text;
}

}  // namespace evenleg

#include "evenleg/report/source_list.h"

#include <algorithm>

namespace evenleg {

std::string SourceList::mark(const std::string& source) {
  if (source.empty()) return "";
  auto at = std::find(entries_.begin(), entries_.end(), source);
  if (at == entries_.end()) at = entries_.insert(entries_.end(), source);
  return "[" + std::to_string(at - entries_.begin() + 1) + "]";
}

std::string SourceList::mark(const Citation& citation) {
  if (citation.title.empty()) return "";
  std::string source = short_form(citation);
  if (!citation.read.empty()) source += "; read: " + citation.read;
  return mark(source);
}

}  // namespace evenleg

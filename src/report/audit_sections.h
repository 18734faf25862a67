// The sections of the audit in text, each a string of whole lines, and how a figure stands in a
// cell.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/base/format.h"
#include "evenleg/report/audit_text.h"
#include "evenleg/report/source_list.h"

namespace evenleg {

struct AuditView {
  const House& house;
  const Tables& tables;
  const Audit& audit;
  AuditTextOptions options;
  std::vector<std::optional<double>> limits;  // volts that each load withstands

  [[nodiscard]] const Load& load(int index) const {
    return house.loads[static_cast<std::size_t>(index)];
  }
  [[nodiscard]] std::optional<double> limit(int index) const {
    return limits[static_cast<std::size_t>(index)];
  }
};

[[nodiscard]] std::string title_line(const AuditView& view);
[[nodiscard]] std::string summary_section(const AuditView& view);
// At most `rows` rows, then how many there are beyond them.
[[nodiscard]] std::string ranking_section(const AuditView& view, int rows);
[[nodiscard]] std::string findings_section(const AuditView& view, SourceList& sources);
[[nodiscard]] std::string legs_section(const AuditView& view);
[[nodiscard]] std::string neutrals_section(const AuditView& view, SourceList& sources);
// Both are empty where there is nothing of the kind.
[[nodiscard]] std::string harmonics_section(const AuditView& view, SourceList& sources);
[[nodiscard]] std::string motor_starts_section(const AuditView& view, SourceList& sources);
[[nodiscard]] std::string places_section(const AuditView& view);
// "" where no load with a law of its own runs beyond any place.
[[nodiscard]] std::string behaviour_section(const AuditView& view, SourceList& sources);
[[nodiscard]] std::string limits_section(const AuditView& view, SourceList& sources);
[[nodiscard]] std::string cautions_section();

// Parts of these that other reports have too.
// What these loads are taken to withstand, by figure, source and kind.
[[nodiscard]] std::string withstood_figures(const House& house, const Tables& tables,
                                            const std::vector<int>& loads, SourceList& sources);
// "[1] …", a paragraph each.
[[nodiscard]] std::string source_entries(const SourceList& sources);
// Heading and what the figures below it are worth.
[[nodiscard]] std::string behaviour_head();
// That a state has too many loads with laws to be followed.
[[nodiscard]] std::string too_many(const Place& place, int loads);
// "in the state of 3 loads that takes "Lamp" highest".
[[nodiscard]] std::string state_words(const House& house, const StateBehaviour& state);
// The laws of the loads that these states follow.
[[nodiscard]] std::string laws_used(const House& house, const Tables& tables,
                                    const std::vector<const StateBehaviour*>& states,
                                    SourceList& sources);

// A line of its own over a section, an empty line before it.
[[nodiscard]] std::string heading(std::string_view text);
// `text` wrapped to the page; lines after the first are indented by `hang` more.
[[nodiscard]] std::string paragraph(std::string_view text, int indent = 2, int hang = 0);

// `figure()`, where less than half a millivolt or milliampere is 0: solvers leave such remains.
[[nodiscard]] std::string shown(double value);

template <class Quantity>
[[nodiscard]] std::string shown(const std::optional<Quantity>& quantity) {
  return shown(quantity ? quantity->si() : std::nan(""));
}

enum class Side { Highest, Lowest };

// Whether the figure is known to be the extreme. `certified`: proofs were asked for.
template <class Quantity>
[[nodiscard]] bool is_certain(bool certified, const std::optional<Extreme<Quantity>>& extreme) {
  return !extreme || (extreme->proven && certified);
}
template <class Quantity>
[[nodiscard]] bool is_certain(const AuditView& view,
                              const std::optional<Extreme<Quantity>>& extreme) {
  return is_certain(view.audit.certified, extreme);
}

// "230"; not proven: "230 (≤ 240)" with a bound, "230 ?" without one.
template <class Quantity>
[[nodiscard]] std::string shown(bool certified, const std::optional<Extreme<Quantity>>& extreme,
                                Side side) {
  if (!extreme) return shown(std::nan(""));
  const std::string value = shown(extreme->value.si());
  if (is_certain(certified, extreme)) return value;
  const double bound = extreme->bound.si();
  if (!certified || !std::isfinite(bound)) return value + " ?";
  return fmt::format("{} ({} {})", value, side == Side::Highest ? "≤" : "≥", shown(bound));
}
template <class Quantity>
[[nodiscard]] std::string shown(const AuditView& view,
                                const std::optional<Extreme<Quantity>>& extreme, Side side) {
  return shown(view.audit.certified, extreme, side);
}

}  // namespace evenleg

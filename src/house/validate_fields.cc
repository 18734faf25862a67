// Every value by itself, through the field lists, and the names within each kind.
#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "evenleg/house/fields.h"
#include "src/house/judge.h"

namespace evenleg {
namespace {

template <class Record>
void judge_record(Judge& judge, const Record& record, std::size_t index) {
  for (const Field<Record>& field : fields_of<Record>()) {
    const Value value = field.get(record);
    const bool absent = std::holds_alternative<std::monostate>(value);
    if (absent && field.needed) {
      judge.fault(kind_name<Record>, index, field.key, "is needed and not given",
                  fmt::format("give {}", expected(field)));
    } else if (auto what = fault_of(field, value)) {
      judge.bounds_fault(kind_name<Record>, index, field.key, std::move(*what));
    }
  }
}

template <class Record>
void judge_all(Judge& judge, const std::vector<Record>& records) {
  for (std::size_t i = 0; i < records.size(); ++i) judge_record(judge, records[i], i);
}

template <class Record>
void judge_named(Judge& judge, const std::vector<Record>& records) {
  judge_all(judge, records);
  const NameIndex first = first_by_name(records);
  for (std::size_t i = 0; i < records.size(); ++i) {
    const std::string& name = records[i].name;
    if (name.empty() || first.at(name) == static_cast<int>(i)) continue;
    judge.fault(kind_name<Record>, i, "name",
                fmt::format("another {} is already called \"{}\"", kind_name<Record>, name),
                "give each its own name");
  }
}

void judge_free_text(Judge& judge, std::string_view kind, const FreeText& texts) {
  for (const auto& [key, text] : texts) {
    if (auto what = free_text_fault(key, text)) {
      judge.bounds_fault(kind, 0, key, std::move(*what));
    }
  }
}

}  // namespace

void judge_fields(Judge& judge) {
  const House& house = judge.house;
  if (house.about.count("name") == 0) {
    judge.fault("house", 0, "name", "the house has no name", "give it one, it heads the report");
  }
  judge_free_text(judge, "house", house.about);
  judge_record(judge, house.supply, 0);
  if (house.supply.transformer) judge_record(judge, *house.supply.transformer, 0);
  if (house.service) judge_record(judge, *house.service, 0);
  if (house.dwelling) judge_record(judge, *house.dwelling, 0);
  judge_named(judge, house.panels);
  judge_named(judge, house.circuits);
  judge_named(judge, house.multiwires);
  judge_named(judge, house.outlets);
  judge_named(judge, house.loads);
  judge_named(judge, house.scenarios);
  judge_all(judge, house.readings);
  judge_free_text(judge, "visit", house.visit);
  judge_all(judge, house.findings);
}

}  // namespace evenleg

// The supply, its transformer, and the conductors and lengths of every run.
#include <fmt/format.h>

#include "evenleg/base/format.h"
#include "src/house/judge.h"

namespace evenleg {
namespace {

void judge_system(Judge& judge) {
  const Supply& supply = judge.house.supply;
  if (!judge.system) {
    if (supply.system.empty()) return;  // its field says so
    std::vector<std::string> known;
    for (const SupplySystem& system : judge.vocabulary.systems) known.push_back(system.name);
    const auto close = nearest(supply.system, known);
    judge.fault("supply", 0, "system",
                fmt::format("\"{}\" is not a known supply system", supply.system),
                close ? fmt::format("perhaps \"{}\"", *close)
                      : fmt::format("name one of: {}", fmt::join(known, ", ")));
    return;
  }
  const std::size_t legs = judge.system->legs.size();
  const std::size_t given = supply.volts.size();
  if (given <= 1 || given == legs) return;
  judge.fault("supply", 0, "volts",
              fmt::format("{} values for the {} of \"{}\"", given, counted(legs, "leg"),
                          supply.system),
              "give one for all legs, or one for each");
}

void judge_transformer(Judge& judge, const Transformer& transformer) {
  if (!transformer.kva) {
    judge.fault("supply.transformer", 0, "kva", "the transformer has no kva",
                "give its rating, or leave the transformer out");
  }
  if (!transformer.resistance_percent && !transformer.reactance_percent) {
    judge.fault("supply.transformer", 0, "resistance_percent",
                "the transformer has neither resistance_percent nor reactance_percent",
                "give at least one of them, or leave the transformer out");
  }
}

// The size in "12", "#12", "12 AWG" and the cables "12/3" and "12-2"; any other text is given back.
std::string bare_size(std::string name) {
  std::erase(name, '#');
  for (const std::string_view end :
       {" AWG", " awg", " gauge", " ga", "/2", "/3", "-2", "-3", "/4"}) {
    if (name.ends_with(end)) return name.substr(0, name.size() - end.size());
  }
  return name;
}

// Where only the metal is missing, it is for the person to say.
std::string remedy_for_conductor(const std::string& name, const Vocabulary& vocabulary) {
  const std::string size = bare_size(name);
  std::vector<std::string> known;
  for (const char* const metal : {" Cu", " Al"}) {
    if (vocabulary.knows_conductor(size + metal)) known.push_back("\"" + size + metal + "\"");
  }
  if (!known.empty()) return fmt::format("write its metal too: {}", fmt::join(known, " or "));
  return "write size and metal, such as \"12 Cu\", \"4/0 Al\" or \"2.5 mm2 Cu\"";
}

void judge_conductor(Judge& judge, std::string_view kind, std::size_t index, std::string_view key,
                     const std::optional<std::string>& name) {
  const auto& knows = judge.vocabulary.knows_conductor;
  if (!name || name->empty() || !knows || knows(*name)) return;
  judge.fault(kind, index, key, fmt::format("\"{}\" is not a known conductor", *name),
              remedy_for_conductor(*name, judge.vocabulary));
}

void judge_run(Judge& judge, std::string_view kind, std::size_t index, const Run& run) {
  judge_conductor(judge, kind, index, "conductor", run.conductor);
  judge_conductor(judge, kind, index, "neutral", run.neutral);
  if (run.length_ft && run.length_m) {
    judge.fault(kind, index, "length_m", "both length_ft and length_m are given",
                "keep one of them");
  }
}

template <class Record>
void judge_runs(Judge& judge, std::string_view kind, const std::vector<Record>& records) {
  for (std::size_t i = 0; i < records.size(); ++i) judge_run(judge, kind, i, records[i].run);
}

}  // namespace

void judge_supply(Judge& judge) {
  const House& house = judge.house;
  judge_system(judge);
  if (house.supply.transformer) judge_transformer(judge, *house.supply.transformer);
  if (house.service) judge_run(judge, "service", 0, house.service->run);
  judge_runs(judge, "panel", house.panels);
  judge_runs(judge, "circuit", house.circuits);
  judge_runs(judge, "multiwire", house.multiwires);
  judge_runs(judge, "outlet", house.outlets);
}

}  // namespace evenleg

#include "evenleg/edit/unfinished.h"

#include <algorithm>
#include <set>

#include "evenleg/house/fields.h"

namespace evenleg {
namespace {

// Whether the key of that entry is not given; a key that the kind does not have is given.
template <class Record>
bool is_absent(const Record& record, const std::string& key) {
  const auto fields = fields_of<Record>();
  const auto field = std::find_if(fields.begin(), fields.end(),
                                  [&](const Field<Record>& one) { return one.key == key; });
  return field != fields.end() && std::holds_alternative<std::monostate>(field->get(record));
}

template <class Record>
bool is_absent(const std::vector<Record>& records, const Subject& subject) {
  const auto i = static_cast<std::size_t>(subject.index);
  return i < records.size() && is_absent(records[i], subject.key);
}

template <class Record>
bool is_absent(const std::optional<Record>& record, const Subject& subject) {
  return record && is_absent(*record, subject.key);
}

bool has_no_rating(const House& house, const Subject& subject) {
  const auto i = static_cast<std::size_t>(subject.index);
  if (subject.kind != "load" || !subject.key.empty() || i >= house.loads.size()) return false;
  const Load& load = house.loads[i];
  return !load.watts && !load.va && !load.amps && !load.ohms && !load.measured_amps;
}

bool is_one_circuit(const House& house, const Subject& subject) {
  const auto i = static_cast<std::size_t>(subject.index);
  if (subject.kind != "multiwire" || subject.key != "circuits") return false;
  if (i >= house.multiwires.size()) return false;
  const std::vector<std::string>& circuits = house.multiwires[i].circuits;
  if (circuits.size() != 1) return circuits.empty();
  return std::any_of(house.circuits.begin(), house.circuits.end(),
                     [&](const Circuit& circuit) { return circuit.name == circuits.front(); });
}

bool has_run(const Run& run) {
  const bool by_conductor = run.conductor && (run.length_ft || run.length_m);
  return by_conductor || run.hot_ohms || run.neutral_ohms;
}

// Whether anything that draws is described on the circuit. On a shared outlet a load to neutral may
// name its circuit; one between two legs draws from both.
bool feeds_a_load(const House& house, const Circuit& circuit) {
  std::set<std::string> cables{circuit.name};  // what an outlet of it may stand on
  for (const Multiwire& multiwire : house.multiwires) {
    const auto& in = multiwire.circuits;
    if (std::find(in.begin(), in.end(), circuit.name) != in.end()) cables.insert(multiwire.name);
  }
  std::set<std::string> places = cables;
  for (const Outlet& outlet : house.outlets) {
    if (cables.count(outlet.on) > 0) places.insert(outlet.name);
  }
  return std::any_of(house.loads.begin(), house.loads.end(), [&](const Load& load) {
    const bool to_neutral = !load.connect || load.connect->ends_with("-N");
    const bool names_another = load.circuit && *load.circuit != circuit.name;
    return places.count(load.at) > 0 && !(to_neutral && names_another);
  });
}

class Granted {
 public:
  explicit Granted(const House& house) : house_(house) {}

  std::vector<HouseFault> found() {
    service();
    for (std::size_t p = 1; p < house_.panels.size(); ++p) feeder(p);
    for (std::size_t c = 0; c < house_.circuits.size(); ++c) circuit(c);
    for (std::size_t m = 0; m < house_.multiwires.size(); ++m) multiwire(m);
    return std::move(found_);
  }

 private:
  void add(std::string kind, std::size_t index, std::string key, std::string what,
           std::string remedy) {
    found_.push_back({{std::move(kind), static_cast<int>(index), std::move(key)},
                      std::move(what),
                      std::move(remedy)});
  }

  void run(const std::string& kind, std::size_t index, const Run& run) {
    if (has_run(run)) return;
    const bool no_length = run.conductor.has_value();
    add(kind, index, no_length ? "length_ft" : "conductor",
        no_length ? "no length is given, and its run counts as 0 ohms"
                  : "no conductor is given, and its run counts as 0 ohms",
        no_length ? "give its length along the cable" : "give conductor and length");
  }

  void service() {
    if (!house_.service || !has_run(house_.service->run)) {
      add("service", 0, "conductor", "the service's run is not described and counts as 0 ohms",
          "give conductor and length");
    }
  }

  void feeder(std::size_t p) {
    run("panel", p, house_.panels[p].run);
    if (!house_.panels[p].breaker_a) {
      add("panel", p, "breaker_a", "no breaker is given", "give its feeder's breaker");
    }
  }

  [[nodiscard]] bool in_multiwire(const std::string& name) const {
    return std::any_of(house_.multiwires.begin(), house_.multiwires.end(),
                       [&](const Multiwire& multiwire) {
                         const auto& in = multiwire.circuits;
                         return std::find(in.begin(), in.end(), name) != in.end();
                       });
  }

  void circuit(std::size_t c) {
    const Circuit& circuit = house_.circuits[c];
    if (!circuit.breaker_a) {
      add("circuit", c, "breaker_a", "no breaker is given, so nothing limits what is on together",
          "give its breaker");
    }
    if (!in_multiwire(circuit.name)) run("circuit", c, circuit.run);
    if (!circuit.measured_amps && !feeds_a_load(house_, circuit)) {
      add("circuit", c, "", "no load is described on it, and it counts as drawing nothing",
          "put on it what it feeds, or leave it so if it feeds nothing");
    }
  }

  void multiwire(std::size_t m) {
    const Multiwire& multiwire = house_.multiwires[m];
    run("multiwire", m, multiwire.run);
    if (!multiwire.common_disconnect) {
      add("multiwire", m, "common_disconnect", "it is not known whether its breakers open together",
          "say whether they have a common disconnect");
    }
  }

  const House& house_;
  std::vector<HouseFault> found_;
};

}  // namespace

bool is_missing(const House& house, const HouseFault& fault) {
  const Subject& subject = fault.subject;
  if (has_no_rating(house, subject) || is_one_circuit(house, subject)) return true;
  if (subject.kind == "house") return house.about.count(subject.key) == 0;
  if (subject.kind == "panel" && house.panels.empty()) return true;
  if (subject.kind == "panel") return is_absent(house.panels, subject);
  if (subject.kind == "circuit") return is_absent(house.circuits, subject);
  if (subject.kind == "outlet") return is_absent(house.outlets, subject);
  if (subject.kind == "load") return is_absent(house.loads, subject);
  if (subject.kind == "reading") return is_absent(house.readings, subject);
  if (subject.kind == "service") return is_absent(house.service, subject);
  if (subject.kind == "supply.transformer") return is_absent(house.supply.transformer, subject);
  if (subject.kind == "dwelling") return is_absent(house.dwelling, subject);
  return false;
}

std::vector<HouseFault> taken_for_granted(const House& house) { return Granted(house).found(); }

}  // namespace evenleg

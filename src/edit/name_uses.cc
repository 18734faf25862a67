#include "src/edit/name_uses.h"

#include <functional>
#include <utility>

#include "evenleg/house/validate.h"

namespace evenleg {
namespace {

using Visit = std::function<void(std::string& name, const Subject& subject)>;

// Every place that names a thing of one kind. Where a key may name either of two kinds, no name is
// taken by both (validate), so a name that fits is of this kind.
struct Walk {
  House& house;
  const Visit& visit;

  template <class Record>
  void each(std::string_view kind, std::vector<Record>& records, std::string_view key,
            const std::function<void(Record&, const std::function<void(std::string&)>&)>& slots) {
    for (std::size_t i = 0; i < records.size(); ++i) {
      const Subject subject{std::string(kind), static_cast<int>(i), std::string(key)};
      slots(records[i], [&](std::string& name) { visit(name, subject); });
    }
  }

  template <class Record>
  void text(std::string_view kind, std::vector<Record>& records, std::string_view key,
            std::string Record::*member) {
    each<Record>(kind, records, key,
                 [member](Record& record, const auto& see) { see(record.*member); });
  }

  template <class Record>
  void maybe(std::string_view kind, std::vector<Record>& records, std::string_view key,
             std::optional<std::string> Record::*member) {
    each<Record>(kind, records, key, [member](Record& record, const auto& see) {
      if (record.*member) see(*(record.*member));
    });
  }

  template <class Record>
  void list(std::string_view kind, std::vector<Record>& records, std::string_view key,
            std::vector<std::string> Record::*member) {
    each<Record>(kind, records, key, [member](Record& record, const auto& see) {
      for (std::string& name : record.*member) see(name);
    });
  }

  void shares() {
    each<Scenario>("scenario", house.scenarios, "share", [](Scenario& scenario, const auto& see) {
      std::map<std::string, double> seen;
      for (const auto& entry : scenario.share) {
        std::string name = entry.first;
        see(name);
        seen.emplace(std::move(name), entry.second);
      }
      scenario.share = std::move(seen);
    });
  }
};

void each_use(House& house, std::string_view kind, const Visit& visit) {
  Walk walk{house, visit};
  if (kind == "panel") {
    walk.maybe("panel", house.panels, "fed_from", &Panel::fed_from);
    walk.maybe("circuit", house.circuits, "panel", &Circuit::panel);
    walk.text("reading", house.readings, "at", &Reading::at);
  } else if (kind == "circuit") {
    walk.list("multiwire", house.multiwires, "circuits", &Multiwire::circuits);
    walk.text("outlet", house.outlets, "on", &Outlet::on);
    walk.text("load", house.loads, "at", &Load::at);
    walk.maybe("load", house.loads, "circuit", &Load::circuit);
  } else if (kind == "multiwire") {
    walk.text("outlet", house.outlets, "on", &Outlet::on);
  } else if (kind == "outlet") {
    walk.maybe("outlet", house.outlets, "after", &Outlet::after);
    walk.text("load", house.loads, "at", &Load::at);
    walk.text("reading", house.readings, "at", &Reading::at);
  } else if (kind == "load") {
    walk.list("scenario", house.scenarios, "on", &Scenario::on);
    walk.shares();
    walk.list("reading", house.readings, "on", &Reading::on);
  }
}

}  // namespace

std::vector<std::string> uses_of(const House& house, std::string_view kind,
                                 const std::string& name) {
  House copy = house;
  std::vector<std::string> uses;
  each_use(copy, kind, [&](std::string& used, const Subject& subject) {
    if (used == name) uses.push_back(described(subject, house));
  });
  const bool first_panel =
      kind == "panel" && !house.panels.empty() && house.panels.front().name == name;
  for (std::size_t c = 0; first_panel && c < house.circuits.size(); ++c) {
    if (house.circuits[c].panel) continue;
    uses.push_back(described({"circuit", static_cast<int>(c), ""}, house));
  }
  return uses;
}

void rename_uses(House& house, std::string_view kind, const std::string& from,
                 const std::string& to) {
  each_use(house, kind, [&](std::string& used, const Subject&) {
    if (used == from) used = to;
  });
}

}  // namespace evenleg

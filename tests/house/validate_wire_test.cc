// What validate() accepts can be wired. Random houses from a small pool of names, spaces and
// connections, most of them wrong in some way; of each that is accepted the wiring is looked
// through.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "evenleg/house/validate.h"
#include "evenleg/house/wiring.h"

namespace evenleg {
namespace {

constexpr unsigned kSeed = 20261125;
constexpr int kHouses = 10000;
constexpr int kFewestAccepted = 100;  // of those, so that the test has something to look at

Vocabulary words() {
  Vocabulary vocabulary;
  vocabulary.systems = {
      {"120/240 split-phase", 120, {{"L1", 0}, {"L2", 180}}, true},
      {"120/208 wye", 120, {{"L1", 0}, {"L2", -120}, {"L3", 120}}, false},
  };
  vocabulary.load_kinds = {"plain"};
  vocabulary.knows_conductor = [](std::string_view) { return true; };
  return vocabulary;
}

class RandomHouse {
 public:
  explicit RandomHouse(unsigned seed) : random_(seed) {}

  House next() {
    House house;
    house.about["name"] = "any";
    house.supply.system = one_in(3) ? "120/208 wye" : "120/240 split-phase";
    for (int p = 0; p <= below(2); ++p) house.panels.push_back(panel(p));
    for (int c = 0; c <= below(5); ++c) house.circuits.push_back(circuit(c));
    if (one_in(2)) house.multiwires.push_back(multiwire());
    for (int o = 0; o < below(5); ++o) house.outlets.push_back(outlet(o));
    for (int l = 0; l < below(4); ++l) house.loads.push_back(load(l));
    return house;
  }

 private:
  int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(random_); }
  bool one_in(int n) { return below(n) == 0; }
  std::string any(std::initializer_list<const char*> texts) {
    return *(texts.begin() + below(static_cast<int>(texts.size())));
  }
  std::string any_circuit() { return any({"c0", "c1", "c2", "c3", "c4"}); }
  std::string any_leg() { return any({"L1", "L2", "L1", "L2", "L3"}); }

  Panel panel(int p) {
    Panel made;
    made.name = p == 0 ? "p0" : "p1";
    made.spaces = 12;
    if (p > 0) made.fed_from = any({"p0", "p0", "p0", "p1"});
    if (p > 0 && one_in(2)) made.at_spaces = {9, one_in(4) ? 10 : 11};
    if (!made.at_spaces.empty() && one_in(4)) made.at_spaces.pop_back();
    return made;
  }

  Circuit circuit(int c) {
    Circuit made;
    made.name = "c" + std::to_string(c);
    if (one_in(3)) made.panel = any({"p0", "p1"});
    made.poles = one_in(4) ? 1 + below(3) : 1;
    if (!one_in(8)) made.space = 1 + c + (one_in(3) ? below(8) : 0);
    if (one_in(5) || !made.space) {
      for (int pole = 0; pole < made.poles; ++pole) made.legs.push_back(any_leg());
    }
    return made;
  }

  Multiwire multiwire() {
    Multiwire made;
    made.name = "m0";
    made.circuits = {any_circuit(), any_circuit()};
    if (one_in(4)) made.circuits.push_back(any_circuit());
    return made;
  }

  Outlet outlet(int o) {
    Outlet made;
    made.name = "o" + std::to_string(o);
    made.on = one_in(3) ? "m0" : any({"c0", "c1", "c2"});
    if (one_in(3)) made.after = any({"o0", "o1", "o2", "o3"});
    return made;
  }

  Load load(int l) {
    Load made;
    made.name = "l" + std::to_string(l);
    made.at = one_in(3) ? any_circuit() : any({"o0", "o1", "o2"});
    if (one_in(4)) made.circuit = any_circuit();
    if (one_in(2)) {
      made.connect = any({"L-N", "L-L", "L1-N", "L2-N", "L1-L2", "L2-L3", "L1-L1", "N-L1", "L"});
    }
    made.watts = 100;
    return made;
  }

  std::mt19937 random_;
};

bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

void look_through(const House& house, const Wiring& wiring) {
  REQUIRE(wiring.panels.size() == house.panels.size());
  for (std::size_t c = 0; c < house.circuits.size(); ++c) {
    REQUIRE(wiring.circuit_legs[c].size() == static_cast<std::size_t>(house.circuits[c].poles));
    const auto& bus = wiring.panels[static_cast<std::size_t>(wiring.circuit_panel[c])].legs;
    for (int leg : wiring.circuit_legs[c]) REQUIRE(holds(bus, leg));
  }
  for (const Cable& cable : wiring.cables) {
    REQUIRE(!cable.hots.empty());
    for (std::size_t b = 1; b < cable.boxes.size(); ++b) {
      const Box& box = cable.boxes[b];
      REQUIRE(box.upstream >= 0);
      REQUIRE(box.upstream < static_cast<int>(b));
      // A hot that reaches a box passes the one upstream of it.
      const Box& upstream = cable.boxes[static_cast<std::size_t>(box.upstream)];
      for (int hot : box.hots) REQUIRE(holds(upstream.hots, hot));
    }
  }
  for (std::size_t o = 0; o < house.outlets.size(); ++o) REQUIRE(wiring.outlet_box[o] > 0);
  REQUIRE(wiring.loads.size() == house.loads.size());
  for (const WiredLoad& load : wiring.loads) {
    const Cable& cable = wiring.cables[static_cast<std::size_t>(load.cable)];
    const Box& box = cable.boxes[static_cast<std::size_t>(load.box)];
    REQUIRE(holds(box.hots, load.from));
    if (load.to == kNeutral) continue;
    REQUIRE(holds(box.hots, load.to));
    REQUIRE(cable.hots[static_cast<std::size_t>(load.from)].leg !=
            cable.hots[static_cast<std::size_t>(load.to)].leg);
  }
}

}  // namespace

TEST_CASE("validate: what it accepts can be wired") {
  RandomHouse houses(kSeed);
  const Vocabulary vocabulary = words();
  CAPTURE(kSeed);
  int accepted = 0;
  for (int i = 0; i < kHouses; ++i) {
    CAPTURE(i);
    const House house = houses.next();
    if (!validate(house, vocabulary).empty()) continue;
    ++accepted;
    look_through(house, wire(house, *find_system(vocabulary, house.supply.system)));
  }
  CHECK(accepted >= kFewestAccepted);
}

}  // namespace evenleg

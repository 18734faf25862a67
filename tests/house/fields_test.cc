#include "evenleg/house/fields.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

using namespace evenleg;

namespace {

using Keys = std::vector<std::string>;

template <class Record>
Keys keys_of() {
  Keys keys;
  for (const Field<Record>& field : fields_of<Record>()) keys.emplace_back(field.key);
  return keys;
}

template <class Record>
Keys needed_of() {
  Keys keys;
  for (const Field<Record>& field : fields_of<Record>()) {
    if (field.needed) keys.emplace_back(field.key);
  }
  return keys;
}

template <class Record>
const Field<Record>& field_called(std::string_view key) {
  const auto fields = fields_of<Record>();
  const auto found =
      std::ranges::find_if(fields, [&](const Field<Record>& field) { return field.key == key; });
  REQUIRE(found != fields.end());
  return *found;
}

template <class Record>
std::string fault_text(std::string_view key, const Value& value) {
  return fault_of(field_called<Record>(key), value).value_or("");
}

// A value that the field takes and that is not its default.
template <class Record>
Value sample(const Field<Record>& field) {
  if (!field.choices.empty()) {
    const Value fresh = field.get(Record{});
    return fresh == Value(field.choices[0]) ? field.choices[1] : field.choices[0];
  }
  switch (field.type) {
    case FieldType::Text:
      return std::string("12 Cu");
    case FieldType::Flag:
      return !(field.get(Record{}) == Value(true));
    case FieldType::Whole:
      return 2LL;
    case FieldType::Number:
      return 0.5;
    case FieldType::Numbers:
      return std::vector<double>{121.8, 121.2};
    case FieldType::WholeList:
      return std::vector<int>{37, 39};
    case FieldType::TextList:
      return std::vector<std::string>{"L1", "L2"};
    case FieldType::Shares:
      return std::map<std::string, double>{{"Range", 0.4}};
    case FieldType::Spectrum:
      return std::map<std::string, double>{{"3", 81}, {"50", 0.5}};
    case FieldType::Time:
      return std::string("2026-03-14T10:20:00");
  }
  return {};
}

template <class Record>
void check_every_field_is_its_own() {
  for (const Field<Record>& field : fields_of<Record>()) {
    CAPTURE(field.key);
    const Value value = sample(field);
    CHECK_FALSE(fault_of(field, value).has_value());
    Record record;
    field.set(record, value);
    CHECK(field.get(record) == value);
    // No other key sees it.
    for (const Field<Record>& other : fields_of<Record>()) {
      if (other.key != field.key) CHECK(other.get(record) == other.get(Record{}));
    }
    field.set(record, Value{});
    CHECK(record == Record{});
  }
}

struct Row {
  Value value;
  const char* fault;
};

template <class Record>
void check_faults(std::string_view key, const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    CAPTURE(key);
    CHECK(fault_text<Record>(key, row.value) == row.fault);
  }
}

}  // namespace

TEST_CASE("fields: each kind has the keys of the house description, in its order") {
  const Keys run{"conductor", "neutral", "length_ft", "length_m", "hot_ohms", "neutral_ohms"};
  const auto with_run = [&](Keys keys) {
    keys.insert(keys.end(), run.begin(), run.end());
    return keys;
  };
  CHECK(keys_of<Supply>() == Keys{"system", "volts"});
  CHECK(keys_of<Transformer>() == Keys{"kva", "resistance_percent", "reactance_percent"});
  Keys service = with_run({"breaker_a"});
  service.emplace_back("earth_return_ohms");
  CHECK(keys_of<Service>() == service);
  CHECK(keys_of<Dwelling>() == Keys{"floor_area_ft2", "floor_area_m2", "small_appliance_circuits",
                                    "laundry_circuits", "new_hvac", "recorded_demand_amps",
                                    "recorded_period"});
  CHECK(keys_of<Panel>() == with_run({"name", "spaces", "neutral_loss_trip_volts", "fed_from",
                                      "at_spaces", "breaker_a"}));
  CHECK(keys_of<Circuit>() ==
        with_run({"name", "panel", "space", "legs", "poles", "breaker_a", "protection", "locked",
                  "measured_amps"}));
  CHECK(keys_of<Multiwire>() ==
        with_run({"name", "circuits", "common_disconnect", "neutral_joint"}));
  CHECK(keys_of<Outlet>() == with_run({"name", "on", "after"}));
  CHECK(keys_of<Load>() == Keys{"name", "at", "circuit", "connect", "kind", "watts", "va", "amps",
                                "ohms", "measured_amps", "volts", "power_factor", "leading", "on",
                                "switching", "noncoincident", "max_volts", "spectrum",
                                "spectrum_degrees", "starting_amps", "code_letter", "horsepower",
                                "starting_power_factor", "starts_per_hour", "demand", "appliance"});
  CHECK(keys_of<Scenario>() == Keys{"name", "on", "share"});
  CHECK(keys_of<Reading>() ==
        Keys{"at",           "label",           "time",
             "on",           "main_off",        "l1_n_volts",
             "l2_n_volts",   "l3_n_volts",      "l1_l2_volts",
             "l2_l3_volts",  "l3_l1_volts",     "l1_amps",
             "l2_amps",      "l3_amps",         "neutral_amps",
             "electrode_amps", "water_pipe_amps", "together_amps",
             "neutral_ground_volts", "l1_ground_volts", "l2_ground_volts",
             "l3_ground_volts", "joint_volts",  "instrument",
             "meter_input",  "accuracy_percent", "accuracy_volts",
             "amps_accuracy_percent"});
  CHECK(keys_of<SiteFinding>() ==
        Keys{"where", "observation", "implication", "recommendation", "urgency"});
}

TEST_CASE("fields: only the keys without a sensible default are needed") {
  CHECK(needed_of<Supply>() == Keys{"system"});
  CHECK(needed_of<Transformer>().empty());
  CHECK(needed_of<Service>().empty());
  CHECK(needed_of<Dwelling>().empty());
  CHECK(needed_of<Panel>() == Keys{"name", "spaces"});
  CHECK(needed_of<Circuit>() == Keys{"name"});
  CHECK(needed_of<Multiwire>() == Keys{"name", "circuits"});
  CHECK(needed_of<Outlet>() == Keys{"name", "on"});
  CHECK(needed_of<Load>() == Keys{"name", "at"});
  CHECK(needed_of<Scenario>() == Keys{"name"});
  CHECK(needed_of<Reading>() == Keys{"at"});
  CHECK(needed_of<SiteFinding>() == Keys{"observation"});
}

TEST_CASE(
    "fields: what is set is got back, touches nothing else, and absent restores the default") {
  check_every_field_is_its_own<Supply>();
  check_every_field_is_its_own<Transformer>();
  check_every_field_is_its_own<Service>();
  check_every_field_is_its_own<Dwelling>();
  check_every_field_is_its_own<Panel>();
  check_every_field_is_its_own<Circuit>();
  check_every_field_is_its_own<Multiwire>();
  check_every_field_is_its_own<Outlet>();
  check_every_field_is_its_own<Load>();
  check_every_field_is_its_own<Scenario>();
  check_every_field_is_its_own<Reading>();
  check_every_field_is_its_own<SiteFinding>();
}

TEST_CASE("fields: a key fills the member of its name") {
  Circuit circuit;
  field_called<Circuit>("hot_ohms").set(circuit, 0.1);
  field_called<Circuit>("space").set(circuit, 5LL);
  field_called<Circuit>("breaker_a").set(circuit, 20LL);
  CHECK(circuit.run.hot_ohms == 0.1);
  CHECK(circuit.space == 5);
  CHECK(circuit.breaker_a == 20.0);
  Supply supply;
  field_called<Supply>("volts").set(supply, 121.5);
  CHECK(supply.volts == std::vector<double>{121.5});
}

TEST_CASE("fields: numbers out of their bounds") {
  constexpr double kInfinite = std::numeric_limits<double>::infinity();
  constexpr double kNotANumber = std::numeric_limits<double>::quiet_NaN();
  check_faults<Load>(
      "watts",
      {{1100LL, ""},
       {0.5, ""},
       {1e6, ""},
       {-5LL, "watts = -5, and it must be a number above 0 and at most 1000000"},
       {0LL, "watts = 0, and it must be a number above 0 and at most 1000000"},
       {1000001LL, "watts = 1000001, and it must be a number above 0 and at most 1000000"},
       {kInfinite, "watts = inf, and it must be a finite number"},
       {kNotANumber, "watts = nan, and it must be a finite number"},
       {1e-300, "watts = 1e-300, and a number this close to 0 must be 0 or at least 1e-09"},
       {true, "watts = true, and it must be a number above 0 and at most 1000000"},
       {std::string("5 kW"),
        "watts = \"5 kW\", and it must be a number above 0 and at most 1000000"}});
  check_faults<Load>(
      "power_factor",
      {{1.0, ""},
       {0LL, "power_factor = 0, and it must be a number above 0 and at most 1"},
       {1.01, "power_factor = 1.01, and it must be a number above 0 and at most 1"}});
  check_faults<Circuit>("poles", {{1LL, ""},
                                  {3LL, ""},
                                  {0LL, "poles = 0, and it must be a whole number from 1 to 3"},
                                  {4LL, "poles = 4, and it must be a whole number from 1 to 3"},
                                  {2.0, "poles = 2.0, and it must be a whole number from 1 to 3"}});
  check_faults<Circuit>("length_ft",
                        {{0LL, ""},
                         {-1LL, "length_ft = -1, and it must be a number from 0 to 32808"},
                         {40000LL, "length_ft = 40000, and it must be a number from 0 to 32808"}});
  check_faults<Panel>(
      "spaces", {{200LL, ""},
                 {0LL, "spaces = 0, and it must be a whole number from 1 to 200"},
                 {9223372036854775807LL,
                  "spaces = 9223372036854775807, and it must be a whole number from 1 to 200"}});
  check_faults<Reading>(
      "l1_amps", {{0LL, ""}, {-1LL, "l1_amps = -1, and it must be a number from 0 to 10000"}});
}

TEST_CASE("fields: each number of a list is judged") {
  check_faults<Supply>(
      "volts",
      {{std::vector<double>{121.8, 121.2}, ""},
       {-121.0,
        "volts = -121, and it must be a number or a list of numbers, each above 0 and at most "
        "1000"},
       {std::vector<double>{121.8, 0},
        "volts holds 0, and it must be a number or a list of numbers, each above 0 and at most "
        "1000"}});
  check_faults<Panel>(
      "at_spaces",
      {{std::vector<int>{37, 39}, ""},
       {std::vector<int>{37, 0},
        "at_spaces holds 0, and it must be a list of whole numbers, each from 1 to 200"},
       {37LL, "at_spaces = 37, and it must be a list of whole numbers, each from 1 to 200"}});
  check_faults<Scenario>("share",
                         {{std::map<std::string, double>{{"Range", 0.4}}, ""},
                          {std::map<std::string, double>{{"Range", 1.5}},
                           "share of \"Range\" = 1.5, and it must be a number from 0 to 1"}});
}

TEST_CASE("fields: a spectrum names harmonic orders from 2 to 50") {
  const auto orders = [](const char* order, double percent) {
    return std::map<std::string, double>{{order, percent}};
  };
  check_faults<Load>("spectrum",
                     {{orders("2", 200), ""},
                      {orders("50", 0), ""},
                      {orders("3", -1), "spectrum of order 3 = -1, and it must be a number from 0 "
                                        "to 200"},
                      {81.0, "spectrum = 81.0, and it must be a table of harmonic orders, as { "
                             "\"3\" = 81 }, each from 0 to 200"}});
  check_faults<Load>("spectrum_degrees",
                     {{orders("7", -360), ""},
                      {orders("7", 361), "spectrum_degrees of order 7 = 361, and it must be a "
                                         "number from -360 to 360"}});
  for (const char* order : {"", "0", "1", "51", "03", "+3", "3.0", " 3", "third", "99999999999"}) {
    CHECK(fault_text<Load>("spectrum", orders(order, 10)) ==
          "spectrum has \"" + std::string(order) +
              "\", and a harmonic order must be a whole number from 2 to 50");
  }
}

TEST_CASE("fields: a code letter is one of NEC table 430.7(B), without I, O and Q") {
  for (const char* letter : {"A", "H", "J", "N", "P", "R", "V"}) {
    CHECK(fault_text<Load>("code_letter", std::string(letter)).empty());
  }
  for (const char* letter : {"I", "O", "Q", "W", "g", "AA", ""}) {
    CHECK_FALSE(fault_text<Load>("code_letter", std::string(letter)).empty());
  }
}

TEST_CASE("fields: texts") {
  const std::string longest(200, 'x');
  check_faults<Panel>(
      "name",
      {{std::string("Fernhill \"Süd\""), ""},
       {longest, ""},
       {std::string(), "name = \"\", and it must not be empty"},
       {longest + "x", "name is 201 characters long, and at most 200 are allowed"},
       {std::string("a\nb"), "name = \"a b\", and control characters are not allowed in it"},
       {std::string("a\xC2\x85"),
        "name = \"a\xC2\x85\", and control characters are not allowed in it"},
       {std::string("a\xFF"), "name is not valid UTF-8 text"},
       {std::string("\xC0\xAF"), "name is not valid UTF-8 text"},
       {std::string("\xED\xA0\x80"), "name is not valid UTF-8 text"},
       {std::string("\xE2\x82"), "name is not valid UTF-8 text"},
       {Value{}, "name = absent, and it must be text"}});
  check_faults<Circuit>(
      "protection", {{std::string("GFCI"), ""},
                     {std::string("GFIC"),
                      "protection = \"GFIC\", and it must be \"standard\", \"GFCI\", \"AFCI\" or "
                      "\"dual\""}});
  check_faults<SiteFinding>("observation", {{std::string("One line.\nAnother."), ""}});
  check_faults<Multiwire>(
      "circuits",
      {{std::vector<std::string>{"A"}, ""},
       {std::vector<std::string>{}, "circuits is an empty list, and it must be a list of names"},
       {std::vector<std::string>{"A", ""}, "a name in circuits = \"\", and it must not be empty"},
       {std::string("A"), "circuits = \"A\", and it must be a list of names"}});
}

TEST_CASE("fields: a time is a date of the calendar, with or without a time of day") {
  const char* good[] = {"2026-03-14",           "2024-02-29",
                        "2026-03-14T10:20:00",  "2026-03-14T10:20:00.5",
                        "2026-03-14T23:59:59Z", "2026-03-14T10:20:00-05:30"};
  for (const char* text : good) {
    CAPTURE(text);
    CHECK(fault_text<Reading>("time", std::string(text)).empty());
  }
  const char* bad[] = {"",
                       "2026",
                       "2026-3-14",
                       "2026-02-29",
                       "1900-02-29",
                       "2026-13-01",
                       "2026-03-14T10:20",
                       "2026-03-14T24:00:00",
                       "2026-03-14T10:60:00",
                       "10:20:00",
                       "2026-03-14 10:20:00",
                       "2026-03-14T10:20:00.",
                       "2026-03-14T10:20:00+25:00",
                       "2026-03-14T10:20:00x"};
  for (const char* text : bad) {
    CAPTURE(text);
    CHECK(fault_text<Reading>("time", std::string(text)) ==
          "time = \"" + std::string(text) +
              "\", and it must be a date, or a date and time such as 2026-03-14T10:20:00");
  }
}

TEST_CASE("fields: a free text may be empty, but not the name of the house") {
  CHECK_FALSE(free_text_fault("access", "").has_value());
  CHECK_FALSE(free_text_fault("complaint", "Lights flicker.\nSince May.").has_value());
  CHECK(free_text_fault("name", "") == "name = \"\", and it must not be empty");
  CHECK(free_text_fault("", "x") == "a key = \"\", and it must not be empty");
  CHECK(free_text_fault("by", std::string(4001, 'x')) ==
        "by is 4001 characters long, and at most 4000 are allowed");
}

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "evenleg/base/error.h"
#include "evenleg/describe/describe.h"
#include "evenleg/house/validate.h"
#include "tests/describe/small_vocabulary.h"

using namespace evenleg;

namespace {

// All faults, one a line; "" when the text is good.
std::string faults_in(std::string_view text) {
  try {
    (void)read_description(text, "h.toml", small_vocabulary());
  } catch (const Error& error) {
    CHECK(error.kind() == ErrorKind::Request);
    return error.what();
  }
  return "";
}

// Eleven lines; what a case adds stands from line 12 on.
const std::string kGood = R"(format = 1
[house]
name = "H"
[supply]
system = "120/240 split-phase"
[[panel]]
name = "Main"
spaces = 40
[[circuit]]
name = "Den"
space = 1
)";

struct Row {
  const char* added;
  const char* faults;
};

void check_added(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    CAPTURE(row.added);
    CHECK(faults_in(kGood + row.added) == row.faults);
  }
}

void check_whole(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    CAPTURE(row.added);
    CHECK(faults_in(row.added) == row.faults);
  }
}

std::string repeated(std::string_view text, int times) {
  std::string all;
  for (int i = 0; i < times; ++i) all += text;
  return all;
}

constexpr const char* kSmallest =
    "[house]\nname = \"H\"\n[supply]\nsystem = \"120/240 split-phase\"\n"
    "[[panel]]\nname = \"Main\"\nspaces = 40\n";

}  // namespace

TEST_CASE("describe: a good text has no faults") {
  CHECK(faults_in(kGood) == "");
  CHECK(faults_in(kSmallest) == "");  // `format` may be left out
  CHECK(faults_in("\xEF\xBB\xBF" + kGood) == "");
  std::string with_returns;
  for (const char c : kGood) with_returns += c == '\n' ? std::string("\r\n") : std::string(1, c);
  CHECK(faults_in(with_returns) == "");
}

TEST_CASE("describe: unknown keys and tables are named at their place, with a suggestion") {
  check_added({
      {"  braker_a = 20",
       "h.toml:12:3: unknown key \"braker_a\" in [[circuit]]; did you mean \"breaker_a\"?"},
      {"[service]\nxyzzy = 1",
       "h.toml:13:1: unknown key \"xyzzy\" in [service]; the keys of [service] are breaker_a, "
       "conductor, neutral, length_ft, length_m, hot_ohms, neutral_ohms and earth_return_ohms"},
      {"[supply.transformr]\nkva = 25",
       "h.toml:12:9: unknown key \"transformr\" in [supply]; did you mean \"transformer\"?"},
      {"[[circuits]]\nname = \"B\"",
       "h.toml:12:3: unknown table \"circuits\"; did you mean \"circuit\"?"},
      {"[zzz]",
       "h.toml:12:2: unknown table \"zzz\"; the tables of a description are house, supply, "
       "service, "
       "dwelling, panel, circuit, multiwire, outlet, load, scenario, reading, visit and finding"},
      {"[\"é\".x]\n",
       "h.toml:12:2: unknown table \"é\"; the tables of a description are house, supply, service, "
       "dwelling, panel, circuit, multiwire, outlet, load, scenario, reading, visit and finding"},
  });
  check_whole(
      {{"lod = 1\n[house]\nname = \"H\"\n[supply]\nsystem = \"230/400 wye\"\n"
        "[[panel]]\nname = \"P\"\nspaces = 6",
        "h.toml:1:1: unknown key \"lod\"; did you mean \"load\"?"}});
}

TEST_CASE("describe: a value of the wrong type is quoted with what is expected") {
  check_added({
      {"breaker_a = \"20\"",
       "h.toml:12:1: breaker_a = \"20\", and it must be a number above 0 and at most 10000; write "
       "it "
       "without quotes"},
      {"panel = 5", "h.toml:12:1: panel = 5, and it must be text; write it in quotes"},
      {"poles = 1.0",
       "h.toml:12:1: poles = 1.0, and it must be a whole number from 1 to 3; correct it"},
      {"locked = 1", "h.toml:12:1: locked = 1, and it must be true or false; correct it"},
      {"legs = \"L1\"",
       "h.toml:12:1: legs = \"L1\", and it must be a list of names; write it in brackets, even "
       "where "
       "there is only one"},
      {"legs = [\"L1\", 2]",
       "h.toml:12:1: legs = [\"L1\", 2], and it must be a list of names; correct it"},
      {"conductor = { size = 12 }",
       "h.toml:12:1: conductor = a table, and it must be text; correct it"},
      {"[[panel]]\nname = \"G\"\nspaces = 6\nfed_from = \"Main\"\nat_spaces = [5, 99999999999]",
       "h.toml:16:1: at_spaces = [5, 99999999999], and it must be a list of whole numbers, each "
       "from "
       "1 to 200; correct it"},
      {"[[reading]]\nat = \"Main\"\ntime = \"2026-03-14\"",
       "h.toml:14:1: time = \"2026-03-14\", and it must be a date, or a date and time such as "
       "2026-03-14T10:20:00; write it without quotes"},
      {"[[reading]]\nat = \"Main\"\ntime = 10:20:00",
       "h.toml:14:1: time = 10:20:00, and it must be a date, or a date and time such as "
       "2026-03-14T10:20:00; correct it"},
      {"[[scenario]]\nname = \"S\"\nshare = { A = \"all\" }",
       "h.toml:14:1: share of \"A\" = \"all\", and it must be a number; correct it"},
      {"[visit]\nby = [\"A\", \"B\"]",
       "h.toml:13:1: \"by\" = [\"A\", \"B\"], and it must be text; write it in quotes"},
  });
}

TEST_CASE("describe: a value out of its bounds is quoted with the bounds") {
  check_added({
      {"breaker_a = -20",
       "h.toml:12:1: breaker_a = -20, and it must be a number above 0 and at most 10000; correct "
       "it"},
      {"breaker_a = nan",
       "h.toml:12:1: breaker_a = nan, and it must be a finite number; correct it"},
      {"length_m = inf", "h.toml:12:1: length_m = inf, and it must be a finite number; correct it"},
      {"poles = 4",
       "h.toml:12:1: poles = 4, and it must be a whole number from 1 to 3; correct it"},
      {"protection = \"gfci\"",
       "h.toml:12:1: protection = \"gfci\", and it must be \"standard\", \"GFCI\", \"AFCI\" or "
       "\"dual\"; did you mean \"GFCI\"?"},
      {"protection = \"AFCII\"",
       "h.toml:12:1: protection = \"AFCII\", and it must be \"standard\", \"GFCI\", \"AFCI\" or "
       "\"dual\"; did you mean \"AFCI\"?"},
      {"protection = \"fuse wire\"",
       "h.toml:12:1: protection = \"fuse wire\", and it must be \"standard\", \"GFCI\", \"AFCI\" "
       "or "
       "\"dual\"; use one of standard, GFCI, AFCI and dual"},
      {"panel = \"\"", "h.toml:12:1: panel = \"\", and it must not be empty; correct it"},
      {"panel = \"a\\u0000b\"",
       "h.toml:12:1: panel = \"a b\", and control characters are not allowed in it; correct it"},
  });
}

TEST_CASE("describe: a needed key that is missing is told at the entry") {
  check_added({
      {"[[load]]\nname = \"Lamp\"\nwatts = 60",
       "h.toml:12:1: this [[load]] has no at; add at, which must be text"},
      {"  [[panel]]\nname = \"Garage\"",
       "h.toml:12:3: this [[panel]] has no spaces; add spaces, which must be a whole number from 1 "
       "to "
       "200"},
      {"[[finding]]",
       "h.toml:12:1: this [[finding]] has no observation; add observation, which must be text"},
      {"[[multiwire]]\nname = \"M\"\ncircuits = []",
       "h.toml:14:1: circuits is an empty list, and it must be a list of names; correct it"},
  });
  check_whole({
      {"",
       "h.toml:1:1: there is no [house]; add [house] with its name\n"
       "h.toml:1:1: there is no [supply]; add [supply] with its system"},
      {"\n[house]\n[supply]\n",
       "h.toml:2:1: this [house] has no name; add name, which must be text\n"
       "h.toml:3:1: this [supply] has no system; add system, which must be text"},
  });
}

TEST_CASE("describe: one table where a list is needed, and the reverse") {
  check_added({
      {"[load]\nname = \"Lamp\"",
       "h.toml:12:2: [load] is a single table, and each load is one of a list; write [[load]]"},
      {"[[service]]\n",
       "h.toml:12:3: [[service]] is a list of tables, and there is only one service; write "
       "[service]"},
      {"[[supply.transformer]]\nkva = 1",
       "h.toml:12:10: [[supply.transformer]] is a list of tables, and there is only one "
       "supply.transformer; write [supply.transformer]"},
  });
  check_whole({
      {"load = 3\nsupply = \"wye\"\n[house]\nname = \"H\"\n",
       "h.toml:1:1: load = 3, and it must be a list of tables; write [[load]]\n"
       "h.toml:2:1: supply = \"wye\", and it must be a table; write [supply]"},
      {"load = []\npanel = [1]\n[house]\nname = \"H\"\n[supply]\nsystem = \"230/400 wye\"\n",
       "h.toml:2:1: panel = [1], and it must be a list of tables; write [[panel]]"},
  });
}

TEST_CASE("describe: only format 1 is known") {
  const std::string rest(kSmallest);
  CHECK(faults_in("format = 2\n" + rest) ==
        "h.toml:1:1: format = 2, and only format 1 is known; write format = 1");
  CHECK(faults_in("format = \"1\"\n" + rest) ==
        "h.toml:1:1: format = \"1\", and only format 1 is known; write format = 1");
}

TEST_CASE("describe: broken TOML is told once, at its place") {
  // The words after "this is not TOML" are those of the TOML library.
  check_whole({
      {"[house]\nname = \n[[",
       "h.toml:2:8: this is not TOML: Error while parsing key-value pair: expected value, saw "
       "'\\n'; "
       "correct the text there"},
      {"[circuit]\nname = \"A\"\n[circuit]\n",
       "h.toml:3:1: this is not TOML: Error while parsing table header: cannot redefine existing "
       "table 'circuit'; write each key once, and [[ ]] around the name of a table that there is "
       "more than one of"},
      {"\xFF",
       "h.toml:1:1: this is not TOML: Encountered invalid utf-8 sequence; correct the text "
       "there"},
  });
}

TEST_CASE("describe: letters beyond ASCII stand in quotes, and may follow a continued line") {
  check_whole({
      {"küche = 1", "h.toml:1:2: \"ü\" outside of quotes; put the whole name or text in quotes"},
      {"[é]", "h.toml:1:2: \"é\" outside of quotes; put the whole name or text in quotes"},
      {"a = 1 # é\nb = \"é\" \u2003",
       "h.toml:2:9: \"\u2003\" outside of quotes; put the whole name or text in quotes"},
      {"a = Bob's",
       "h.toml:1:8: a quote in the middle of a word; put the whole name or text in quotes"},
      {"a = \"\"\"\n\\é\"\"\"",
       "h.toml:2:1: a backslash that escapes nothing; write it twice: \\\\"},
  });
  // TOML 1.0, "String": a line-ending backslash is trimmed with all white space up to the next
  // character; that is only blanks and line ends, so the no-break space stays.
  const House house = read_description(
      kGood +
          "[visit]\na = \"\"\"x \\ \n\n  éy \\\\ \\\n\u00A0z \\\r\n\t\U0001F50C\"\"\"\nb = \"2\"\n",
      "h.toml", small_vocabulary());
  CHECK(house.visit == FreeText{{"a", "x éy \\ \u00A0z \U0001F50C"}, {"b", "2"}});
}

TEST_CASE("describe: all faults of one text are reported, in text order") {
  CHECK(faults_in(R"(colour = "red"
[[circuit]]
name = "Den"
poles = 0
legz = ["L1"]
[[load]]
watts = -1
at = "Den"
[[load]]
name = "Lamp"
on = "yes"
at = 5
[[panel]]
name = "Main"
spaces = 40
)") ==
        R"(h.toml:1:1: there is no [house]; add [house] with its name
h.toml:1:1: there is no [supply]; add [supply] with its system
h.toml:1:1: unknown key "colour"; the tables of a description are house, supply, service, dwelling, )"
        R"(panel, circuit, multiwire, outlet, load, scenario, reading, visit and finding
h.toml:4:1: poles = 0, and it must be a whole number from 1 to 3; correct it
h.toml:5:1: unknown key "legz" in [[circuit]]; did you mean "legs"?
h.toml:6:1: this [[load]] has no name; add name, which must be text
h.toml:7:1: watts = -1, and it must be a number above 0 and at most 1000000; correct it
h.toml:11:1: on = "yes", and it must be true or false; write it without quotes
h.toml:12:1: at = 5, and it must be text; write it in quotes)");
}

TEST_CASE("describe: faults of the house stand at their key, or at their entry") {
  struct Place {
    const char* added;
    std::vector<std::string> where;
  };
  const std::vector<Place> rows = {
      {"panel = \"Mian\"\n", {"h.toml:12:1"}},
      {"conductor = \"13 Cu\"\nlength_m = 1\n", {"h.toml:12:1"}},
      {"\n[[load]]\nname = \"Lamp\"\nat = \"Den\"\n", {"h.toml:13:1"}},  // no rating
      {"[[load]]\nname = \"Lamp\"\nwatts = 60\nat = \"Dan\"\n", {"h.toml:15:1"}},
      // A fault of reading does not hide one of the house elsewhere.
      {"[[load]]\nname = \"A\"\nwatts = 60\nat = \"Dan\"\ncolour = 1\n[[load]]\nname = \"B\"\n"
       "watts = -1\nat = \"Den\"\n",
       {"h.toml:15:1", "h.toml:16:1", "h.toml:19:1"}},
      // What only follows from a fault of reading is not reported: the load has no rating.
      {"[[load]]\nname = \"A\"\nat = \"Den\"\nwats = 60\n", {"h.toml:15:1"}},
      {"[[load]]\nname = \"A\"\nat = \"Den\"\nwatts = \"60\"\n", {"h.toml:15:1"}},
      {"[[load]]\nname = \"A\"\nat = \"Den\"\nwatts = 6e9\n", {"h.toml:15:1"}},
  };
  for (const Place& row : rows) {
    CAPTURE(row.added);
    std::vector<std::string> where;
    try {
      (void)read_description(kGood + row.added, "h.toml", small_vocabulary());
    } catch (const Error& error) {
      for (const Fault& fault : error.faults()) where.push_back(fault.where);
    }
    CHECK(where == row.where);
  }
}

TEST_CASE("describe: what validate() says is passed on word for word") {
  House house;
  house.about = {{"name", "H"}};
  house.supply.system = "120/240 split-phase";
  house.panels.emplace_back();
  house.panels[0].name = "Main";
  house.panels[0].spaces = 40;
  house.circuits.emplace_back();
  house.circuits[0].name = "Den";
  house.circuits[0].space = 1;
  house.circuits[0].panel = "Mian";
  const std::vector<HouseFault> said = validate(house, small_vocabulary());
  REQUIRE(said.size() == 1);
  CHECK(faults_in(kGood + "panel = \"Mian\"") ==
        "h.toml:12:1: " + said[0].what + "; " + said[0].remedy);
}

TEST_CASE("describe: free texts take any single value as its text") {
  const House house = read_description(
      kGood +
          "[visit]\ndate = 2026-03-14\narrived = 10:20:00\nmeters = 2\nheight = 2.0\npaid = true\n",
      "h.toml", small_vocabulary());
  CHECK(house.visit == FreeText{{"date", "2026-03-14"},
                                {"arrived", "10:20:00"},
                                {"meters", "2"},
                                {"height", "2.0"},
                                {"paid", "true"}});
}

TEST_CASE("describe: texts beyond the limits are refused with a sentence") {
  CHECK(faults_in(std::string((8U << 20U) + 1, '\n')) ==
        "h.toml: the description has 8388609 bytes, and at most 8388608 are read; describe less in "
        "one house");
  CHECK(
      faults_in(kGood + repeated("[[load]]\n", 20001)) ==
      "h.toml:20012:1: there are 20001 entries [[load]], and at most 20000 are read; describe less "
      "in one house");
  const std::string many = faults_in(kGood + repeated("[[finding]]\n", 1500));
  CHECK(std::ranges::count(many, '\n') == 1000);
  CHECK(many.ends_with("\nh.toml: 500 more faults follow; correct those above first"));
}

TEST_CASE("describe: deep nesting is refused, not followed") {
  const std::string deep_key = faults_in("'a' = 1\na" + repeated(".a", 1000000) + " = 1");
  CHECK(deep_key == "h.toml:2:16: a key of more than 8 parts; use only the keys of a description");
  CHECK(faults_in("x = " + repeated("[", 100000)).starts_with("h.toml:1:"));
  CHECK(faults_in("x = " + repeated("{a.b.c=", 100000)).starts_with("h.toml:1:"));
  // Dots in strings, comments and numbers are not parts of keys.
  CHECK(faults_in(kGood + R"(# a.b.c.d.e.f.g.h.i.j.k
[visit]
a = "1.2.3.4.5.6.7.8.9.0 \" .........."
b = '1.2.3.4.5.6.7.8.9.0\'
c = """ " "" .......... \""" .......... """"
d = ''' ' '' ..........\'''
e = ""
)") == "");
}

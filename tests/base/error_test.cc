#include "evenleg/base/error.h"

#include <doctest/doctest.h>

#include <string>

#include "evenleg/base/citation.h"

namespace evenleg {
namespace {

TEST_CASE("error: one line says where, what and what to do") {
  struct Case {
    Fault fault;
    const char* text;
  };
  const Case kCases[] = {
      {{"kitchen.toml:12:9", "unknown key \"breaker\"", "did you mean \"breaker_a\"?"},
       "kitchen.toml:12:9: unknown key \"breaker\"; did you mean \"breaker_a\"?"},
      {{"--json", "given twice", ""}, "--json: given twice"},
      {{"", "no house file", "name one"}, "no house file; name one"},
      {{"", "no house file", ""}, "no house file"},
      {{"a\nb.toml", "found \"x\ty\x7fz\r\"", "write \x01 less"},
       "a b.toml: found \"x y z \"; write   less"},
      {{"Küche.toml", "the name is »…«", ""}, "Küche.toml: the name is »…«"},
  };
  for (const Case& c : kCases) {
    CAPTURE(c.text);
    CHECK(line(c.fault) == c.text);
  }
}

TEST_CASE("error: carries its kind and every fault, one line each") {
  const Error error(ErrorKind::Request, {{"a:1:1", "first", "mend it"}, {"a:2:1", "second", ""}});
  CHECK(error.kind() == ErrorKind::Request);
  REQUIRE(error.faults().size() == 2);
  CHECK(error.faults()[1] == Fault{"a:2:1", "second", ""});
  CHECK(std::string(error.what()) == "a:1:1: first; mend it\na:2:1: second");
}

TEST_CASE("error: a single fault") {
  const Error error(ErrorKind::File, Fault{"Fernhill.house", "is damaged", "restore a copy"});
  CHECK(error.kind() == ErrorKind::File);
  CHECK(error.faults().size() == 1);
  CHECK(std::string(error.what()) == "Fernhill.house: is damaged; restore a copy");
}

TEST_CASE("citation: short form leaves out what is absent") {
  CHECK(short_form({"NEC", "2008", "chapter 9, table 8", "", ""}) ==
        "NEC, chapter 9, table 8 (2008)");
  CHECK(short_form({"NEC", "", "310.12", "", ""}) == "NEC, 310.12");
  CHECK(short_form({"EN 50160", "2010", "", "", ""}) == "EN 50160 (2010)");
  CHECK(short_form({"EN 50160", "", "", "", ""}) == "EN 50160");
}

}  // namespace
}  // namespace evenleg

// What the page asks and how it is answered, without a network. Volts and amperes by hand: ideal
// wires but for the load's own, 120 V a leg.
#include "src/page/answers.h"

#include <nlohmann/json.hpp>
#include <random>

#include "tests/check.h"
#include "tests/page/page_house.h"

namespace evenleg {
namespace {

using nlohmann::json;
using page_test::HouseFile;
using page_test::tables;

// A page's side of the answers.
class Page {
 public:
  explicit Page(const std::string& description = page_test::kSmallHouse)
      : file_(description),
        house_(file_.path(), tables(), news_),
        audit_(house_, news_),
        records_(house_, options_) {
    options_.provenance = [](const House&, const std::string& date) {
      return Provenance{"evenleg", date.empty() ? "2026-03-15" : date, "weir.house", {}, "0"};
    };
    options_.make_pdf = [](const std::string&) { return std::string("%PDF"); };
  }

  json get(const std::string& name, std::map<std::string, std::string> parameters = {}) {
    return taken(answer({name, false, std::move(parameters), ""}, answering()));
  }
  json post(const std::string& name, const json& body) {
    return taken(answer({name, true, {}, body.dump()}, answering()));
  }
  Reply reply(const Asked& asked) { return answer(asked, answering()); }
  int status() const { return status_; }
  House stored() const { return load_house(file_.path()); }
  std::filesystem::path file() const { return file_.path(); }

 private:
  Answering answering() { return {house_, audit_, records_, "evenleg"}; }
  json taken(const Reply& reply) {
    status_ = reply.status;
    return json::parse(reply.body);
  }

  HouseFile file_;
  News news_;
  OpenHouse house_;
  BackgroundAudit audit_;
  PageOptions options_;
  RecordAnswers records_;
  int status_ = 0;
};

json edit_of(const char* verb, const char* kind, const std::string& name, const json& set) {
  return {{"label", "a step"},
          {"edits", {{{"verb", verb}, {"kind", kind}, {"name", name}, {"set", set}}}}};
}

TEST_CASE("the house as the page has it") {
  Page page;
  const json house = page.get("house");
  CHECK(page.status() == 200);
  CHECK(house["house"]["circuit"][0]["name"] == "Left");
  CHECK(house["panels"][0]["spaces"][2]["holds"][0]["circuit"] == "Right");
  CHECK(house["panels"][0]["spaces"][2]["leg"] == "L2");
  CHECK(house["panels"][0]["spaces"][3]["holds"][0]["pole"] == 2);
  CHECK(house["circuits"][0]["multiwire"] == "Counter");
  CHECK(house["loads"][1]["legs"] == "L2-N");
  CHECK(house["places"].size() == 2);
  CHECK(house["ready"] == true);
  CHECK(house["unfinished"].empty());
}

TEST_CASE("an edit of several parts is one step, all or none") {
  Page page;
  const House before = page.stored();
  page.post("edit",
            {{"label", "two"},
             {"edits",
              {{{"verb", "add"}, {"kind", "circuit"}, {"name", "Attic"}, {"set", {{"space", 7}}}},
               {{"verb", "add"},
                {"kind", "load"},
                {"name", "Fan"},
                {"set", {{"at", "Nowhere"}, {"watts", "40"}}}}}}});
  CHECK(page.status() == 422);
  CHECK(page.stored() == before);
  const json done = page.post(
      "edit", {{"label", "two"},
               {"edits",
                {{{"verb", "add"}, {"kind", "circuit"}, {"name", "Attic"}, {"set", {{"space", 7}}}},
                 {{"verb", "add"},
                  {"kind", "load"},
                  {"name", "Fan"},
                  {"set", {{"at", "Attic"}, {"watts", "40.5"}, {"on", false}}}}}}});
  CHECK(page.status() == 200);
  CHECK(done["undo_steps"] == 1);
  CHECK(page.stored().loads.back().watts == 40.5);
  page.post("undo", json::object());
  CHECK(page.stored() == before);
}

TEST_CASE("lists, shares and names with commas arrive as they are") {
  Page page;
  page.post("edit", edit_of("set", "load", "Lamp", {{"name", "Lamp, low"}}));
  page.post("edit", edit_of("add", "scenario", "Evening", {{"on", {"Lamp, low"}}}));
  page.post("edit", edit_of("add", "scenario", "Half", {{"share", {{"Lamp, low", 0.5}}}}));
  CHECK(page.status() == 200);
  CHECK(page.stored().scenarios[0].on == std::vector<std::string>{"Lamp, low"});
  CHECK(page.stored().scenarios[1].share.at("Lamp, low") == 0.5);
  page.post("edit", edit_of("set", "circuit", "Den", {{"conductor", nullptr}}));
  CHECK_FALSE(page.stored().circuits[3].run.conductor.has_value());
}

TEST_CASE("what is told by its number is meant in one revision of the house") {
  Page page;
  const json house = page.post("edit", edit_of("add", "reading", "Main", {{"l1_n_volts", 119}}));
  json change = edit_of("set", "reading", "#1", {{"l1_n_volts", 118}});
  change["revision"] = house["revision"].get<int>() - 1;
  page.post("edit", change);
  CHECK(page.status() == 422);
  change["revision"] = house["revision"];
  page.post("edit", change);
  CHECK(page.status() == 200);
  CHECK(page.stored().readings[0].l1_n_volts == 118);
}

TEST_CASE("an unfinished load is kept, named, and keeps answers back until it is finished") {
  Page page;
  const json done = page.post("edit", edit_of("add", "load", "Fan", {{"at", "Den"}}));
  CHECK(page.status() == 200);
  REQUIRE(done["unfinished"].size() == 1);
  CHECK(done["unfinished"][0]["name"] == "Fan");
  CHECK(done["ready"] == false);
  page.post("state", json::object());
  CHECK(page.status() == 422);
  page.get("record");
  CHECK(page.status() == 422);
  page.post("edit", edit_of("set", "load", "Fan", {{"watts", 40}}));
  page.post("state", json::object());
  CHECK(page.status() == 200);
}

// 1,200 W and 60 W at 120 V are 12 ohms and 240 ohms. With the shared neutral open they are in
// series across 240 V: 240 / 252 = 0.952 A, 11.43 V and 228.57 V. The lamp in the dryer adds 0.125
// A to L1.
TEST_CASE("a state that is watched") {
  Page page;
  json state = page.post("state", json::object());
  CHECK(matches_printed(state["legs"][0]["amps"].get<double>(), "10.125"));
  CHECK(matches_printed(state["legs"][1]["amps"].get<double>(), "0.5"));
  CHECK(matches_printed(state["neutrals"][1]["amps"].get<double>(), "9.5"));
  CHECK(state["open"] == false);
  state = page.post("state", {{"place", "Counter"}});
  CHECK(matches_printed(state["loads"][0]["volts"].get<double>(), "11.43"));
  CHECK(matches_printed(state["loads"][1]["volts"].get<double>(), "228.57"));
  CHECK(matches_printed(state["loads"][1]["amps"].get<double>(), "0.952"));
  CHECK(state["loads"][0]["change"] == "dim");
  CHECK(state["loads"][1]["change"] == "bright");
  CHECK(state["loads"][1]["past"] == true);
  CHECK(state["loads"][2]["change"] == "steady");
  CHECK(state["open"] == true);
  state = page.post("state", {{"place", "Counter"}, {"on", {"Lamp"}}});
  CHECK(state["loads"][0]["on"] == false);
  CHECK(matches_printed(state["loads"][1]["amps"].get<double>(), "0"));
  page.post("state", {{"place", "Attic"}});
  CHECK(page.status() == 422);
  page.post("state", {{"on", {"No such"}}});
  CHECK(page.status() == 422);
}

// By the trade's arithmetic, nameplate over nominal volts: 10 A and 0.125 A on L1, 0.5 A on L2;
// with the counter's circuits exchanged 0.625 A and 10 A.
TEST_CASE("a plan that is tried changes nothing until it is written") {
  Page page;
  const House before = page.stored();
  const json moves = {{{"circuit", "Left"}, {"space", 3}}};
  const json tried = page.post("try", {{"moves", moves}, {"fewest", true}});
  CHECK(matches_printed(tried["before_spread_amps"].get<double>(), "9.625"));
  CHECK(matches_printed(tried["scenarios"][0]["legs"][0].get<double>(), "0.625"));
  CHECK(matches_printed(tried["scenarios"][0]["legs"][1].get<double>(), "10.000"));
  CHECK(tried["notes"].empty());
  const json both = {{{"circuit", "Left"}, {"space", 3}, {"at_once", true}},
                     {{"circuit", "Right"}, {"space", 1}, {"at_once", true}}};
  CHECK(tried["moves"] == both);
  const json and_back = {moves[0], {{"circuit", "Left"}, {"space", 1}}};
  CHECK(page.post("try", {{"moves", and_back}, {"fewest", true}})["moves"] == json::array());
  CHECK(page.stored() == before);
  page.post("try", {{"moves", {{{"circuit", "Den"}, {"space", 2}}}}});
  CHECK(page.status() == 422);
  page.post("moves", {{"label", "exchange"}, {"moves", moves}});
  CHECK(page.stored().circuits[0].space == 3);
  CHECK(page.stored().circuits[1].space == 1);
}

TEST_CASE("records for every reader, and what is no form or reader") {
  Page page;
  for (const char* reader : {"electrician", "inspector", "contractor", "client"}) {
    CAPTURE(reader);
    const Reply html = page.reply({"record", false, {{"for", reader}, {"proof", "0"}}, ""});
    CHECK(html.status == 200);
    CHECK(html.body.find("Weir Lodge") != std::string::npos);
    CHECK(html.file_name.empty());
  }
  const Reply saved =
      page.reply({"record", false, {{"for", "client"}, {"form", "md"}, {"save", "1"}}, ""});
  CHECK(saved.file_name == "weir-client.md");
  for (const auto& [key, value] : std::map<std::string, std::string>{{"for", "nobody"},
                                                                     {"form", "exe"},
                                                                     {"date", "15.3.2026"},
                                                                     {"plan", "x"},
                                                                     {"place", "x"}}) {
    CAPTURE(key);
    std::map<std::string, std::string> asked{{"proof", "0"}, {"for", "event"}};
    asked[key] = value;
    page.get("record", asked);
    CHECK(page.status() == 422);
  }
}

TEST_CASE("requests that no page of ours makes are refused with a sentence") {
  Page page;
  const House before = page.stored();
  for (const char* body :
       {"", "[]", "{", "null", "{\"edits\":3}", "{\"edits\":[3]}",
        "{\"edits\":[{\"verb\":\"drop\"}]}",
        "{\"edits\":[{\"verb\":\"set\",\"kind\":\"sqlite_master\",\"name\":\"x\"}]}",
        "{\"edits\":[{\"verb\":\"set\",\"kind\":\"load\",\"name\":\"Lamp\",\"set\":{\"wats\":1}}]}",
        "{\"edits\":[{\"verb\":\"set\",\"kind\":\"load\",\"name\":\"Lamp\",\"set\":{\"watts\":[[1]]"
        "}}]}",
        "{\"edits\":[{\"verb\":\"set\",\"kind\":\"load\",\"name\":\"Lamp\",\"set\":{\"watts\":-1}}]"
        "}"}) {
    CAPTURE(body);
    const Reply reply = page.reply({"edit", true, {}, body});
    CHECK(reply.status == 422);
    CHECK(json::parse(reply.body)["error"][0]["what"].get<std::string>().size() > 3);
  }
  CHECK(page.reply({"nothing", false, {}, ""}).status == 404);
  CHECK(page.reply({"edit", false, {}, ""}).status == 404);
  CHECK(page.stored() == before);
}

// One to three bytes of a request that is right replaced, doubled or cut, the same at each run.
std::string damaged(std::string body, std::mt19937& random) {
  const auto any = [&](std::size_t below) { return random() % below; };
  for (std::size_t slips = 1 + any(3); slips > 0 && !body.empty(); --slips) {
    const std::size_t at = any(body.size());
    switch (any(4)) {
      case 0:
        body[at] = static_cast<char>(any(256));
        break;
      case 1:
        body.erase(at, 1 + any(8));
        break;
      case 2:
        body.insert(at, body.substr(at, 1 + any(12)));
        break;
      default:
        body[at] = "{}[]\",:0-1e9n"[any(13)];
    }
  }
  return body;
}

TEST_CASE("damaged requests are answered with a sentence, and the file stays a house") {
  Page page;
  const std::pair<const char*, const char*> kRequests[] = {
      {"edit",
       R"({"label":"x","edits":[{"verb":"set","kind":"load","name":"Lamp","set":{"watts":60,)"
       R"("on":true,"spectrum":{"3":10}},"clear":["volts"]}]})"},
      {"edit",
       R"({"edits":[{"verb":"add","kind":"circuit","name":"Attic","set":{"space":9,"poles":1}},)"
       R"({"verb":"remove","kind":"circuit","name":"Attic","with_uses":true}]})"},
      {"state",
       R"({"on":["Kettle","Lamp"],"scenario":null,"place":"Counter","ohms":0.35,"moves":[]})"},
      {"behaviour", R"({"on":["Kettle","Lamp"],"place":"service","ohms":null})"},
      {"moves", R"({"label":"m","moves":[{"circuit":"Den","space":7,"panel":"Main"}]})"},
      {"try", R"({"moves":[{"circuit":"Left","space":3}]})"},
      {"schedule", R"({"panel":"Main","text":"Ckt\tName\tAmps\n7\tAttic\t15\n"})"},
      {"undo", R"({"all":true})"}};
  std::mt19937 random(20261127);
  for (int run = 0; run < 160; ++run) {
    for (const auto& [name, body] : kRequests) {
      const std::string request = damaged(body, random);
      CAPTURE(request);
      const Reply reply = page.reply({name, true, {}, request});
      const bool documented = reply.status == 200 || reply.status == 422;
      CHECK_MESSAGE(documented, name << " " << reply.status << " " << reply.body);
      CHECK(json::accept(reply.body));
    }
  }
  CHECK(page.stored().panels.size() >= 1);
  CHECK(check_house_file(page.file()).empty());
}

TEST_CASE("the audit beside is of the house as it is, with a reason for every row") {
  Page page;
  json audit;
  for (int tries = 0; tries < 600 && (audit.is_null() || audit["state"] != "done"); ++tries) {
    audit = page.get("audit");
    usleep(50'000);
  }
  REQUIRE(audit["state"] == "done");
  CHECK(audit["proven"] == true);
  CHECK(audit["reasons"].size() == audit["audit"]["ranking"].size());
  CHECK(audit["places"][1] == "Counter");
  page.post("edit", edit_of("set", "load", "Lamp", {{"watts", 75}}));
  CHECK(page.get("audit")["audit"].is_null());
}

}  // namespace
}  // namespace evenleg

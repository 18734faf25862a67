// What the page asks and the JSON that it is answered with: the requests below "api/", apart from
// how they travel. README, "The page", has every key.
#pragma once

#include <functional>
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "evenleg/base/error.h"
#include "src/page/background_audit.h"
#include "src/page/open_house.h"
#include "src/page/record_answer.h"

namespace evenleg {

struct Asked {
  std::string name;  // "state", of api/state
  bool post = false;
  std::map<std::string, std::string> parameters;  // of a GET
  std::string body;                               // of a POST
};

struct Reply {
  int status = 200;
  std::string type = "application/json";
  std::string body;
  std::string file_name;  // a download; "" for none
};

// Everything that answers need; all of it outlives them.
struct Answering {
  OpenHouse& house;
  BackgroundAudit& audit;
  RecordAnswers& records;
  std::string program;
};

// Never throws: a fault is a reply with its sentences.
[[nodiscard]] Reply answer(const Asked& asked, const Answering& with);

// {"error":[{"where","what","remedy"}]} with that status.
[[nodiscard]] Reply refusal(int status, const std::vector<Fault>& faults);

}  // namespace evenleg

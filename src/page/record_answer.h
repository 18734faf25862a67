// The records of the house that a page is open on, previewed and saved. What a record is made from
// is kept until the house changes.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "evenleg/page/page.h"
#include "evenleg/record/job.h"
#include "src/page/open_house.h"

namespace evenleg {

struct RecordFile {
  std::string type;  // of the answer: "text/html; charset=utf-8"
  std::string name;  // for a download: "Fernhill-client.html"
  std::string bytes;
};

class RecordAnswers {
 public:
  RecordAnswers(OpenHouse& house, const PageOptions& options) : house_(house), options_(options) {}

  // `asked`: "for", "form", "proof" (0 or 1), "date", "place", "plan".
  // Throws: Error(Request) for what there is not, and while the house is unfinished; Error(File).
  [[nodiscard]] RecordFile made(const std::map<std::string, std::string>& asked);

 private:
  [[nodiscard]] std::shared_ptr<const Job> job_of(const Moment& moment, bool certify,
                                                  std::optional<int> plan);

  OpenHouse& house_;
  const PageOptions& options_;
  std::mutex lock_;
  int revision_ = 0;                                                 // that the jobs are of
  std::map<std::pair<bool, int>, std::shared_ptr<const Job>> jobs_;  // by proof and plan
};

}  // namespace evenleg

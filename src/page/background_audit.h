// The audit of the house that a page is open on, worked out beside it: searched first, then proven,
// and begun anew when the house has changed.
#pragma once

#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "evenleg/audit/audit.h"
#include "src/page/open_house.h"

namespace evenleg {

struct AuditProgress {
  int revision = 0;               // of the house that it is of
  std::string state = "waiting";  // "unfinished", "searching", "proving", "done", "failed"
  std::string doing;
  int done = 0;
  int all = 0;
  bool proven = false;  // `audit` holds certificates
  std::shared_ptr<const House> house;
  std::shared_ptr<const Audit> audit;  // the latest of this house, or null
};

class BackgroundAudit {
 public:
  // `news` is rung whenever there is more to tell.
  BackgroundAudit(OpenHouse& house, News& news);
  ~BackgroundAudit();
  BackgroundAudit(const BackgroundAudit&) = delete;
  BackgroundAudit& operator=(const BackgroundAudit&) = delete;

  [[nodiscard]] AuditProgress now() const;
  void stop();

 private:
  void run();
  void work(const Moment& moment);
  [[nodiscard]] bool outdated(int revision);
  void tell(const std::function<void(AuditProgress&)>& change);

  OpenHouse& house_;
  News& news_;
  mutable std::mutex lock_;
  std::condition_variable stopping_;
  AuditProgress progress_;
  bool stopped_ = false;
  std::thread thread_;
};

}  // namespace evenleg

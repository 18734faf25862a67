#include "src/page/background_audit.h"

#include <sys/resource.h>
#include <unistd.h>

#include <chrono>
#include <exception>
#include <utility>

namespace evenleg {
namespace {

// Between two looks; a change during a search ends it.
constexpr std::chrono::milliseconds kCalm{600};
constexpr std::chrono::milliseconds kTold{200};  // the least time between two tellings of progress

struct Outdated {};  // thrown through a search whose house has changed

}  // namespace

BackgroundAudit::BackgroundAudit(OpenHouse& house, News& news)
    : house_(house), news_(news), thread_([this] { run(); }) {}

BackgroundAudit::~BackgroundAudit() { stop(); }

void BackgroundAudit::stop() {
  {
    const std::scoped_lock lock(lock_);
    stopped_ = true;
    stopping_.notify_all();
  }
  if (thread_.joinable()) thread_.join();
}

AuditProgress BackgroundAudit::now() const {
  const std::scoped_lock lock(lock_);
  return progress_;
}

void BackgroundAudit::tell(const std::function<void(AuditProgress&)>& change) {
  {
    const std::scoped_lock lock(lock_);
    change(progress_);
  }
  news_.ring();
}

bool BackgroundAudit::outdated(int revision) {
  {
    const std::scoped_lock lock(lock_);
    if (stopped_) return true;
  }
  return house_.now().revision != revision;
}

// Looks for another house at each wait's end; a file that cannot be read for a moment is tried again.
void BackgroundAudit::run() {
  // Below the answers that someone waits for; the search's own threads inherit it (Linux).
  constexpr int kBelow = 10;
  setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), kBelow);
  int last = 0;
  for (;;) {
    {
      std::unique_lock lock(lock_);
      if (stopping_.wait_for(lock, kCalm, [&] { return stopped_; })) return;
    }
    int revision = last;
    try {
      const Moment moment = house_.now();
      if (moment.revision == last) continue;
      revision = moment.revision;
      work(moment);
      last = revision;
    } catch (const Outdated&) {
      continue;
    } catch (const std::exception& reason) {
      last = revision;  // the same house would fail again; one that cannot be read is tried again
      if (now().doing == reason.what()) continue;  // told already
      tell([&](AuditProgress& progress) {
        progress.state = "failed";
        progress.doing = reason.what();
      });
    }
  }
}

void BackgroundAudit::work(const Moment& moment) {
  tell([&](AuditProgress& progress) {
    progress = {};
    progress.revision = moment.revision;
    progress.state = moment.missing.empty() ? "searching" : "unfinished";
    progress.house = moment.house;
  });
  if (!moment.missing.empty()) return;
  auto last = std::chrono::steady_clock::now();
  const auto heard = [&](std::string_view doing, int done, int all) {
    const auto now = std::chrono::steady_clock::now();
    if (now - last < kTold && done < all) return;
    last = now;
    if (outdated(moment.revision)) throw Outdated{};
    tell([&](AuditProgress& progress) {
      progress.doing = doing;
      progress.done = done;
      progress.all = all;
    });
  };
  for (const bool certify : {false, true}) {
    if (outdated(moment.revision)) throw Outdated{};
    AuditOptions options;
    options.certify = certify;
    options.progress = heard;
    auto result = std::make_shared<const Audit>(audit(*moment.house, house_.tables(), options));
    tell([&](AuditProgress& progress) {
      progress.audit = std::move(result);
      progress.proven = certify;
      progress.state = certify ? "done" : "proving";
      progress.doing.clear();
      progress.done = progress.all = 0;
    });
  }
}

}  // namespace evenleg

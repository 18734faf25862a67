#include "src/page/open_house.h"

#include <algorithm>
#include <utility>

#include "evenleg/base/error.h"
#include "evenleg/edit/unfinished.h"
#include "evenleg/store/store.h"

namespace evenleg {
namespace {

// Entries of all houses kept for undo, together; judgement.
constexpr std::size_t kMostEntries = 400'000;

std::size_t entries(const House& house) {
  return 1 + house.circuits.size() + house.outlets.size() + house.loads.size() +
         house.readings.size() + house.scenarios.size();
}

std::vector<HouseFault> errors_in(const House& house, const Vocabulary& words) {
  std::vector<HouseFault> faults = validate(house, words);
  std::erase_if(faults, [&](const HouseFault& fault) { return is_missing(house, fault); });
  return faults;
}

// An error that was there before may stay: a file from elsewhere can be mended step by step.
void require_no_new_error(const House& before, const House& after, const Vocabulary& words) {
  const std::vector<HouseFault> old = errors_in(before, words);
  std::vector<Fault> errors;
  for (const HouseFault& fault : errors_in(after, words)) {
    const auto same = [&](const HouseFault& other) {
      return other.what == fault.what &&
             described(other.subject, before) == described(fault.subject, after);
    };
    if (std::any_of(old.begin(), old.end(), same)) continue;
    errors.push_back({described(fault.subject, after), fault.what, fault.remedy});
  }
  if (!errors.empty()) throw Error(ErrorKind::Request, std::move(errors));
}

}  // namespace

OpenHouse::OpenHouse(std::filesystem::path file, const Tables& tables, News& news)
    : file_(std::move(file)), tables_(tables), words_(vocabulary(tables)), news_(news) {
  std::error_code ignored;
  if (!std::filesystem::exists(file_, ignored) && !ignored) {
    throw Error(ErrorKind::File, {file_.string(), "there is no such file",
                                  "make one with `evenleg new " + file_.string() + "`"});
  }
  if (!is_house_file(file_)) {
    throw Error(ErrorKind::Request,
                {file_.string(), "is no house file, and a page changes one",
                 "make one with `evenleg new HOUSE.house --from " + file_.string() + "`"});
  }
  stamp_ = stamp();
  take(load_house(file_));
}

OpenHouse::Stamp OpenHouse::stamp() const {
  std::error_code ignored;
  Stamp now;
  now.changes = house_file_revision(file_);
  now.size = std::filesystem::file_size(file_, ignored);
  now.written = std::filesystem::last_write_time(file_, ignored);
  return now;
}

void OpenHouse::take(House house) {
  if (moment_.house && *moment_.house == house) return;
  Moment next;
  next.revision = moment_.revision + 1;
  next.house = std::make_shared<const House>(std::move(house));
  next.missing = validate(*next.house, words_);
  if (next.missing.empty()) {
    next.watcher = std::make_shared<const StateWatcher>(*next.house, tables_);
  }
  moment_ = std::move(next);
  news_.ring();
}

void OpenHouse::look() {
  const Stamp now = stamp();
  if (now == stamp_) return;
  take(load_house(file_));
  stamp_ = now;
}

Moment OpenHouse::now() {
  const std::scoped_lock lock(lock_);
  look();
  Moment moment = moment_;
  moment.undo_steps = undo_.size();
  if (!undo_.empty()) moment.undo = undo_.back().label;
  if (!redo_.empty()) moment.redo = redo_.back().label;
  return moment;
}

void OpenHouse::change(const std::string& label, const std::function<void(House&)>& change,
                       std::optional<int> of) {
  const std::scoped_lock lock(lock_);
  look();
  std::shared_ptr<const House> before = moment_.house;
  House after;
  change_house(file_, [&](House& house) {
    const bool other = house != *before;
    if (of && (other || *of != moment_.revision)) {
      throw Error(ErrorKind::Request, {label, "the house was changed meanwhile",
                                       "look at it as it is now, and do it again"});
    }
    if (other) before = std::make_shared<const House>(house);
    change(house);
    require_no_new_error(*before, house, words_);
    after = house;
  });
  if (after == *before) return;
  take(std::move(after));  // the next look finds the file's new stamp, and this house in it
  undo_.push_back({label, std::move(before), moment_.house});
  redo_.clear();
  keep_few_steps();
}

void OpenHouse::keep_few_steps() {
  std::size_t kept = 0;
  for (const Step& step : undo_) kept += entries(*step.before);
  while (kept > kMostEntries && undo_.size() > 1) {
    kept -= entries(*undo_.front().before);
    undo_.pop_front();
  }
}

void OpenHouse::put(const std::shared_ptr<const House>& from,
                    const std::shared_ptr<const House>& to) {
  change_house(file_, [&](House& house) {
    if (house == *from) {
      house = *to;
      return;
    }
    throw Error(ErrorKind::Request,
                {file_.filename().string(), "was changed by another program since",
                 "change it back by hand; nothing is overwritten"});
  });
  take(*to);
}

void OpenHouse::undo() {
  const std::scoped_lock lock(lock_);
  if (undo_.empty()) throw Error(ErrorKind::Request, {"undo", "there is nothing to take back", ""});
  put(undo_.back().after, undo_.back().before);
  redo_.push_back(std::move(undo_.back()));
  undo_.pop_back();
}

// One transaction for all of them: what the first began from stands, or what the last left.
void OpenHouse::undo_all() {
  const std::scoped_lock lock(lock_);
  if (undo_.empty()) throw Error(ErrorKind::Request, {"undo", "there is nothing to take back", ""});
  std::size_t first = undo_.size() - 1;
  while (first > 0 && *undo_[first - 1].after == *undo_[first].before) --first;
  put(undo_.back().after, undo_[first].before);
  while (undo_.size() > first) {
    redo_.push_back(std::move(undo_.back()));
    undo_.pop_back();
  }
}

void OpenHouse::redo() {
  const std::scoped_lock lock(lock_);
  if (redo_.empty()) throw Error(ErrorKind::Request, {"redo", "there is nothing to do again", ""});
  put(redo_.back().before, redo_.back().after);
  undo_.push_back(std::move(redo_.back()));
  redo_.pop_back();
}

}  // namespace evenleg

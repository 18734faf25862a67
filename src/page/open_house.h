// The house file that a page is open on: as it is now, changed step by step, undone and redone.
//
// Safe from several threads. A step is one transaction of the file. Undo puts back the house as it
// was before the step, and only where the file still holds what the step left: a change by another
// program in between is never overwritten. Steps are kept as long as the program runs, up
// to 400,000 entries in all their houses.
#pragma once

#include <cstdint>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "evenleg/audit/seen_state.h"
#include "evenleg/house/house.h"
#include "evenleg/house/validate.h"
#include "evenleg/tables/tables.h"
#include "src/page/news.h"

namespace evenleg {

// The house at one moment. `revision` counts the changes that this program saw, from 1.
struct Moment {
  int revision = 0;
  std::shared_ptr<const House> house;
  std::vector<HouseFault> missing;              // what keeps it from an answer
  std::shared_ptr<const StateWatcher> watcher;  // null while something is missing
  std::optional<std::string> undo, redo;        // what they would take back or do again
  std::size_t undo_steps = 0;
};

class OpenHouse {
 public:
  // `news` is rung at each change. Throws: Error(File); Error(Request) for a file that is no
  // house's.
  OpenHouse(std::filesystem::path file, const Tables& tables, News& news);

  [[nodiscard]] const std::filesystem::path& file() const { return file_; }
  [[nodiscard]] const Tables& tables() const { return tables_; }
  [[nodiscard]] const Vocabulary& words() const { return words_; }

  // Reads the file again where it was changed. Throws: Error(File).
  [[nodiscard]] Moment now();

  // Throws: what `change` throws; Error(Request) with every error that the house would have and
  // does not have yet; Error(File). The file is then as it was.
  // `of`: the revision that the change is meant for, where its entries are told by their numbers;
  // of another one it is refused.
  void change(const std::string& label, const std::function<void(House&)>& change,
              std::optional<int> of = std::nullopt);
  // Throws: Error(Request) where there is nothing to undo, or another program has changed the
  // house.
  void undo();
  void undo_all();
  void redo();

 private:
  struct Step {
    std::string label;
    std::shared_ptr<const House> before, after;
  };
  // What tells one content of the file from another.
  struct Stamp {
    std::uint32_t changes = 0;
    std::uintmax_t size = 0;
    std::filesystem::file_time_type written{};
    bool operator==(const Stamp&) const = default;
  };

  [[nodiscard]] Stamp stamp() const;
  void look();  // with the lock held
  void take(House house);
  void put(const std::shared_ptr<const House>& from, const std::shared_ptr<const House>& to);
  void keep_few_steps();

  std::filesystem::path file_;
  const Tables& tables_;
  Vocabulary words_;
  News& news_;
  std::mutex lock_;
  Stamp stamp_;
  Moment moment_;
  std::deque<Step> undo_, redo_;
};

}  // namespace evenleg

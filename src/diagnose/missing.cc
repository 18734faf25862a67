#include "src/diagnose/missing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace evenleg {
namespace {

using Eigen::MatrixXd;

// A kettle or a portable heater of 1500 W at 120 V; two elements of a range at 240 V.
constexpr double kKnownAmps = 12.5;
constexpr std::size_t kMostReadings = 3;

struct Candidate {
  std::string words;
  MatrixXd slopes;
};

class Candidates {
 public:
  Candidates(const ReadPoints& points, const ReadingModel& model, const SupplySystem& system)
      : points_(points), model_(model), system_(system) {}

  // Read at `place` while the load is at `loaded`.
  void add(int place, int loaded, const std::vector<int>& legs, const std::string& load) {
    Reading reading;
    for (const int leg : legs) {
      reading.*(leg_amps_keys()[static_cast<std::size_t>(leg)].member) = kKnownAmps;
    }
    std::vector<Probe> probes;
    for (const VoltsKey& key : volts_keys()) {
      if (const auto probe = probe_at(points_, place, key)) probes.push_back(*probe);
    }
    const PlacedReading placed = model_.place(reading, loaded);
    const std::string& at = points_.points[static_cast<std::size_t>(place)].name;
    const std::string& on = points_.points[static_cast<std::size_t>(loaded)].name;
    std::string words = fmt::format("at {} with {}", at, load);
    if (place != loaded) words += fmt::format(" at {}", on);
    all_.push_back({words, model_.linearize(model_.described(), {placed}, probes).slopes});
  }

  void add_all(int place, int loaded) {
    const ReadPoint& point = points_.points[static_cast<std::size_t>(loaded)];
    std::vector<int> legs;
    for (int w = 0; w < point.neutral(); ++w) {
      const int leg = point.wires[static_cast<std::size_t>(w)].leg;
      if (std::count(legs.begin(), legs.end(), leg) == 0) legs.push_back(leg);
    }
    for (const int leg : legs) {
      add(place, loaded, {leg},
          fmt::format("a known load on {} alone",
                      system_.legs[static_cast<std::size_t>(leg)].name));
    }
    if (system_.split_phase && legs.size() > 1) {
      add(place, loaded, legs, "a known load from leg to leg");
    }
  }

  [[nodiscard]] const std::vector<Candidate>& all() const { return all_; }

 private:
  const ReadPoints& points_;
  const ReadingModel& model_;
  const SupplySystem& system_;
  std::vector<Candidate> all_;
};

// What is asked: every one of `wanted` told by what is felt already and the chosen candidates.
struct Question {
  const std::vector<Candidate>& all;
  const Felt& felt;
  const Eigen::VectorXd& scale;
  const std::vector<Combination>& wanted;
};

bool tell(const Question& question, const std::vector<const Candidate*>& chosen) {
  Eigen::Index rows = 0;
  for (const Candidate* candidate : chosen) rows += candidate->slopes.rows();
  MatrixXd slopes(rows, question.scale.size());
  Eigen::Index row = 0;
  for (const Candidate* candidate : chosen) {
    slopes.middleRows(row, candidate->slopes.rows()) = candidate->slopes;
    row += candidate->slopes.rows();
  }
  const MatrixXd more = felt_beside(question.felt, slopes, question.scale);
  return std::all_of(question.wanted.begin(), question.wanted.end(), [&](const Combination& way) {
    return is_told(question.felt, more, question.scale, way.c);
  });
}

// The first set of `count` candidates, from `first` on, that tells all.
bool choose(const Question& question, std::size_t first, std::size_t count,
            std::vector<const Candidate*>& chosen) {
  if (chosen.size() == count) return tell(question, chosen);
  for (std::size_t c = first; c < question.all.size(); ++c) {
    chosen.push_back(&question.all[c]);
    if (choose(question, c + 1, count, chosen)) return true;
    chosen.pop_back();
  }
  return false;
}

}  // namespace

std::vector<std::string> fewest_readings(const ReadPoints& points, const ReadingModel& model,
                                         const Felt& felt, const Eigen::VectorXd& scale, int place,
                                         const std::vector<Combination>& wanted,
                                         const SupplySystem& system) {
  Candidates candidates(points, model, system);
  candidates.add(place, place, {}, "nothing on");
  candidates.add_all(place, place);
  if (place != 0) candidates.add_all(0, place);
  for (std::size_t count = 1; count <= kMostReadings; ++count) {
    std::vector<const Candidate*> chosen;
    if (!choose({candidates.all(), felt, scale, wanted}, 0, count, chosen)) continue;
    std::vector<std::string> words;
    for (const Candidate* candidate : chosen) words.push_back(candidate->words);
    return words;
  }
  return {};
}

}  // namespace evenleg

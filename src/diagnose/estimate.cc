#include "evenleg/diagnose/estimate.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "evenleg/base/index.h"
#include "evenleg/base/percent.h"
#include "src/diagnose/combinations.h"
#include "src/diagnose/fit.h"
#include "src/diagnose/missing.h"
#include "src/diagnose/usable.h"

namespace evenleg {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kExcessErrors = 4;  // standard errors: by chance less than once in ten thousand
constexpr double kExcessShare = 0.5;
constexpr double kExcessOhms = 0.03;
constexpr double kMuchOhms = 0.1;
constexpr double kTimesOthers = 2;
constexpr double kOhmsOverOthers = 0.05;
constexpr double kOhmsScale = 0.1;  // of a resistance that matters, beside a volt of the source
constexpr double kMisfitSpreads = 4;
constexpr double kMisfitVolts = 1;

std::string model_name(const SupplySystem& system) {
  if (system.split_phase) return "three-wire";
  if (system.legs.size() == 1) return "two-wire";
  return system.legs.size() == 2 ? "two legs of a wye" : "four-wire wye";
}

double clamp_gain_of(const std::vector<Reading>& readings) {
  double percent = 0;
  for (const Reading& reading : readings) {
    if (has_clamped_legs(reading)) {
      percent = std::max(percent, reading.amps_accuracy_percent.value_or(0));
    }
  }
  return percent / kPercent / std::sqrt(3.0);  // uniform within the stated limit
}

// A column for each instrument.
MatrixXd gains_of(const std::vector<Probe>& probes, const std::vector<Reading>& readings) {
  std::map<std::string, Index> columns;
  for (const Reading& reading : readings) columns.try_emplace(reading.instrument.value_or(""), 0);
  Index next = 0;
  for (auto& [instrument, column] : columns) column = next++;
  MatrixXd gains = MatrixXd::Zero(static_cast<Index>(probes.size()), next);
  for (std::size_t i = 0; i < probes.size(); ++i) {
    const std::string instrument = readings[at(probes[i].reading)].instrument.value_or("");
    gains(static_cast<Index>(i), columns.at(instrument)) = probes[i].gain_error;
  }
  return gains;
}

std::string key_of(const Probe& probe, const ReadPoints& points) {
  for (const VoltsKey& key : volts_keys()) {
    const auto same = probe_at(points, probe.point, key);
    if (same && same->from == probe.from && same->to == probe.to) return std::string(key.key);
  }
  return {};
}

// The largest of the others that are told alone; nothing when there is none.
std::optional<double> largest_other(const SectionEstimate& section, const ConductorEstimate& one) {
  std::optional<double> largest;
  for (const ConductorEstimate& other : section.conductors) {
    if (&other == &one || !other.alone()) continue;
    largest = std::max(largest.value_or(0), other.ohms);
  }
  return largest;
}

// What each has beyond its run, or beyond the others.
void set_excess(const SectionEstimate& section, ConductorEstimate& one) {
  if (one.expected_ohms) {
    one.excess_ohms = one.ohms - one.transformer_ohms - *one.expected_ohms;
  } else if (const auto other = largest_other(section, one); other && one.alone()) {
    one.excess_ohms = one.ohms - *other;
  }
}

// The least excess of the others, 0 when there is none.
double common_excess(const SectionEstimate& section, const ConductorEstimate& one) {
  std::optional<double> least;
  for (const ConductorEstimate& other : section.conductors) {
    if (&other == &one || !other.alone() || !other.excess_ohms) continue;
    least = std::min(least.value_or(*other.excess_ohms), *other.excess_ohms);
  }
  return std::max(0.0, least.value_or(0));
}

bool stands_out(const SectionEstimate& section, const ConductorEstimate& one) {
  if (!one.excess_ohms || *one.excess_ohms <= kExcessErrors * one.standard_error) return false;
  if (!one.expected_ohms) {
    const double others = one.ohms - *one.excess_ohms;
    return *one.excess_ohms > std::max((kTimesOthers - 1) * others, kOhmsOverOthers);
  }
  const double own = *one.excess_ohms - common_excess(section, one);
  const double share = kExcessShare * *one.expected_ohms;
  return (own > std::max(share, kExcessOhms) && own > kExcessErrors * one.standard_error) ||
         *one.excess_ohms > std::max(share, kMuchOhms);
}

void judge_section(SectionEstimate& section) {
  for (ConductorEstimate& one : section.conductors) set_excess(section, one);
  for (ConductorEstimate& one : section.conductors) one.stands_out = stands_out(section, one);
}

// Fits all readings of a house and tells what they tell.
class Estimator {
 public:
  Estimator(const House& house, const Wiring& wiring, const Model& model)
      : house_(house),
        wiring_(wiring),
        system_(wiring.system),
        points_(read_points(house, wiring, model)),
        model_(house, model, points_, false),
        share_(transformer_share(model, wiring.system.split_phase)) {
    for (std::size_t r = 0; r < house.readings.size(); ++r) {
      placed_.push_back(model_.place(house.readings[r], points_.of_reading[r]));
    }
    UsableProbes usable =
        usable_probes(probes_of(house.readings, points_), house.readings, points_, system_);
    probes_ = std::move(usable.used);
    left_out_ = std::move(usable.left_out);
  }

  Estimation result() {
    Estimation all;
    all.model = model_name(system_);
    all.display_step = display_step(house_.readings);
    for (const Probe& probe : left_out_) all.left_out.push_back(misfit(probe, 0));
    if (!probes_.empty()) fit_all(all);
    for (SectionEstimate& section : all.sections) judge_section(section);
    return all;
  }

 private:
  void fit_all(Estimation& all) {
    FitProblem problem;
    problem.predict = [this](const VectorXd& x) {
      Linearized at_x = model_.linearize(x, placed_, probes_);
      return Prediction{std::move(at_x.volts), std::move(at_x.slopes)};
    };
    problem.measured.resize(static_cast<Index>(probes_.size()));
    problem.own_errors.resize(problem.measured.size());
    for (std::size_t i = 0; i < probes_.size(); ++i) {
      problem.measured(static_cast<Index>(i)) = probes_[i].volts;
      problem.own_errors(static_cast<Index>(i)) = probes_[i].own_error;
    }
    problem.start = model_.described();
    problem.scale = VectorXd::Constant(problem.start.size(), kOhmsScale);
    problem.scale(0) = 1;
    problem.gains = gains_of(probes_, house_.readings);
    problem.clamp_gain = clamp_gain_of(house_.readings);
    fit_ = fit(problem);
    describe(all);
    compare(all);
    for (std::size_t p = 0; p < points_.points.size(); ++p) {
      const ReadPoint& point = points_.points[p];
      if (point.read) {
        add_place(static_cast<int>(p), all);
      } else if (point.on_the_way) {
        add_parting(static_cast<int>(p), all);
      }
    }
  }

  void describe(Estimation& all) const {
    std::vector<bool> used(placed_.size());
    for (const Probe& probe : probes_) used[at(probe.reading)] = true;
    all.readings_used = static_cast<int>(std::count(used.begin(), used.end(), true));
    all.values_used = static_cast<int>(probes_.size());
    all.residual_volts =
        std::sqrt(fit_.residuals.squaredNorm() / static_cast<double>(probes_.size()));
    all.accuracy_stated = std::all_of(
        house_.readings.begin(), house_.readings.end(),
        [](const Reading& reading) { return reading.accuracy_percent || reading.accuracy_volts; });
    VectorXd first = VectorXd::Zero(fit_.x.size());
    first(0) = 1;
    if (const auto e = estimate(fit_, first)) {
      all.source_volts = e->value;
      all.source_standard_error = e->standard_error;
    }
    for (std::size_t i = 0; i < probes_.size(); ++i) {
      const double away = std::abs(fit_.residuals(static_cast<Index>(i)));
      if (away > kMisfitVolts && away > spread_without(i) * kMisfitSpreads) {
        all.misfits.push_back(
            misfit(probes_[i], probes_[i].volts - fit_.residuals(static_cast<Index>(i))));
      }
    }
  }

  // Beside each voltage that was used what fitted and described wires show.
  void compare(Estimation& all) const {
    VectorXd described = model_.described();
    described(0) = fit_.x(0);
    const VectorXd expected = model_.linearize(described, placed_, probes_).volts;
    for (std::size_t i = 0; i < probes_.size(); ++i) {
      const auto row = static_cast<Index>(i);
      all.volts.push_back({probes_[i].reading, key_of(probes_[i], points_), probes_[i].volts,
                           probes_[i].volts - fit_.residuals(row), expected(row)});
    }
  }

  // Root mean square of the other residuals.
  [[nodiscard]] double spread_without(std::size_t i) const {
    const double own = fit_.residuals(static_cast<Index>(i));
    const double rest = fit_.residuals.squaredNorm() - own * own;
    return std::sqrt(std::max(0.0, rest) /
                     static_cast<double>(std::max<std::size_t>(1, probes_.size() - 1)));
  }

  [[nodiscard]] Misfit misfit(const Probe& probe, double predicted) const {
    return {probe.reading, key_of(probe, points_), probe.volts, predicted};
  }

  void add_place(int p, Estimation& all) {
    const ReadPoint& point = points_.points[at(p)];
    std::vector<int> apart;
    std::vector<Combination> untold;
    for (int w = 0; w <= point.neutral(); ++w) {
      if (tell({w}, p, all)) continue;
      apart.push_back(w);
      untold.push_back(ways_up(points_, model_, p, {w}).front());
    }
    if (apart.empty()) return;
    tell_together(p, apart, all);
    MissingReadings missing{point.name, {}, {}};
    for (const int w : apart) missing.conductors.push_back(conductor_name(point, {w}, system_));
    missing.take = fewest_readings(points_, model_, fit_.felt, fit_.scale, p, untold, system_);
    all.missing.push_back(std::move(missing));
  }

  // What hangs together where a conductor alone is not told.
  void tell_together(int p, const std::vector<int>& apart, Estimation& all) {
    const int neutral = points_.points[at(p)].neutral();
    for (int w = 0; w < neutral; ++w) {
      if (std::count(apart.begin(), apart.end(), w) > 0 || apart.back() == neutral) {
        (void)tell({w, neutral}, p, all);
      }
      if (std::count(apart.begin(), apart.end(), w) > 0) tell_to_ground(p, w, all);
    }
  }

  // A hot from the source with the service's neutral: what line to ground sees, where the service
  // itself was not read apart.
  void tell_to_ground(int p, int hot, Estimation& all) {
    if (p == 0) return;
    const Combination service =
        ways_up(points_, model_, 0, {points_.points.front().neutral()}).back();
    Combination way = ways_up(points_, model_, p, {hot}).back();
    way.c += service.c;
    way.expected += service.expected;
    const auto told = estimate(fit_, way.c);
    if (!told) return;
    ConductorEstimate conductor;
    conductor.conductor = conductor_name(points_.points[at(p)], {hot}, system_) + " to ground";
    conductor.ohms = told->value;
    conductor.standard_error = told->standard_error;
    conductor.transformer_ohms = (share_.hot + share_.neutral).real();
    set_expected(way, conductor);
    section(way, all).conductors.push_back(std::move(conductor));
  }

  static void set_expected(const Combination& way, ConductorEstimate& conductor) {
    const double expected = way.expected.real() - conductor.transformer_ohms;
    constexpr double kNothing = 1e-9;  // ohms: no run was described
    if (expected > kNothing) conductor.expected_ohms = expected;
  }

  // Adds the estimate of these wires in series, from the nearest stop to which they are told.
  bool tell(const std::vector<int>& wires, int p, Estimation& all) {
    for (const Combination& way : ways_up(points_, model_, p, wires)) {
      const auto told = estimate(fit_, way.c);
      if (!told) continue;
      ConductorEstimate conductor;
      conductor.conductor = conductor_name(points_.points[at(p)], wires, system_);
      conductor.ohms = told->value;
      conductor.standard_error = told->standard_error;
      if (way.from < 0) conductor.transformer_ohms = share_of(p, wires);
      set_expected(way, conductor);
      section(way, all).conductors.push_back(std::move(conductor));
      return true;
    }
    return false;
  }

  [[nodiscard]] double share_of(int p, const std::vector<int>& wires) const {
    double ohms = 0;
    for (const int w : wires) {
      const bool neutral = points_.points[at(p)].wires[at(w)].leg == kNeutral;
      ohms += (neutral ? share_.neutral : share_.hot).real();
    }
    return ohms;
  }

  SectionEstimate& section(const Combination& way, Estimation& all) const {
    const ReadPoint& to = points_.points[at(way.to)];
    const std::string from = way.from < 0 ? "" : points_.points[at(way.from)].name;
    for (SectionEstimate& known : all.sections) {
      if (known.from == from && known.to == name_of(way.to)) return known;
    }
    SectionEstimate added{SectionKind::Feeder, from, name_of(way.to), "", false, false, {}};
    if (way.from < 0) added.kind = SectionKind::Service;
    if (to.panel < 0) {
      added.kind = SectionKind::Branch;
      added.cable = cable_name(to.cable);
      added.multiwire = wiring_.cables[at(to.cable)].multiwire >= 0 && to.neutral() > 1;
      added.from_panel = way.from < 0 || points_.points[at(way.from)].panel >= 0;
    }
    all.sections.push_back(std::move(added));
    return all.sections.back();
  }

  [[nodiscard]] std::string cable_name(int cable) const {
    const Cable& wired = wiring_.cables[at(cable)];
    return wired.multiwire >= 0 ? house_.multiwires[at(wired.multiwire)].name
                                : house_.circuits[at(wired.circuits.front())].name;
  }

  [[nodiscard]] std::string name_of(int point) const {
    const ReadPoint& here = points_.points[at(point)];
    return here.name.empty() ? "box of \"" + cable_name(here.cable) + "\"" : here.name;
  }

  // The neutral up to a box that nobody read, where ways of a multiwire part.
  void add_parting(int p, Estimation& all) {
    const ReadPoint& point = points_.points[at(p)];
    if (point.cable >= 0 && point.neutral() > 1) (void)tell({point.neutral()}, p, all);
  }

  const House& house_;
  const Wiring& wiring_;
  const SupplySystem& system_;
  ReadPoints points_;
  ReadingModel model_;
  RunImpedance share_;
  std::vector<PlacedReading> placed_;
  std::vector<Probe> probes_;
  std::vector<Probe> left_out_;
  Fit fit_;
};

}  // namespace

const ConductorEstimate* SectionEstimate::find(const std::string& conductor) const {
  for (const ConductorEstimate& one : conductors) {
    if (one.conductor == conductor) return &one;
  }
  return nullptr;
}

const SectionEstimate* Estimation::main_section(const House& house) const {
  const SectionEstimate* best = nullptr;
  std::ptrdiff_t most = 0;
  for (const SectionEstimate& section : sections) {
    if (section.to == house.panels.front().name) return &section;
    const auto count =
        std::count_if(house.readings.begin(), house.readings.end(),
                      [&](const Reading& reading) { return reading.at == section.to; });
    if (count > most) {
      most = count;
      best = &section;
    }
  }
  return best;
}

Estimation estimate_from_readings(const House& house, const Wiring& wiring, const Model& model) {
  return Estimator(house, wiring, model).result();
}

}  // namespace evenleg

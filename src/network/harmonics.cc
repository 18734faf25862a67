#include "evenleg/network/harmonics.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "evenleg/base/percent.h"
#include "evenleg/house/fields.h"
#include "evenleg/units/phasor.h"
#include "src/network/drawn.h"

namespace evenleg {
namespace {

Complex impedance_at(int order, Complex ohms) { return {ohms.real(), order * ohms.imag()}; }

// The network at an order, its sources short-circuited.
Model model_at(const Model& model, int order) {
  Model scaled = model;
  std::fill(scaled.source.begin(), scaled.source.end(), Complex{});
  scaled.source_impedance =
      model.source_impedance.unaryExpr([order](Complex z) { return impedance_at(order, z); });
  const auto scale = [order](RunImpedance& run) {
    run = {impedance_at(order, run.hot), impedance_at(order, run.neutral)};
  };
  for (PanelModel& panel : scaled.panels) scale(panel.run);
  for (CableModel& cable : scaled.cables) {
    for (BoxModel& box : cable.boxes) scale(box.run);
  }
  return scaled;
}

LoadSpectrum own_spectrum(const Load& load) {
  LoadSpectrum spectrum;
  for (int order = kLeastOrder; order <= kMostOrder; ++order) {
    const std::string key = std::to_string(order);
    const auto percent = load.spectrum.find(key);
    if (percent == load.spectrum.end() || percent->second <= 0) continue;
    const auto degrees = load.spectrum_degrees.find(key);
    const double angle = degrees == load.spectrum_degrees.end() ? 0 : radians(degrees->second);
    spectrum.push_back({order, percent->second / kPercent, angle});
  }
  return spectrum;
}

LoadSpectrum spectrum_of_kind(const Tables& tables, const std::string& name) {
  const LoadKind* kind = find_kind(tables, name);
  const KindSpectrum* found = kind != nullptr ? find_spectrum(tables.spectra, kind->name) : nullptr;
  LoadSpectrum spectrum;
  if (found == nullptr) return spectrum;
  for (const SpectrumLine& line : found->lines) {
    if (line.percent <= 0) continue;
    spectrum.push_back({line.order, line.percent / kPercent, radians(line.degrees)});
  }
  return spectrum;
}

// What each load draws at that order, from its fundamental.
std::vector<Complex> drawn_at(int order, const Solution& fundamental,
                              const std::vector<LoadSpectrum>& spectra) {
  std::vector<Complex> drawn(spectra.size());
  for (std::size_t l = 0; l < spectra.size(); ++l) {
    for (const HarmonicShare& part : spectra[l]) {
      if (part.order != order) continue;
      const double angle = order * std::arg(fundamental.load_volts[l]) + part.angle;
      drawn[l] = std::polar(part.share * std::abs(fundamental.load_amps[l]), angle);
    }
  }
  return drawn;
}

}  // namespace

std::vector<LoadSpectrum> spectra_of(const House& house, const Tables& tables) {
  std::vector<LoadSpectrum> spectra;
  for (const Load& load : house.loads) {
    const bool linear = load.spectrum.empty() && load.ohms;
    if (linear) {
      spectra.emplace_back();
    } else {
      spectra.push_back(load.spectrum.empty() ? spectrum_of_kind(tables, load.kind)
                                              : own_spectrum(load));
    }
  }
  return spectra;
}

Complex admittance_at(int order, Complex fundamental) {
  if (fundamental == Complex{}) return {};
  const Complex z = 1.0 / fundamental;
  const double reactance = z.imag() >= 0 ? order * z.imag() : z.imag() / order;
  return 1.0 / Complex(z.real(), reactance);
}

Solution solve_order(const Model& model, int order, const std::vector<Complex>& load_admittances,
                     const std::vector<Complex>& drawn, const std::optional<NeutralFault>& fault) {
  std::vector<Complex> y;
  y.reserve(load_admittances.size());
  for (const Complex fundamental : load_admittances) {
    y.push_back(admittance_at(order, fundamental));
  }
  return solve_drawn(model_at(model, order), y, drawn, fault);
}

HarmonicSolution solve_harmonics(const Model& model, const std::vector<Complex>& load_admittances,
                                 const std::vector<LoadSpectrum>& spectra,
                                 const std::optional<NeutralFault>& fault) {
  HarmonicSolution solution;
  std::set<int> orders;
  std::vector<Complex> linear = load_admittances;
  for (std::size_t l = 0; l < spectra.size(); ++l) {
    if (load_admittances[l] == Complex{} || spectra[l].empty()) continue;
    linear[l] = {};
    for (const HarmonicShare& part : spectra[l]) orders.insert(part.order);
  }
  solution.orders.push_back(1);
  solution.states.push_back(solve(model, load_admittances, fault));
  solution.status = solution.states.front().status;
  for (int order : orders) {
    const std::vector<Complex> drawn = drawn_at(order, solution.states.front(), spectra);
    solution.orders.push_back(order);
    solution.states.push_back(solve_order(model, order, linear, drawn, fault));
    if (solution.states.back().status != SolveStatus::Solved) {
      solution.status = solution.states.back().status;
    }
  }
  return solution;
}

double total_rms(std::span<const double> by_order) {
  double squares = 0;
  for (const double amps : by_order) squares += amps * amps;
  return std::sqrt(squares);
}

std::optional<double> distortion(std::span<const double> by_order) {
  constexpr double kNothing = 1e-6;  // of the whole: below this the first order is rounding
  if (by_order.empty() || by_order.front() <= kNothing * total_rms(by_order)) return std::nullopt;
  return total_rms(by_order.subspan(1)) / by_order.front();
}

}  // namespace evenleg

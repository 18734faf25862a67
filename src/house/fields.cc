#include "evenleg/house/fields.h"

#include "src/house/field_makers.h"

namespace evenleg {
namespace {

// The upper bounds are judgement: far above what a dwelling has, so that only a slip of the pen or
// a wrong unit reaches them.
constexpr Bounds kFeet{0, 32808};  // 10 km
constexpr Bounds kMetres{0, 10000};
constexpr Bounds kRunOhms{0, 1e6};
constexpr Bounds kLoadOhms{0, 1e6, true};
constexpr Bounds kWatts{0, 1e6, true};  // and volt-amperes
constexpr Bounds kAmps{0, 10000, true};
constexpr Bounds kVolts{0, 1000, true};  // low voltage a.c. ends at 1000 V
constexpr Bounds kKva{0, 10000, true};
constexpr Bounds kPercentBounds{0, 100};
constexpr Bounds kPowerFactor{0, 1, true};
constexpr Bounds kShare{0, 1};
constexpr Bounds kSpaces{1, 200};
constexpr Bounds kPoles{1, 3};  // one for each leg of a wye
constexpr Bounds kReadVolts{0, 1000};
constexpr Bounds kReadAmps{0, 10000};
constexpr Bounds kAccuracyPercent{0, 20};
constexpr Bounds kAccuracyVolts{0, 20};
// A train of the shortest pulses has as much of each order as of the fundamental; twice that is
// left for a current whose fundamental is small.
constexpr Bounds kSpectrumPercent{0, 200};
constexpr Bounds kDegrees{-360, 360};
constexpr Bounds kHorsepower{0, 100, true};
constexpr Bounds kStartsPerHour{0, 3600, true};  // one each second
constexpr Bounds kFloorArea{0, 1e5, true};  // square feet or square metres
constexpr Bounds kCircuits{0, 100};
constexpr Bounds kProse{1, 4000};  // characters: a page

// The keys of a run, after `fields`.
template <class Record>
std::vector<Field<Record>> with_run(std::vector<Field<Record>> fields) {
  const auto of_run = [](std::string_view key, auto Run::*member) {
    return field<Record>(
        key, [member](auto& record) -> auto& { return record.run.*member; });
  };
  fields.push_back(of_run("conductor", &Run::conductor));
  fields.push_back(of_run("neutral", &Run::neutral));
  fields.push_back(within(kFeet, of_run("length_ft", &Run::length_ft)));
  fields.push_back(within(kMetres, of_run("length_m", &Run::length_m)));
  fields.push_back(within(kRunOhms, of_run("hot_ohms", &Run::hot_ohms)));
  fields.push_back(within(kRunOhms, of_run("neutral_ohms", &Run::neutral_ohms)));
  return fields;
}

}  // namespace

template <>
std::span<const Field<Supply>> fields_of() {
  using S = Supply;
  static const std::vector<Field<S>> kFields = {
      needed(field<S>("system", &S::system)),
      within(kVolts, field<S>("volts", &S::volts)),
  };
  return kFields;
}

template <>
std::span<const Field<Transformer>> fields_of() {
  using T = Transformer;
  static const std::vector<Field<T>> kFields = {
      within(kKva, field<T>("kva", &T::kva)),
      within(kPercentBounds, field<T>("resistance_percent", &T::resistance_percent)),
      within(kPercentBounds, field<T>("reactance_percent", &T::reactance_percent)),
  };
  return kFields;
}

template <>
std::span<const Field<Service>> fields_of() {
  using S = Service;
  static const std::vector<Field<S>> kFields = [] {
    auto fields = with_run<S>({within(kAmps, field<S>("breaker_a", &S::breaker_a))});
    fields.push_back(within(kRunOhms, field<S>("earth_return_ohms", &S::earth_return_ohms)));
    return fields;
  }();
  return kFields;
}

template <>
std::span<const Field<Dwelling>> fields_of() {
  using D = Dwelling;
  static const std::vector<Field<D>> kFields = {
      within(kFloorArea, field<D>("floor_area_ft2", &D::floor_area_ft2)),
      within(kFloorArea, field<D>("floor_area_m2", &D::floor_area_m2)),
      within(kCircuits, field<D>("small_appliance_circuits", &D::small_appliance_circuits)),
      within(kCircuits, field<D>("laundry_circuits", &D::laundry_circuits)),
      field<D>("new_hvac", &D::new_hvac),
      within(kAmps, field<D>("recorded_demand_amps", &D::recorded_demand_amps)),
      one_of({"1 year", "30 days"}, field<D>("recorded_period", &D::recorded_period)),
  };
  return kFields;
}

template <>
std::span<const Field<Panel>> fields_of() {
  using P = Panel;
  static const std::vector<Field<P>> kFields = with_run<P>({
      needed(field<P>("name", &P::name)),
      needed(within(kSpaces, field<P>("spaces", &P::spaces))),
      within(kVolts, field<P>("neutral_loss_trip_volts", &P::neutral_loss_trip_volts)),
      field<P>("fed_from", &P::fed_from),
      within(kSpaces, field<P>("at_spaces", &P::at_spaces)),
      within(kAmps, field<P>("breaker_a", &P::breaker_a)),
  });
  return kFields;
}

template <>
std::span<const Field<Circuit>> fields_of() {
  using C = Circuit;
  static const std::vector<Field<C>> kFields = with_run<C>({
      needed(field<C>("name", &C::name)),
      field<C>("panel", &C::panel),
      within(kSpaces, field<C>("space", &C::space)),
      field<C>("legs", &C::legs),
      within(kPoles, field<C>("poles", &C::poles)),
      within(kAmps, field<C>("breaker_a", &C::breaker_a)),
      one_of({"standard", "GFCI", "AFCI", "dual"}, field<C>("protection", &C::protection)),
      field<C>("locked", &C::locked),
      within(kAmps, field<C>("measured_amps", &C::measured_amps)),
  });
  return kFields;
}

template <>
std::span<const Field<Multiwire>> fields_of() {
  using M = Multiwire;
  static const std::vector<Field<M>> kFields = with_run<M>({
      needed(field<M>("name", &M::name)),
      needed(field<M>("circuits", &M::circuits)),
      field<M>("common_disconnect", &M::common_disconnect),
      one_of({"spliced", "through devices", "unknown"},
             field<M>("neutral_joint", &M::neutral_joint)),
  });
  return kFields;
}

template <>
std::span<const Field<Outlet>> fields_of() {
  using O = Outlet;
  static const std::vector<Field<O>> kFields = with_run<O>({
      needed(field<O>("name", &O::name)),
      needed(field<O>("on", &O::on)),
      field<O>("after", &O::after),
  });
  return kFields;
}

template <>
std::span<const Field<Load>> fields_of() {
  using L = Load;
  static const std::vector<Field<L>> kFields = {
      needed(field<L>("name", &L::name)),
      needed(field<L>("at", &L::at)),
      field<L>("circuit", &L::circuit),
      field<L>("connect", &L::connect),
      field<L>("kind", &L::kind),
      within(kWatts, field<L>("watts", &L::watts)),
      within(kWatts, field<L>("va", &L::va)),
      within(kAmps, field<L>("amps", &L::amps)),
      within(kLoadOhms, field<L>("ohms", &L::ohms)),
      within(kAmps, field<L>("measured_amps", &L::measured_amps)),
      within(kVolts, field<L>("volts", &L::volts)),
      within(kPowerFactor, field<L>("power_factor", &L::power_factor)),
      field<L>("leading", &L::leading),
      field<L>("on", &L::on),
      one_of({"free", "always on", "always off"}, field<L>("switching", &L::switching)),
      field<L>("noncoincident", &L::noncoincident),
      within(kVolts, field<L>("max_volts", &L::max_volts)),
      within(kSpectrumPercent, as_spectrum(field<L>("spectrum", &L::spectrum))),
      within(kDegrees, as_spectrum(field<L>("spectrum_degrees", &L::spectrum_degrees))),
      within(kAmps, field<L>("starting_amps", &L::starting_amps)),
      // The letters of NEC table 430.7(B): I, O and Q are not among them.
      one_of({"A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T",
              "U", "V"},
             field<L>("code_letter", &L::code_letter)),
      within(kHorsepower, field<L>("horsepower", &L::horsepower)),
      within(kPowerFactor, field<L>("starting_power_factor", &L::starting_power_factor)),
      within(kStartsPerHour, field<L>("starts_per_hour", &L::starts_per_hour)),
      // What service calculations tell apart; "general" is what the floor area stands for.
      one_of({"general", "not counted", "range", "wall oven", "cooktop", "dryer", "water heater",
              "tankless water heater", "fastened appliance", "motor", "pool or spa", "EV charger",
              "central heating", "room heating", "thermal storage heating", "heat pump",
              "heat pump supplement", "cooling"},
             field<L>("demand", &L::demand)),
      field<L>("appliance", &L::appliance),
  };
  return kFields;
}

template <>
std::span<const Field<Scenario>> fields_of() {
  using S = Scenario;
  static const std::vector<Field<S>> kFields = {
      needed(field<S>("name", &S::name)),
      field<S>("on", &S::on),
      within(kShare, field<S>("share", &S::share)),
  };
  return kFields;
}

template <>
std::span<const Field<Reading>> fields_of() {
  using R = Reading;
  static const std::vector<Field<R>> kFields = {
      needed(field<R>("at", &R::at)),
      field<R>("label", &R::label),
      as_time(field<R>("time", &R::time)),
      field<R>("on", &R::on),
      field<R>("main_off", &R::main_off),
      within(kReadVolts, field<R>("l1_n_volts", &R::l1_n_volts)),
      within(kReadVolts, field<R>("l2_n_volts", &R::l2_n_volts)),
      within(kReadVolts, field<R>("l3_n_volts", &R::l3_n_volts)),
      within(kReadVolts, field<R>("l1_l2_volts", &R::l1_l2_volts)),
      within(kReadVolts, field<R>("l2_l3_volts", &R::l2_l3_volts)),
      within(kReadVolts, field<R>("l3_l1_volts", &R::l3_l1_volts)),
      within(kReadAmps, field<R>("l1_amps", &R::l1_amps)),
      within(kReadAmps, field<R>("l2_amps", &R::l2_amps)),
      within(kReadAmps, field<R>("l3_amps", &R::l3_amps)),
      within(kReadAmps, field<R>("neutral_amps", &R::neutral_amps)),
      within(kReadAmps, field<R>("electrode_amps", &R::electrode_amps)),
      within(kReadAmps, field<R>("water_pipe_amps", &R::water_pipe_amps)),
      within(kReadAmps, field<R>("together_amps", &R::together_amps)),
      within(kReadVolts, field<R>("neutral_ground_volts", &R::neutral_ground_volts)),
      within(kReadVolts, field<R>("l1_ground_volts", &R::l1_ground_volts)),
      within(kReadVolts, field<R>("l2_ground_volts", &R::l2_ground_volts)),
      within(kReadVolts, field<R>("l3_ground_volts", &R::l3_ground_volts)),
      within(kReadVolts, field<R>("joint_volts", &R::joint_volts)),
      field<R>("instrument", &R::instrument),
      one_of({"high impedance", "low impedance"}, field<R>("meter_input", &R::meter_input)),
      within(kAccuracyPercent, field<R>("accuracy_percent", &R::accuracy_percent)),
      within(kAccuracyVolts, field<R>("accuracy_volts", &R::accuracy_volts)),
      within(kAccuracyPercent, field<R>("amps_accuracy_percent", &R::amps_accuracy_percent)),
  };
  return kFields;
}

template <>
std::span<const Field<SiteFinding>> fields_of() {
  using F = SiteFinding;
  static const std::vector<Field<F>> kFields = {
      within(kProse, field<F>("where", &F::where)),
      needed(within(kProse, field<F>("observation", &F::observation))),
      within(kProse, field<F>("implication", &F::implication)),
      within(kProse, field<F>("recommendation", &F::recommendation)),
      one_of({"now", "soon", "when convenient", "for information"},
             field<F>("urgency", &F::urgency)),
  };
  return kFields;
}

}  // namespace evenleg

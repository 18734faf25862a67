#include "src/cli/visit_steps.h"

#include <fmt/format.h>

#include <algorithm>

namespace evenleg {
namespace {

constexpr double kUsualAmps = 60;  // more than test loads draw

struct Step {
  std::string name;
  std::string other_leg{};  // whose electronics must be off; "" where none need be
  bool main_off = false;
  bool beside = false;  // currents beside the service neutral are asked for

  [[nodiscard]] bool loaded() const { return !other_leg.empty(); }
};

class PlaceQuestions {
 public:
  PlaceQuestions(const House& house, const Wiring& wiring, std::string place, std::string round)
      : house_(house), system_(wiring.system), place_(std::move(place)), round_(std::move(round)) {
    find_legs(wiring);
  }

  void add(std::vector<Question>& all) {
    for (const Step& step : steps()) add_step(step, all);
  }

 private:
  void find_legs(const Wiring& wiring) {
    for (std::size_t p = 0; p < house_.panels.size(); ++p) {
      if (house_.panels[p].name != place_) continue;
      panel_ = true;
      legs_ = wiring.panels[p].legs;
      first_ = p == 0;
    }
    for (std::size_t o = 0; !panel_ && o < house_.outlets.size(); ++o) {
      if (house_.outlets[o].name != place_) continue;
      const Cable& cable = wiring.cables[static_cast<std::size_t>(wiring.outlet_cable[o])];
      for (const int hot : cable.boxes[static_cast<std::size_t>(wiring.outlet_box[o])].hots) {
        const int leg = cable.hots[static_cast<std::size_t>(hot)].leg;
        if (std::count(legs_.begin(), legs_.end(), leg) == 0) legs_.push_back(leg);
      }
    }
  }

  [[nodiscard]] const std::string& leg(int index) const {
    return system_.legs[static_cast<std::size_t>(index)].name;
  }

  [[nodiscard]] std::string others(int loaded) const {
    std::string names;
    for (const int other : legs_) {
      if (other == loaded) continue;
      names += (names.empty() ? "" : " and ") + leg(other);
    }
    return names;
  }

  [[nodiscard]] std::vector<Step> steps() const {
    std::vector<Step> steps{{"nothing on"}};
    for (const int one : legs_) {
      // At an outlet of one leg the other legs of the house may rise as well.
      const std::string other = legs_.size() > 1 ? others(one) : "the other legs";
      steps.push_back({fmt::format("known load on {}", leg(one)), other});
    }
    if (panel_ && legs_.size() > 1) {
      // The loads come on one after the other, so that any leg may rise.
      steps.push_back({"known loads on all legs", "all legs", false, first_});
    }
    if (first_) steps.push_back({"main off", "", true, true});
    return steps;
  }

  [[nodiscard]] Question of(const Step& step, QuestionKind kind, std::string prompt,
                            std::string why) const {
    Question question;
    question.kind = kind;
    question.part = fmt::format("At {}: {}", place_, step.name);
    question.prompt = std::move(prompt);
    question.why = std::move(why);
    question.place = place_;
    question.step = round_ + ": " + step.name;
    question.main_off = step.main_off;
    question.loaded = step.loaded();
    return question;
  }

  void add_step(const Step& step, std::vector<Question>& all) const {
    if (step.main_off) {
      Question off =
          of(step, QuestionKind::Confirm, "Is the main off? yes, or Enter to leave this out",
             "With the main off nothing of this house draws: a current that stays on the "
             "electrode conductor or a water pipe comes from elsewhere. The line side of "
             "the main and the meter stay live.");
      all.push_back(std::move(off));
      add_beside(step, all);
      return;
    }
    if (step.loaded()) {
      all.push_back(of(step, QuestionKind::Confirm,
                       fmt::format("Are electronics on {} switched off or unplugged? yes, or Enter "
                                   "to leave this step out",
                                   step.other_leg),
                       "If the neutral is loose the other leg rises as the load comes on, and may "
                       "harm what is on it. The load stays on no longer than the reading takes."));
      all.push_back(of(step, QuestionKind::Loads, "Which loads are on (names, or numbers from ?)",
                       "The loads of the house that run for this reading. A heater of your own is "
                       "not among them: leave it out and clamp the legs."));
      // Before the volts, so that none is ever kept without the current that goes with it.
      add_amps(step, all);
    }
    add_volts(step, all);
    if (!step.loaded()) add_amps(step, all);
    if (step.beside) add_beside(step, all);
  }

  void add_value(const Step& step, QuestionKind kind, std::string prompt, std::string why,
                 std::optional<double> Reading::*member, double usual,
                 std::vector<Question>& all) const {
    Question question = of(step, kind, std::move(prompt), std::move(why));
    question.member = member;
    question.usual = usual;
    all.push_back(std::move(question));
  }

  void add_volts(const Step& step, std::vector<Question>& all) const {
    static constexpr std::optional<double> Reading::*kToNeutral[] = {
        &Reading::l1_n_volts, &Reading::l2_n_volts, &Reading::l3_n_volts};
    static constexpr std::optional<double> Reading::*kToGround[] = {
        &Reading::l1_ground_volts, &Reading::l2_ground_volts, &Reading::l3_ground_volts};
    const std::string why =
        "All of them, every time: how they stand to each other says more than any one of them.";
    for (const int one : legs_) {
      add_value(step, QuestionKind::Volts, leg(one) + " to neutral, volts", why, kToNeutral[one],
                system_.nominal_volts, all);
    }
    add_between_legs(step, why, all);
    if (panel_) return;
    add_value(step, QuestionKind::Volts, "Neutral to ground, volts",
              "With a load on it is what the neutral of this branch drops; with none it is near "
              "nothing.",
              &Reading::neutral_ground_volts, 0, all);
    for (const int one : legs_) {
      add_value(step, QuestionKind::Volts, leg(one) + " to ground, volts",
                "Line to neutral and neutral to ground make line to ground in a sound branch; an "
                "open neutral leaves the hot live to ground.",
                kToGround[one], system_.nominal_volts, all);
    }
  }

  void add_between_legs(const Step& step, const std::string& why,
                        std::vector<Question>& all) const {
    struct Pair {
      int one, two;
      std::optional<double> Reading::*member;
    };
    static constexpr Pair kPairs[] = {{0, 1, &Reading::l1_l2_volts},
                                      {1, 2, &Reading::l2_l3_volts},
                                      {2, 0, &Reading::l3_l1_volts}};
    const auto comes = [&](int one) { return std::count(legs_.begin(), legs_.end(), one) > 0; };
    for (const Pair& pair : kPairs) {
      if (!comes(pair.one) || !comes(pair.two)) continue;
      add_value(step, QuestionKind::Volts,
                fmt::format("{} to {}, volts", leg(pair.one), leg(pair.two)), why, pair.member,
                nominal_volts(system_, pair.one, pair.two), all);
    }
  }

  void add_amps(const Step& step, std::vector<Question>& all) const {
    static constexpr std::optional<double> Reading::*kLegs[] = {
        &Reading::l1_amps, &Reading::l2_amps, &Reading::l3_amps};
    const std::string why =
        "A clamp around this conductor alone. Without it the current is worked out from the loads "
        "that you named.";
    for (const int one : legs_) {
      add_value(step, QuestionKind::Amps, leg(one) + ", amperes", why, kLegs[one], kUsualAmps, all);
    }
    add_value(step, QuestionKind::Amps, "Neutral, amperes", why, &Reading::neutral_amps, kUsualAmps,
              all);
  }

  void add_beside(const Step& step, std::vector<Question>& all) const {
    const std::string why =
        "Read with the main on and with it off: what goes to nothing is this house's, what stays "
        "comes from elsewhere. Some current is ordinary where metal pipes join houses.";
    add_value(step, QuestionKind::Amps, "Grounding electrode conductor, amperes", why,
              &Reading::electrode_amps, kUsualAmps, all);
    add_value(step, QuestionKind::Amps, "Water pipe bond, amperes", why, &Reading::water_pipe_amps,
              kUsualAmps, all);
  }

  const House& house_;
  const SupplySystem& system_;
  std::string place_;
  std::string round_;
  bool panel_ = false;
  bool first_ = false;
  std::vector<int> legs_;
};

}  // namespace

void add_place_questions(const House& house, const Wiring& wiring, const std::string& place,
                         const std::string& round, std::vector<Question>& all) {
  PlaceQuestions(house, wiring, place, round).add(all);
}

}  // namespace evenleg

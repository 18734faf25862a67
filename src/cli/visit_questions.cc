#include "src/cli/visit_questions.h"

#include <fmt/format.h>

#include <algorithm>

#include "evenleg/base/quoted.h"

namespace evenleg {
namespace {

constexpr double kUsualAmps = 60;  // more than test loads draw

// ---- Intake: what narrows it, from guides to flicker calls (common practice) ----

struct Intake {
  const char* key;
  const char* prompt;
  const char* why;
};

constexpr Intake kIntake[] = {
    {"complaint", "The complaint, in the occupant's own words",
     "Words are kept as they are: what people saw, before anyone explains it to them."},
    {"extent", "One lamp, one outlet or room, one circuit, half the house, or the whole house",
     "How far it reaches tells a lamp from a branch, a branch from a leg, a leg from the service."},
    {"light", "Do lights dim, brighten, or do some dim while others brighten",
     "Brightening is what no sound service does: it goes with a neutral."},
    {"when", "When: time of day, how often, since when",
     "Set hours speak of the supply, each start of a machine of a motor."},
    {"follows", "Which appliance or motor does it follow, if any",
     "What starts when the lights move is the load to test with."},
    {"lasting", "Momentary (about a second or less), or lasting",
     "A start is over in a second; a supply stays low as long as the load runs."},
    {"neighbours", "Do neighbours see it at the same moment (yes, no, not asked)",
     "What several houses see is upstream of this one."},
    {"signs",
     "Tingles or shocks, a burnt smell, buzzing or crackling, warm outlets, failed equipment",
     "Any of these calls for action now: see the cautions of the report."},
    {"recent_work", "Recent work: utility, meter, panel, plumbing, a device taken out or replaced",
     "A neutral is most often opened where something was last touched."},
};

void add_intake(std::vector<Question>& all) {
  for (const Intake& one : kIntake) {
    Question question;
    question.part = "What people see";
    question.prompt = one.prompt;
    question.why = one.why;
    question.key = one.key;
    all.push_back(std::move(question));
  }
}

// ---- The instrument, once; each reading then carries it ----

Question of_instrument(QuestionKind kind, const char* key, const char* prompt, const char* why) {
  Question question;
  question.kind = kind;
  question.part = "The instrument";
  question.prompt = prompt;
  question.why = why;
  question.key = key;
  return question;
}

void add_instrument(std::vector<Question>& all) {
  all.push_back(of_instrument(QuestionKind::Text, "instrument", "Which meter and which clamp",
                              "Make and model; the report names them beside each reading."));
  Question input = of_instrument(
      QuestionKind::Choice, "meter_input", "Its input: high impedance or low impedance",
      "Across an open neutral with nothing on, a meter of high impedance can show normal volts; a "
      "low-impedance mode or a solenoid tester does not.");
  input.choices = {"high impedance", "low impedance"};
  all.push_back(std::move(input));
  all.push_back(of_instrument(QuestionKind::Percent, "accuracy_percent",
                              "Its accuracy on AC volts, percent of reading",
                              "From the data sheet, as in ±(0.7 % + 2 digits): here 0.7."));
  all.push_back(of_instrument(QuestionKind::Percent, "accuracy_volts",
                              "and the volts added to that",
                              "As in ±(0.7 % + 2 digits) on a display of tenths: here 0.2."));
  all.push_back(of_instrument(QuestionKind::Percent, "amps_accuracy_percent",
                              "The clamp's accuracy on AC amperes, percent of reading",
                              "It widens what can be said of every resistance."));
}

// ---- Readings ----

struct Step {
  std::string name;
  std::string other_leg;  // whose electronics must be off; "" where none need be
  bool loaded = false;
  bool main_off = false;
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
    std::vector<Step> steps{{"nothing on", "", false, false}};
    for (const int one : legs_) {
      // At an outlet of one leg the other legs of the house may rise as well.
      const std::string other = legs_.size() > 1 ? others(one) : "the other legs";
      steps.push_back({fmt::format("known load on {}", leg(one)), other, true, false});
    }
    if (panel_ && legs_.size() > 1) {
      steps.push_back({"known loads on all legs", "", true, false});
    }
    if (first_) steps.push_back({"main off", "", false, true});
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
    if (!step.other_leg.empty()) {
      all.push_back(of(step, QuestionKind::Confirm,
                       fmt::format("Are electronics on {} switched off or unplugged? yes, or Enter "
                                   "to leave this step out",
                                   step.other_leg),
                       "If the neutral is loose the other leg rises as the load comes on, and may "
                       "harm what is on it. The load stays on no longer than the reading takes."));
    }
    if (step.loaded) {
      all.push_back(of(step, QuestionKind::Loads, "Which loads are on (names, or numbers from ?)",
                       "The loads of the house that run for this reading. A heater of your own is "
                       "not among them: leave it out and clamp the legs."));
    }
    add_volts(step, all);
    add_amps(step, all);
    if (first_ && step.loaded && step.other_leg.empty()) add_beside(step, all);
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

std::vector<std::string> further_places(const House& house) {
  std::vector<std::string> places;
  const auto field = house.visit.find("places_read");
  if (field == house.visit.end()) return places;
  std::string rest = field->second;
  while (!rest.empty()) {
    const std::size_t end = rest.find("; ");
    places.push_back(rest.substr(0, end));
    rest = end == std::string::npos ? "" : rest.substr(end + 2);
  }
  return places;
}

bool is_there(const House& house, const std::string& place) {
  const auto named = [&](const auto& one) { return one.name == place; };
  return std::any_of(house.panels.begin(), house.panels.end(), named) ||
         std::any_of(house.outlets.begin(), house.outlets.end(), named);
}

}  // namespace

std::vector<Question> visit_questions(const House& house, const Wiring& wiring,
                                      const std::string& round) {
  std::vector<Question> all;
  add_intake(all);
  add_instrument(all);
  if (!house.panels.empty()) {
    PlaceQuestions(house, wiring, house.panels.front().name, round).add(all);
  }
  for (const std::string& place : further_places(house)) {
    if (is_there(house, place)) PlaceQuestions(house, wiring, place, round).add(all);
  }
  Question more;
  more.kind = QuestionKind::Place;
  more.part = "Further places";
  more.prompt = "Another panel or outlet to read, or Enter for none";
  more.why =
      "Where the same load is read at the panel, at the first outlet and at the one in trouble, "
      "the "
      "section between two of them that drops the volts is the one to look at.";
  more.key = "places_read";
  all.push_back(std::move(more));
  return all;
}

int reading_of_step(const House& house, const Question& question) {
  for (std::size_t r = house.readings.size(); r-- > 0;) {
    const Reading& reading = house.readings[r];
    if (reading.at == question.place && reading.label == question.step) return static_cast<int>(r);
  }
  return -1;
}

bool is_answered(const House& house, const Question& question) {
  if (question.kind == QuestionKind::Confirm || question.kind == QuestionKind::Place) return false;
  if (!question.of_reading()) return house.visit.contains(question.key);
  const int r = reading_of_step(house, question);
  if (r < 0) return false;
  const Reading& reading = house.readings[static_cast<std::size_t>(r)];
  if (question.kind == QuestionKind::Loads) return !reading.on.empty();
  return (reading.*question.member).has_value();
}

std::size_t where_to_go_on(const House& house, const std::vector<Question>& questions) {
  std::size_t next = 0;
  for (std::size_t q = questions.size(); q-- > 0 && next == 0;) {
    if (is_answered(house, questions[q])) next = q + 1;
  }
  const auto same_step = [&](std::size_t a, std::size_t b) {
    return questions[a].of_reading() && questions[a].step == questions[b].step &&
           questions[a].place == questions[b].place;
  };
  while (next > 0 && next < questions.size() && same_step(next, next - 1)) --next;
  return next;
}

const std::vector<std::string>& visit_cautions() {
  static const std::vector<std::string> kCautions{
      "Only qualified persons open a panel or read energised conductors, with the protective "
      "equipment that it asks for. The line side of the main and the meter stay live with the main "
      "off.",
      "Before a heavy load goes on one leg, electronics on the other legs are switched off or "
      "unplugged: a loose neutral makes them rise. The load stays on no longer than the reading "
      "takes.",
      "Never lift a neutral or a grounding electrode conductor on a live service, and never part a "
      "bond to a water pipe.",
      "Smoke, heat, buzzing or a burnt smell: stop, keep away, and call the utility."};
  return kCautions;
}

}  // namespace evenleg

#include "src/cli/visit_questions.h"

#include <algorithm>

#include "src/cli/visit_steps.h"

namespace evenleg {
namespace {

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
     "Brightening that people see goes with a neutral, whichever one it is."},
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

// The places of "places_read" that the house has. Names are told by the house's own, since one may
// hold the "; " that stands between them.
std::vector<std::string> further_places(const House& house) {
  std::vector<std::string> known;
  for (const Panel& panel : house.panels) known.push_back(panel.name);
  for (const Outlet& outlet : house.outlets) known.push_back(outlet.name);
  const auto field = house.visit.find("places_read");
  std::string rest = field == house.visit.end() ? "" : field->second + "; ";
  std::vector<std::string> places;
  while (!rest.empty()) {
    std::size_t length = rest.find("; ");
    const std::string* place = nullptr;
    for (const std::string& one : known) {
      if (!rest.starts_with(one + "; ") || (place != nullptr && one.size() < length)) continue;
      place = &one;
      length = one.size();
    }
    if (place != nullptr) places.push_back(*place);
    rest.erase(0, length + 2);
  }
  return places;
}

}  // namespace

std::vector<Question> visit_questions(const House& house, const Wiring& wiring,
                                      const std::string& round) {
  std::vector<Question> all;
  add_intake(all);
  add_instrument(all);
  if (!house.panels.empty()) {
    add_place_questions(house, wiring, house.panels.front().name, round, all);
  }
  for (const std::string& place : further_places(house)) {
    add_place_questions(house, wiring, place, round, all);
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

bool is_read_already(const House& house, const std::string& place) {
  const std::vector<std::string> further = further_places(house);
  return (!house.panels.empty() && house.panels.front().name == place) ||
         std::count(further.begin(), further.end(), place) > 0;
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

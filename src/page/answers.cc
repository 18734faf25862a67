#include "src/page/answers.h"

#include <algorithm>
#include <exception>
#include <nlohmann/json.hpp>

#include "evenleg/balance/balance.h"
#include "evenleg/diagnose/diagnose.h"
#include "evenleg/edit/pasted_schedule.h"
#include "evenleg/report/audit_json.h"
#include "evenleg/report/balance_json.h"
#include "evenleg/report/diagnose_json.h"
#include "src/page/entry_json.h"
#include "src/page/house_answer.h"
#include "src/page/moves.h"
#include "src/page/place_names.h"
#include "src/page/reasons.h"
#include "src/page/requests.h"
#include "src/page/state_answer.h"

namespace evenleg {
namespace {

using Json = nlohmann::ordered_json;

enum Status { kRefused = 422, kNotThere = 404, kNotReadable = 503, kFailed = 500 };

Reply json_reply(const Json& answer) {
  constexpr auto kReplaced = Json::error_handler_t::replace;
  return {200, "application/json", answer.dump(-1, ' ', false, kReplaced), ""};
}

Json house_now(const Answering& with) {
  return house_answer(with.house.now(), with.house, with.program);
}

Json changed(const Answering& with, const nlohmann::json& request,
             const std::function<void(House&)>& change, std::optional<int> of = std::nullopt) {
  std::string label = label_in(request);
  if (label.empty()) label = "a change";
  with.house.change(label, change, of);
  return house_now(with);
}

Json edit(const Asked& asked, const Answering& with) {
  const nlohmann::json request = parsed(asked.body);
  const std::vector<Edit> edits = edits_in(request);
  const auto change = [&](House& house) {
    for (const Edit& one : edits) apply(one, house);
  };
  return changed(with, request, change, revision_in(request));
}

Json moves(const Asked& asked, const Answering& with) {
  const nlohmann::json request = parsed(asked.body);
  const std::vector<Drop> drops = drops_in(request);
  return changed(with, request,
                 [&](House& house) { house = with_drops(house, drops, with.house.words()); });
}

Json undo(const Asked& asked, const Answering& with) {
  if (flag_in(parsed(asked.body), "all")) {
    with.house.undo_all();
  } else {
    with.house.undo();
  }
  return house_now(with);
}

Json redo(const Asked&, const Answering& with) {
  with.house.redo();
  return house_now(with);
}

Json state(const Asked& asked, const Answering& with) {
  return state_answer(with.house.now(), with.house, asked.body);
}

Json behaviour_of(const Asked& asked, const Answering& with) {
  return behaviour_answer(with.house.now(), with.house, asked.body);
}

Json try_moves(const Asked& asked, const Answering& with) {
  return try_answer(with.house.now(), with.house, asked.body);
}

Json audit_now(const Asked&, const Answering& with) {
  AuditProgress progress = with.audit.now();
  const int revision = with.house.now().revision;
  if (progress.revision != revision) {  // it is of an earlier house, and nothing of it holds
    progress = {};
    progress.revision = revision;
  }
  Json audit = nullptr;
  Json reasons = Json::array();
  Json places = Json::array();
  if (progress.audit) {
    const Tables& tables = with.house.tables();
    const House& house = *progress.house;
    audit = Json::parse(audit_json(house, tables, *progress.audit));
    std::vector<Place> all;
    for (const OpenNeutral& open : progress.audit->open_neutral) all.push_back(open.place);
    for (const Place& place : all) places.push_back(name_to_ask(place, all));
    const std::vector<std::string> sentences = ranking_reasons(house, tables, *progress.audit);
    for (std::size_t i = 0; i < sentences.size(); ++i) {
      const int load = progress.audit->ranking[i].load;
      reasons.push_back(
          {{"load", house.loads[static_cast<std::size_t>(load)].name}, {"reason", sentences[i]}});
    }
  }
  return {{"format", kFormat},         {"revision", progress.revision},
          {"state", progress.state},   {"doing", progress.doing},
          {"done", progress.done},     {"all", progress.all},
          {"proven", progress.proven}, {"audit", audit},
          {"places", places},          {"reasons", reasons}};
}

bool is_set(const Asked& asked, const std::string& key) {
  const auto found = asked.parameters.find(key);
  return found != asked.parameters.end() && found->second == "1";
}

Json balance_now(const Asked& asked, const Answering& with) {
  const Moment moment = with.house.now();
  require_finished(moment);
  BalanceOptions options;
  options.keep_spares = is_set(asked, "keep_spares");
  const Balance result = balance(*moment.house, with.house.tables(), options);
  BalanceReport report{*moment.house, with.house.tables(), result};
  report.keep_spares = options.keep_spares;
  report.limits =
      leg_limits(*moment.house, moment.watcher->wiring(), with.house.tables(), LimitOptions{});
  report.with_plan.resize(result.plans.size());
  return {{"format", kFormat},
          {"revision", moment.revision},
          {"balance", Json::parse(balance_json(report))}};
}

Json apply_plan(const Asked& asked, const Answering& with) {
  const nlohmann::json request = parsed(asked.body);
  const Moment moment = with.house.now();
  require_finished(moment);
  BalanceOptions options;
  options.keep_spares = flag_in(request, "keep_spares");
  const Balance result = balance(*moment.house, with.house.tables(), options);
  const int plans = static_cast<int>(result.plans.size());
  const auto given = request.find("plan");
  const bool number = given != request.end() && given->is_number_integer();
  const int plan = number ? given->get<int>() : 0;
  if (plan < 1 || plan > plans) {
    throw Error(ErrorKind::Request, {"plan", "there is no such plan", "look at the plans again"});
  }
  return changed(with, request, [&](House& house) {
    if (house != *moment.house) {
      throw Error(ErrorKind::Request,
                  {"plan", "the house was changed while the plan was worked out",
                   "look at the plans again"});
    }
    house = with_plan(house, result.plans[static_cast<std::size_t>(plan - 1)]);
  });
}

Json diagnose_now(const Asked&, const Answering& with) {
  const Moment moment = with.house.now();
  require_finished(moment);
  const Diagnosis diagnosis = diagnose(*moment.house, with.house.tables(), nullptr);
  // What an opened neutral would do, as `evenleg diagnose` has it but for the proofs: with the
  // excess that was measured for a bad service neutral.
  std::optional<Audit> beside;
  const auto excess = measured_neutral_excess(*moment.house, diagnosis);
  if (excess || !diagnosis.patterns.empty()) {
    AuditOptions options;
    options.certify = false;
    options.degraded_neutral_ohms = excess;
    beside = audit(*moment.house, with.house.tables(), options);
  }
  const DiagnosisView view{*moment.house, with.house.tables(), diagnosis,
                           beside ? &*beside : nullptr};
  return {{"format", kFormat},
          {"revision", moment.revision},
          {"diagnose", diagnose_json(view)},
          {"text", diagnose_text(view)}};
}

Json schedule(const Asked& asked, const Answering& with) {
  const nlohmann::json request = parsed(asked.body);
  const Moment moment = with.house.now();
  const auto text_of = [&](const char* key) {
    const auto found = request.find(key);
    return found != request.end() && found->is_string() ? found->get<std::string>() : std::string();
  };
  const std::string panel = text_of("panel");
  std::vector<ScheduleRow> rows = pasted_schedule(text_of("text"), with.house.words());
  fit_into(*moment.house, panel, rows);
  Json list = Json::array();
  for (const ScheduleRow& row : rows) {
    const auto or_null = [](const auto& value) { return value ? Json(*value) : Json(nullptr); };
    list.push_back({{"line", row.line},
                    {"space", or_null(row.space)},
                    {"name", row.name},
                    {"breaker_a", or_null(row.breaker_a)},
                    {"poles", row.poles},
                    {"conductor", or_null(row.conductor)},
                    {"length_ft", or_null(row.length_ft)},
                    {"fault", row.fault.empty() ? Json(nullptr) : Json(row.fault)}});
  }
  Json edits = Json::array();
  for (const Edit& one : edits_of(rows, panel)) edits.push_back(edit_json(one));
  return {{"format", kFormat}, {"rows", list}, {"edits", edits}};
}

Reply record(const Asked& asked, const Answering& with) {
  RecordFile file = with.records.made(asked.parameters);
  return {200, std::move(file.type), std::move(file.bytes), is_set(asked, "save") ? file.name : ""};
}

using Answer = Json (*)(const Asked&, const Answering&);

const std::map<std::string, Answer>& gets() {
  static const std::map<std::string, Answer> kGets{
      {"house", [](const Asked&, const Answering& with) { return house_now(with); }},
      {"words", [](const Asked&, const Answering& with) { return words_answer(with.house); }},
      {"audit", audit_now},
      {"balance", balance_now},
      {"diagnose", diagnose_now}};
  return kGets;
}

const std::map<std::string, Answer>& posts() {
  static const std::map<std::string, Answer> kPosts{{"edit", edit},
                                                    {"moves", moves},
                                                    {"undo", undo},
                                                    {"redo", redo},
                                                    {"state", state},
                                                    {"try", try_moves},
                                                    {"behaviour", behaviour_of},
                                                    {"plan", apply_plan},
                                                    {"schedule", schedule}};
  return kPosts;
}

}  // namespace

Reply refusal(int status, const std::vector<Fault>& faults) {
  Json list = Json::array();
  for (const Fault& fault : faults) {
    const bool option = fault.where.starts_with("--");  // as the command line names a key
    list.push_back({{"where", option ? fault.where.substr(2) : fault.where},
                    {"what", fault.what},
                    {"remedy", fault.remedy}});
  }
  Reply reply = json_reply({{"error", list}});
  reply.status = status;
  return reply;
}

Reply answer(const Asked& asked, const Answering& with) {
  try {
    if (asked.name == "record" && !asked.post) return record(asked, with);
    const auto& known = asked.post ? posts() : gets();
    const auto found = known.find(asked.name);
    if (found != known.end()) return json_reply(found->second(asked, with));
    return refusal(kNotThere,
                   {{"request", "there is no such thing to ask for", "reload the page"}});
  } catch (const Error& error) {
    return refusal(error.kind() == ErrorKind::File ? kNotReadable : kRefused, error.faults());
  } catch (const std::exception& error) {
    return refusal(kFailed, {{"evenleg", error.what(), "reload the page to see what was saved"}});
  }
}

}  // namespace evenleg

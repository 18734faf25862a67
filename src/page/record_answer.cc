#include "src/page/record_answer.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "evenleg/base/error.h"
#include "evenleg/base/format.h"
#include "src/page/state_answer.h"

namespace evenleg {
namespace {

using Parameters = std::map<std::string, std::string>;

std::string value_of(const Parameters& asked, const std::string& key, std::string otherwise = "") {
  const auto found = asked.find(key);
  return found == asked.end() || found->second.empty() ? std::move(otherwise) : found->second;
}

std::optional<int> plan_in(const Parameters& asked) {
  const std::string text = value_of(asked, "plan");
  if (text.empty()) return std::nullopt;
  int plan = 0;
  const char* end = text.data() + text.size();
  if (std::from_chars(text.data(), end, plan).ptr != end) {
    throw Error(ErrorKind::Request, {"plan", "is no number", "name a plan by its number"});
  }
  return plan;
}

// "2026-03-15", or "" for today.
void require_date(const std::string& date) {
  if (date.empty() || is_day(date)) return;
  throw Error(ErrorKind::Request, {"date", fmt::format("\"{}\" is no date", shortened(date, 20)),
                                   "write it as 2026-03-15"});
}

struct Form {
  std::string_view name;
  std::string_view type;
};
constexpr Form kForms[] = {
    {"html", "text/html; charset=utf-8"},
    {"pdf", "application/pdf"},
    {"md", "text/markdown; charset=utf-8"},
    {"csv", "text/csv; charset=utf-8"},
    {"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"},
    {"json", "application/json"},
    {"txt", "text/plain; charset=utf-8"}};

const Form& form_named(const std::string& name) {
  const auto* found = std::find_if(std::begin(kForms), std::end(kForms),
                                   [&](const Form& form) { return form.name == name; });
  if (found != std::end(kForms)) return *found;
  throw Error(ErrorKind::Request,
              {"form", fmt::format("no form of a record is called \"{}\"", shortened(name, 20)),
               "choose html, pdf, md, csv, xlsx, json or txt"});
}

// Letters, digits, "-", "_" and "." of a file's name; the others would need quoting somewhere.
std::string plain(const std::string& name) {
  std::string text;
  for (const char c : name) {
    const bool kept = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '_' || c == '.';
    text += kept ? c : '-';
  }
  return text;
}

}  // namespace

std::shared_ptr<const Job> RecordAnswers::job_of(const Moment& moment, bool certify,
                                                 std::optional<int> plan) {
  if (revision_ != moment.revision) {
    jobs_.clear();
    revision_ = moment.revision;
  }
  std::shared_ptr<const Job>& job = jobs_[{certify, plan.value_or(0)}];
  if (!job) {
    JobOptions options;
    options.certify = certify;
    options.plan = plan;
    job = std::make_shared<const Job>(work_out(*moment.house, house_.tables(), options));
  }
  return job;
}

RecordFile RecordAnswers::made(const Parameters& asked) {
  const Moment moment = house_.now();
  require_finished(moment);
  const Form& form = form_named(value_of(asked, "form", "html"));
  const std::string date = value_of(asked, "date");
  require_date(date);
  RecordOptions options;
  const std::string reader = value_of(asked, "for", "electrician");
  const auto known = reader_named(reader);
  if (!known) {
    throw Error(ErrorKind::Request,
                {"for", fmt::format("no reader is called \"{}\"", shortened(reader, 20)),
                 "choose electrician, inspector, contractor, client or event"});
  }
  options.reader = *known;
  options.all_sheets = form.name == "csv" || form.name == "xlsx";
  if (const std::string place = value_of(asked, "place"); !place.empty()) options.place = place;
  options.provenance = options_.provenance(*moment.house, date);
  const std::scoped_lock lock(lock_);
  const auto job = job_of(moment, value_of(asked, "proof") == "1", plan_in(asked));
  const Record record = make_record(*job, options);
  const std::string stem = plain(house_.file().stem().string());
  RecordFile file{std::string(form.type), fmt::format("{}-{}.{}", stem, reader, form.name), ""};
  if (form.name == "html") file.bytes = record_html(record);
  if (form.name == "pdf") {
    // Letter where the trade's legs are of 120 V, else A4: as `evenleg report` has it.
    const bool letter = moment.house->supply.system.starts_with("120/");
    file.bytes = options_.make_pdf(record_html(record, letter ? "letter" : "a4"));
  }
  if (form.name == "md") file.bytes = record_markdown(record);
  if (form.name == "csv") file.bytes = record_csv(record);
  if (form.name == "xlsx") file.bytes = record_xlsx(record);
  if (form.name == "json") file.bytes = record_json(record);
  if (form.name == "txt") file.bytes = record_text(record);
  return file;
}

}  // namespace evenleg

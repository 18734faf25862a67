#include "tests/record/sample_job.h"

#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>

#include "evenleg/base/files.h"
#include "evenleg/describe/describe.h"

namespace evenleg {

const Job& sample_job(const std::string& name) {
  static std::map<std::string, std::unique_ptr<Job>> jobs;
  std::unique_ptr<Job>& job = jobs[name];
  if (job != nullptr) return *job;
  const char* source = std::getenv("EVENLEG_SOURCE_DIR");
  std::filesystem::path folder = source == nullptr ? "." : source;
  folder /= name == "hostile-names" ? "tests/record" : "data";
  const Tables tables = load_tables();
  const House house =
      read_description(read_file(folder / (name + ".toml")), name, vocabulary(tables));
  JobOptions options;
  options.certify = false;
  job = std::make_unique<Job>(work_out(house, tables, options));
  return *job;
}

Record sample_record(const std::string& name, Reader reader,
                     const std::vector<std::string>& sections) {
  RecordOptions options;
  options.reader = reader;
  options.sections = sections;
  options.all_sheets = true;
  options.provenance = {"evenleg test", "2026-03-15", name + ".toml", 7U, "0123abcd"};
  return make_record(sample_job(name), options);
}

}  // namespace evenleg

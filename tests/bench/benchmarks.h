// The benchmarks by part: each adds its own before the run and tells of it afterwards, as text of
// at most 100 columns. `tables` must outlive the run.
#pragma once

#include <string>

#include "evenleg/tables/tables.h"
#include "tests/bench/results.h"

namespace evenleg {

// Whole audits, with and without proof: Fernhill Cottage, and generated houses as they grow.
void add_audits(const Tables& tables);
[[nodiscard]] std::string about_audits(const Results& results);

// One state of the loads with each neutral open in turn, by both engines and by ngspice.
void add_operating_points(const Tables& tables);
[[nodiscard]] std::string about_operating_points(const Results& results);

// Worst cases by search and certificate, against trying every joint state.
void add_certificates(const Tables& tables);
[[nodiscard]] std::string about_certificates(const Results& results);

// The fewest moves that even the legs, against an external solver.
void add_plans(const Tables& tables);
[[nodiscard]] std::string about_plans(const Results& results);

// A recorder's log of ten million rows, against wc and the sqlite3 shell.
void add_logs();
[[nodiscard]] std::string about_logs(const Results& results);

}  // namespace evenleg

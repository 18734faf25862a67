// The jobs that the tests of the record share, each worked out once.
#pragma once

#include <string>

#include "evenleg/record/record.h"

namespace evenleg {

// "fernhill-cottage", "coopers-quay-apartment", "amselgrund" of data/; "hostile-names" of
// tests/record/. Without proof, for speed.
[[nodiscard]] const Job& sample_job(const std::string& name);

// For that reader, made on 2026-03-15.
[[nodiscard]] Record sample_record(const std::string& name, Reader reader,
                                   const std::vector<std::string>& sections = {});

inline constexpr const char* kSampleHouses[] = {"fernhill-cottage", "coopers-quay-apartment",
                                                "amselgrund", "hostile-names"};
inline constexpr Reader kReaders[] = {Reader::Electrician, Reader::Inspector, Reader::Contractor,
                                      Reader::Client, Reader::Event};

}  // namespace evenleg

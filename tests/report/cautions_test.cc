#include "evenleg/report/cautions.h"

#include <doctest/doctest.h>

#include "evenleg/report/audit_text.h"
#include "tests/report/sample_audit.h"

namespace evenleg {

TEST_CASE("cautions: the standing one defers to those who decide") {
  const std::string text(standing_caution());
  for (const char* words :
       {"local code", "authority having jurisdiction", "utility", "licensed electrician"}) {
    CAPTURE(words);
    CHECK(text.find(words) != std::string::npos);
  }
}

TEST_CASE("cautions: nothing is called safe, nobody is told to open a panel") {
  const SampleAudit sample = sample_audit();
  const std::string text = audit_text(sample.house, sample.tables, sample.audit);
  for (const char* words : {"safe", "Safe", "caused by", "open the panel", "remove the cover"}) {
    CAPTURE(words);
    CHECK(text.find(words) == std::string::npos);
  }
}

TEST_CASE("cautions: every group has a title and whole sentences") {
  CHECK(caution_groups().size() == 2);
  for (const CautionGroup& group : caution_groups()) {
    CHECK_FALSE(group.title.empty());
    CHECK_FALSE(group.sentences.empty());
    for (const std::string& sentence : group.sentences) {
      CAPTURE(sentence);
      CHECK(sentence.back() == '.');
    }
  }
}

}  // namespace evenleg

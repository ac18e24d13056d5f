#include "formats/summary_json.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

SummaryRow debriefed_row() {
  SummaryRow row;
  row.key = "k1";
  row.file = "a \"b\".gpx";
  row.sha256 = std::string(64, 'a');
  row.grade = "good";
  row.standard = "s";
  row.attempts = {{"2026-05-14T20:02:55Z", "power-off", "landed", SummaryAttempt::Place{120.0, -40.0, 280.0},
                   "cannot_tell"},
                  {"2026-05-14T20:12:55Z", "unknown", "go-around", std::nullopt, ""}};
  return row;
}

SummaryRow refused_row() {
  SummaryRow row;
  row.key = "k2";
  row.file = "b.gpx";
  row.not_debriefed_because = "b.gpx:3: broken";
  return row;
}

TEST(Journal, ARowReadsBackAsItWas) {
  const auto rows = read_journal(journal_line(debriefed_row()) + journal_line(refused_row()));
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].key, "k1");
  EXPECT_EQ(rows[0].attempts[0].touchdown->low95_ft, -40.0);
  EXPECT_FALSE(rows[0].attempts[1].touchdown);
  EXPECT_EQ(summary_to_json({rows, 2}), summary_to_json({{debriefed_row(), refused_row()}, 2}));
}

TEST(Journal, ALineThatWasCutOffIsPassedOver) {
  const auto whole = journal_line(debriefed_row());
  const auto rows =
      read_journal(whole.substr(0, whole.size() / 2) + "\n" + journal_line(refused_row()) + "{}\nnonsense");
  ASSERT_EQ(rows.size(), 1U);
  EXPECT_EQ(rows[0].key, "k2");
}

TEST(Summary, CountsAndSaysWhetherItIsComplete) {
  const Summary stopped{{debriefed_row(), refused_row()}, 5};
  const auto totals = totals_of(stopped);
  EXPECT_EQ(totals.debriefed, 1U);
  EXPECT_EQ(totals.attempts, 2U);
  EXPECT_EQ(totals.touchdowns, 1U);
  EXPECT_EQ(totals.cannot_tell, 1U);
  const auto object = summary_to_json(stopped);
  EXPECT_EQ(object.at("complete"), false);
  EXPECT_EQ(object.at("not_debriefed")[0].at("because"), "b.gpx:3: broken");
}

}  // namespace
}  // namespace glidewright

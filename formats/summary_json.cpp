#include "formats/summary_json.hpp"

#include <cmath>

#include "formats/json_reader.hpp"
#include "formats/text_lines.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

constexpr JsonRange k_any_feet{-1e6, 1e6};

double moment_of(const Attempt& attempt, const std::optional<Touchdown>& touchdown) {
  if (touchdown) return touchdown->time_unix_s;
  return attempt.zero_unix_s();
}

Json attempt_to_json(const SummaryAttempt& attempt) {
  Json object = {{"time", attempt.time}, {"kind", attempt.kind}, {"outcome", attempt.outcome}};
  object["touchdown"] = nullptr;
  if (attempt.touchdown) {
    object["touchdown"] = {{"along_ft", number(attempt.touchdown->along_ft, 0)},
                           {"low95_ft", number(attempt.touchdown->low95_ft, 0)},
                           {"high95_ft", number(attempt.touchdown->high95_ft, 0)}};
  }
  object["verdict"] = attempt.verdict.empty() ? Json(nullptr) : Json(attempt.verdict);
  return object;
}

Json row_to_json(const SummaryRow& row) {
  Json object = {{"file", row.file}, {"sha256", row.sha256}, {"grade", row.grade}};
  object["standard"] = row.standard.empty() ? Json(nullptr) : Json(row.standard);
  object["attempts"] = Json::array();
  for (const auto& attempt : row.attempts) object["attempts"].push_back(attempt_to_json(attempt));
  return object;
}

SummaryAttempt read_attempt(JsonFields fields) {
  SummaryAttempt attempt;
  attempt.time = fields.text("time");
  attempt.kind = fields.text("kind");
  attempt.outcome = fields.text("outcome");
  fields.replace_text("verdict", attempt.verdict);
  if (auto place = fields.optional_object("touchdown")) {
    attempt.touchdown =
        SummaryAttempt::Place{place->number("along_ft", k_any_feet), place->number("low95_ft", k_any_feet),
                              place->number("high95_ft", k_any_feet)};
  }
  return attempt;
}

SummaryRow read_row(JsonFields& fields) {
  SummaryRow row;
  row.key = fields.text("key");
  row.file = fields.text("file");
  fields.replace_text("not_debriefed_because", row.not_debriefed_because);
  if (!row.not_debriefed_because.empty()) return row;
  row.sha256 = fields.text("sha256");
  row.grade = fields.text("grade");
  fields.replace_text("standard", row.standard);
  for (const auto& attempt : fields.objects("attempts")) row.attempts.push_back(read_attempt(attempt));
  return row;
}

/// Journal fields that have nothing are left out, so that they read back as empty.
Json without_nulls(Json object) {
  for (auto at = object.begin(); at != object.end();)
    at = at.value().is_null() ? object.erase(at) : std::next(at);
  return object;
}

}  // namespace

SummaryTotals totals_of(const Summary& summary) {
  SummaryTotals totals;
  for (const auto& row : summary.rows) {
    if (!row.not_debriefed_because.empty()) continue;
    ++totals.debriefed;
    for (const auto& attempt : row.attempts) {
      ++totals.attempts;
      totals.touchdowns += attempt.touchdown ? 1 : 0;
      totals.meets += attempt.verdict == "meets" ? 1 : 0;
      totals.does_not_meet += attempt.verdict == "does_not_meet" ? 1 : 0;
      totals.cannot_tell += attempt.verdict == "cannot_tell" ? 1 : 0;
    }
  }
  return totals;
}

SummaryRow summary_row(const DebriefedLog& debriefed) {
  SummaryRow row;
  row.file = debriefed.file;
  row.sha256 = debriefed.debrief.log.sha256;
  row.grade = debriefed.debrief.quality.grade;
  for (const auto& one : debriefed.debrief.attempts) {
    SummaryAttempt attempt;
    attempt.time = iso8601_utc(moment_of(one.attempt, one.touchdown), 0);
    attempt.kind = kind_name(one.attempt.kind);
    attempt.outcome = outcome_name(one.attempt.outcome);
    if (one.touchdown)
      attempt.touchdown = {one.touchdown->along_ft, one.touchdown->low95_ft, one.touchdown->high95_ft};
    if (!one.grades.empty()) {
      attempt.verdict = verdict_name(one.grades.front().verdict);
      row.standard = one.grades.front().standard.id;
    }
    row.attempts.push_back(std::move(attempt));
  }
  return row;
}

Json summary_to_json(const Summary& summary) {
  const auto totals = totals_of(summary);
  Json object;
  object["schema"] = "glidewright.summary/1";
  object["complete"] = summary.rows.size() == summary.files;
  object["files"] = summary.files;
  object["totals"] = {{"debriefed", totals.debriefed},         {"attempts", totals.attempts},
                      {"touchdowns", totals.touchdowns},       {"meets", totals.meets},
                      {"does_not_meet", totals.does_not_meet}, {"cannot_tell", totals.cannot_tell}};
  object["logs"] = Json::array();
  object["not_debriefed"] = Json::array();
  for (const auto& row : summary.rows) {
    if (row.not_debriefed_because.empty()) {
      object["logs"].push_back(row_to_json(row));
    } else {
      object["not_debriefed"].push_back({{"file", row.file}, {"because", row.not_debriefed_because}});
    }
  }
  return object;
}

std::string journal_line(const SummaryRow& row) {
  Json object = {{"key", row.key}};
  if (row.not_debriefed_because.empty()) {
    object.update(without_nulls(row_to_json(row)));
    for (auto& attempt : object["attempts"]) attempt = without_nulls(attempt);
  } else {
    object["file"] = row.file;
    object["not_debriefed_because"] = row.not_debriefed_because;
  }
  return object.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::vector<SummaryRow> read_journal(std::string_view bytes) {
  std::vector<SummaryRow> rows;
  TextLines lines(bytes);
  for (auto line = lines.next(); line; line = lines.next()) {
    auto row = read_json_object(line->text, "journal", read_row);
    if (row) rows.push_back(*std::move(row));
  }
  return rows;
}

}  // namespace glidewright

#pragma once
// Records of a test: in a file, or on a server of its own.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <memory>
#include <stdexcept>

#include "store/records.hpp"
#include "store/sql.hpp"
#include "tests/store/private_server.hpp"

namespace glidewright {

inline const Stamp k_stamp{"A. Instructor", 1.8e9};

inline NewFlight flight(const std::string& bytes, double start_unix_s = 1.7e9, int attempts = 2) {
  NewFlight one{"lesson.gpx", bytes, {}};
  for (int i = 1; i <= attempts; ++i) {
    NewAttempt attempt;
    attempt.index = i;
    attempt.time_unix_s = start_unix_s + 600.0 * i;
    attempt.assessment.standard_id = "demo";
    attempt.assessment.rated.probability_met = 0.25 * i;
    attempt.assessment.circumstances.runway = "27";
    attempt.assessment.circumstances.touchdown_point_ft = 1000.0;
    attempt.assessment.circumstances.along_ft = 100.0 * i;
    one.attempts.push_back(attempt);
  }
  return one;
}

/// The value, or a failed test.
template <class Value>
Value must(Result<Value> result) {
  if (!result) throw std::runtime_error(result.error().sentence);
  return std::move(*result);
}
inline void must(const std::optional<Error>& failed) {
  if (failed) throw std::runtime_error(failed->sentence);
}
template <class Value>
std::string refusal(const Result<Value>& result) {
  return result ? std::string() : result.error().sentence;
}

class RecordsFixture {
 public:
  explicit RecordsFixture(bool on_a_server = false) {
    if (on_a_server) server = std::make_unique<PrivateServer>();
    where = on_a_server ? server->url() : folder.path() + "/the records.db";
  }
  Records open() const { return must(Records::open(where)); }
  static long long add(Records& records, const std::string& name) {
    return must(records.add_student(name, k_stamp)).number;
  }
  soci::session other_program() const {
    return server ? soci::session(soci::postgresql, where)
                  : soci::session(soci::sqlite3, "db=\"" + where + "\"");
  }

  TemporaryFolder folder;
  std::unique_ptr<PrivateServer> server;
  std::string where;
};

/// One student with one attempt, as earlier forms of the records' file have it.
inline void add_attempt_of_before(soci::session& sql) {
  sql << "insert into students(uid, name, added_by, added_unix_s) values('u', 'From Before', 'x', 1)";
  sql << "insert into logs(sha256, bytes) values('s', x'00')";
  sql << "insert into attempts(student, log, log_name, place, flown_unix_s) values(1, 's', 'x', 1, 1)";
}
/// Judged, and met.
inline void add_assessment_of_before(soci::session& sql, const std::string& standard) {
  sql << "insert into assessments(attempt, version, standard, went_around, probability_met, "
         "probability_in_box, student_alone, forced, sound_go_around, reason, made_by, made_unix_s) "
         "values(1, 1, :standard, 0, 1, 1, 1, 0, 0, '', 'x', 1)",
      soci::use(standard);
}

}  // namespace glidewright

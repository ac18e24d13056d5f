#pragma once
// Records of a school of any size, made by the database itself: filling them through the program would take
// hours and is not what is measured.

#include <fmt/format.h>

#include "store/records.hpp"
#include "store/sql.hpp"

namespace glidewright {

inline constexpr int k_attempts_each = 100;
inline constexpr int k_airplanes = 40;

/// Students 1 to `students` with a hundred attempts in ten logs each, a note and a history. The records must
/// be new.
inline void fill_records(soci::session& sql, bool on_a_server, int students) {
  const auto series = [&](const char* name, int last) {
    return on_a_server ? fmt::format("generate_series(1, {}) as {}(n)", last, name)
                       : fmt::format(
                             "(with recursive s(n) as (select 1 union all select n + 1 from s where n < {}) "
                             "select n from s) as {}",
                             last, name);
  };
  const char* sha =
      on_a_server ? "lpad(to_hex(s.n * 10 + a.n % 10), 64, '0')" : "printf('%064x', s.n * 10 + a.n % 10)";
  const char* uid = on_a_server ? "lpad(to_hex(s.n), 32, '0')" : "printf('%032x', s.n)";
  const char* bytes = on_a_server ? "decode('00', 'hex')" : "x'00'";
  sql << "begin";
  sql << fmt::format(
      "insert into students(number, uid, name, added_by, added_unix_s) select s.n, {}, "
      "'Demo ' || cast(s.n as text), 'A. Instructor', 1.7e9 from {}",
      uid, series("s", students));
  sql << fmt::format("insert into logs(sha256, bytes) select {}, {} from {}, {} where a.n <= 10", sha, bytes,
                     series("s", students), series("a", 10));
  sql << fmt::format(
      "insert into attempts(number, student, log, log_name, place, flown_unix_s) select (s.n - 1) "
      "* {0} + a.n, s.n, {1}, 'lesson.gpx', a.n, 1.7e9 + 86400 * (a.n / 4) + 600 * a.n from "
      "{2}, {3}",
      k_attempts_each, sha, series("s", students), series("a", k_attempts_each));
  const auto uid_of = [&](const std::string& number) {
    return on_a_server ? fmt::format("lpad(to_hex({}), 32, '0')", number)
                       : fmt::format("printf('%032x', {})", number);
  };
  sql << fmt::format(
      "insert into airplanes(uid, name, added_by, added_unix_s) select {}, 'Airplane ' || cast(p.n as text),"
      " 'A. Instructor', 1.7e9 from {}",
      uid_of("p.n % " + std::to_string(k_airplanes)), series("p", k_airplanes));
  sql << "insert into airplane_versions(item, version, content, sha256, reason, made_by, made_unix_s) select "
         "number, 1, '{}', '', '', 'A. Instructor', 1.7e9 from airplanes";
  sql << fmt::format(
      "insert into assessments(attempt, version, standard, went_around, probability_met, "
      "probability_in_box, student_alone, forced, sound_go_around, reason, made_by, made_unix_s, "
      "fleet_airplane) select number, 1, 'demo', 0, (number % 10) / 10.0, (number % 10) / 10.0, 1, 0, 0, '', "
      "'A. Instructor', flown_unix_s, {} from attempts",
      uid_of("student % " + std::to_string(k_airplanes)));
  sql << fmt::format(
      "insert into notes(number, uid, student, said, made_by, made_unix_s) select s.n, {}, s.n, "
      "'a note', 'A. Instructor', 1.7e9 from {}",
      uid, series("s", students));
  sql << fmt::format(
      "insert into sign_offs(number, uid, student, what, signed_by, signed_on, withdraws, made_by, "
      "made_unix_s) select s.n, {}, s.n, 'solo', 'C. Examiner', '2026-05-20', '', 'A. Instructor', "
      "1.7e9 from {}",
      uid, series("s", students));
  sql << "insert into changes(student, what, kind, of_what, made_by, made_unix_s) select student, 'filed', "
         "'attempt', number, 'A. Instructor', flown_unix_s from attempts";
  if (on_a_server)
    for (const char* table : {"students", "attempts", "notes"})
      sql << fmt::format(
          "select setval(pg_get_serial_sequence('{0}', 'number'), (select max(number) from {0}))", table);
  sql << "commit";
  // As a server does by itself after a while, and SQLite where it is asked to.
  sql << "analyze";
}

}  // namespace glidewright

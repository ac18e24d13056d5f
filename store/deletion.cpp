// A person goes for good; how often what was flown stays.
#include <fmt/format.h>

#include <cmath>

#include "formats/time.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

void remember(soci::session& sql, const FiledAttempt& attempt) {
  const int year = std::stoi(iso8601_utc(attempt.time_unix_s, 0).substr(0, 4));
  std::map<std::string, const Assessment*> newest;
  for (const Assessment& one : attempt.assessments) newest[one.standard_id] = &one;
  for (const auto& [standard, one] : newest) {
    if (attempt.in_trash || !one->rated.student_alone() || one->rated.forced) continue;
    sql << "insert into remembered(standard, flown_year, attempts, met) values(:standard, :year, 1, :met)"
           " on conflict (standard, flown_year) do update set attempts = remembered.attempts + 1,"
           " met = remembered.met + excluded.met",
        soci::use(standard), soci::use(year), soci::use(one->rated.probability_met);
  }
}

/// The logs in which nobody else has an attempt go, too.
void delete_logs(soci::session& sql, const std::vector<FiledAttempt>& attempts, Deletion& deletion) {
  std::map<std::string, int> logs;
  for (const FiledAttempt& one : attempts) logs[one.log_sha256] = 0;
  for (const auto& [sha, ignored] : logs) {
    int others = 0;
    sql << "select count(*) from attempts where log = :sha", soci::use(sha), soci::into(others);
    if (others != 0) {
      ++deletion.logs_kept;
      continue;
    }
    sql << "delete from logs where sha256 = :sha", soci::use(sha);
    ++deletion.logs;
  }
}

}  // namespace

Result<Deletion> Records::delete_student(long long student, const Stamp& stamp) {
  return answer<Deletion>(*connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_->sql;
    Deletion deletion;
    {
      Writing writing(sql, connection_->kind);
      hold_student(sql, connection_->kind, student);
      const auto known = select_student(sql, student);
      if (!known) throw Refusal(fmt::format("no student has the number {}", student));
      deletion.uid = known->uid;
      const auto attempts = select_attempts(sql, "a.student = :what", student);
      deletion.attempts = static_cast<int>(attempts.size());
      for (const FiledAttempt& one : attempts) {
        remember(sql, one);
        deletion.assessments += static_cast<int>(one.assessments.size());
      }
      deletion.notes = static_cast<int>(select_notes(sql, student).size());
      deletion.sign_offs = static_cast<int>(select_sign_offs(sql, student).size());
      deletion.answers = static_cast<int>(select_answers(sql, student).size());
      sql << "insert into deleting(student) values(:student)", soci::use(student);
      sql << "delete from trash where (kind = 'students' and what = :student) or (kind = 'attempts' and what "
             "in (select number from attempts where student = :same)) or (kind = 'notes' and what in (select "
             "number from notes where student = :too))",
          soci::use(student, "student"), soci::use(student, "same"), soci::use(student, "too");
      sql << "delete from sessions where person in (select number from people where student = :student)",
          soci::use(student);
      sql << "delete from people where student = :student", soci::use(student);
      sql << "delete from waiting_logs where sha256 in (select log from jobs where student = :student)"
             " and sha256 not in (select log from jobs where student <> :same)",
          soci::use(student, "student"), soci::use(student, "same");
      for (const char* table : {"sign_offs", "notes", "answers", "jobs"})
        sql << fmt::format("delete from {} where student = :student", table), soci::use(student);
      sql << "delete from causes where attempt in (select number from attempts where student = :student)",
          soci::use(student);
      sql << "delete from assessments where attempt in (select number from attempts where student = "
             ":student)",
          soci::use(student);
      sql << "delete from attempts where student = :student", soci::use(student);
      delete_logs(sql, attempts, deletion);
      sql << "delete from students where number = :student", soci::use(student);
      sql << "insert into deleted(uid, made_by, made_unix_s) values(:uid, :by, :at)", soci::use(deletion.uid),
          soci::use(stamp.by), soci::use(stamp.unix_s);
      write_down(sql, student, "deleted", "student", student, stamp);
      sql << "delete from deleting";
      writing.commit();
    }
    // What was written before lies in the journal, too, until it is emptied.
    if (connection_->kind == DatabaseKind::sqlite) {
      int busy = 0, pages = 0, moved = 0;
      sql << "pragma wal_checkpoint(truncate)", soci::into(busy), soci::into(pages), soci::into(moved);
    }
    return deletion;
  });
}

Result<std::vector<Remembered>> Records::remembered() {
  return answer<std::vector<Remembered>>(
      *connection_, [&] {
        std::vector<Remembered> found;
        const soci::rowset<soci::row> rows =
            (connection_->sql.prepare
             << "select standard, flown_year, attempts, met from remembered order by standard, flown_year");
        for (const auto& row : rows)
          found.push_back({row.get<std::string>("standard"),
                           static_cast<int>(whole_number(row, "flown_year")),
                           static_cast<int>(whole_number(row, "attempts")), row.get<double>("met")});
        return found;
      });
}

}  // namespace glidewright

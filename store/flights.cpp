// Flights, attempts and how they were assessed.
#include <fmt/format.h>

#include "formats/sha256.hpp"
#include "store/connection.hpp"

namespace glidewright {
namespace {

void keep_original(soci::session& sql, const std::string& sha256, const std::string& bytes) {
  int there = 0;
  sql << "select count(*) from logs where sha256 = :sha", soci::use(sha256), soci::into(there);
  if (there != 0) return;
  soci::blob blob(sql);
  blob.write(0, bytes.data(), bytes.size());
  sql << "insert into logs(sha256, bytes) values(:sha, :bytes)", soci::use(sha256), soci::use(blob);
}

void add_version(soci::session& sql, long long attempt, const Assessment& one) {
  const RatedAttempt& rated = one.rated;
  const int around = rated.end == RatedAttempt::End::went_around;
  const int alone = rated.student_alone, forced = rated.forced, sound = rated.sound_go_around;
  sql << "insert into assessments select :attempt, 1 + coalesce(max(version), 0), :standard, :around, :met, "
         ":box,"
         " :alone, :forced, :sound, :reason, :by, :at from assessments where attempt = :same",
      soci::use(attempt), soci::use(one.standard_id), soci::use(around), soci::use(rated.probability_met),
      soci::use(rated.probability_in_box), soci::use(alone), soci::use(forced), soci::use(sound),
      soci::use(one.reason), soci::use(one.stamp.by), soci::use(one.stamp.unix_s), soci::use(attempt);
}

bool add_attempt(soci::session& sql, long long student, const std::string& sha256, const std::string& name,
                 const NewAttempt& one, const Stamp& stamp) {
  int there = 0;
  sql << "select count(*) from attempts where student = :student and log = :sha and place = :place",
      soci::use(student), soci::use(sha256), soci::use(one.index), soci::into(there);
  if (there != 0) return false;
  sql << "insert into attempts(student, log, log_name, place, flown_unix_s) values(:student, :sha, :name, "
         ":place,"
         " :flown)",
      soci::use(student), soci::use(sha256), soci::use(name), soci::use(one.index),
      soci::use(one.time_unix_s);
  long long number = 0;
  sql << "select last_insert_rowid()", soci::into(number);
  Assessment first = one.assessment;
  first.stamp = stamp;
  add_version(sql, number, first);
  return true;
}

Assessment assessment_of(const soci::row& row) {
  const auto yes = [&](const char* column) { return whole_number(row, column) != 0; };
  Assessment one;
  one.standard_id = row.get<std::string>("standard");
  one.rated.end = yes("around") ? RatedAttempt::End::went_around : RatedAttempt::End::landed;
  one.rated.probability_met = row.get<double>("probability_met");
  one.rated.probability_in_box = row.get<double>("probability_in_box");
  one.rated.student_alone = yes("alone");
  one.rated.forced = yes("forced");
  one.rated.sound_go_around = yes("sound");
  one.reason = row.get<std::string>("reason");
  one.stamp = {row.get<std::string>("made_by"), row.get<double>("made_unix_s")};
  return one;
}

FiledAttempt attempt_of(const soci::row& row) {
  FiledAttempt one;
  one.number = whole_number(row, "number");
  one.log_sha256 = row.get<std::string>("log");
  one.log_name = row.get<std::string>("log_name");
  one.index = static_cast<int>(whole_number(row, "place"));
  one.time_unix_s = row.get<double>("flown_unix_s");
  one.in_trash = whole_number(row, "in_trash") != 0;
  return one;
}

}  // namespace

Result<FiledFlight> Records::file_flight(long long student, const NewFlight& flight, const Stamp& stamp) {
  if (const auto failed = unsigned_change(stamp)) return *failed;
  auto& sql = connection_->sql;
  try {
    FiledFlight filed;
    filed.log_sha256 = sha256_hex(flight.log_bytes);
    Writing writing(sql);
    keep_original(sql, filed.log_sha256, flight.log_bytes);
    for (const NewAttempt& one : flight.attempts)
      filed.attempts += add_attempt(sql, student, filed.log_sha256, flight.log_name, one, stamp);
    writing.commit();
    return filed;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

Result<std::vector<FiledAttempt>> Records::attempts_of(long long student) {
  try {
    std::vector<FiledAttempt> found;
    const soci::rowset<soci::row> rows =
        (connection_->sql.prepare
             << "select a.number as number, a.log as log, a.log_name as log_name,"
                " a.place as place, a.flown_unix_s as flown_unix_s,"
                " a.in_trash as in_trash, s.standard as standard,"
                " s.went_around as around, s.probability_met as probability_met,"
                " s.probability_in_box as probability_in_box, s.student_alone as alone,"
                " s.forced as forced, s.sound_go_around as sound,"
                " s.reason as reason, s.made_by as made_by, s.made_unix_s as made_unix_s"
                " from attempts a join assessments s on s.attempt = a.number where a.student = :student"
                " order by a.flown_unix_s, a.number, s.version",
         soci::use(student));
    for (const auto& row : rows) {
      FiledAttempt one = attempt_of(row);
      if (found.empty() || found.back().number != one.number) found.push_back(std::move(one));
      found.back().assessments.push_back(assessment_of(row));
    }
    return found;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

Result<std::string> Records::original(const std::string& log_sha256) {
  auto& sql = connection_->sql;
  try {
    soci::blob blob(sql);
    sql << "select bytes from logs where sha256 = :sha", soci::use(log_sha256), soci::into(blob);
    if (!sql.got_data()) return Error{"no log with the SHA-256 " + log_sha256 + " is filed"};
    std::string bytes(blob.get_len(), '\0');
    blob.read(0, bytes.data(), bytes.size());
    if (sha256_hex(bytes) != log_sha256)
      return Error{connection_->file + ": the log " + log_sha256 + " is damaged; a backup has it whole"};
    return bytes;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

std::optional<Error> Records::assess_again(long long attempt, const Assessment& assessment) {
  if (const auto failed = unsigned_change(assessment.stamp)) return failed;
  if (assessment.reason.find_first_not_of(" \t\r\n") == std::string::npos)
    return Error{"a correction needs its reason"};
  auto& sql = connection_->sql;
  try {
    Writing writing(sql);
    int there = 0;
    sql << "select count(*) from attempts where number = :attempt", soci::use(attempt), soci::into(there);
    if (there == 0) return Error{fmt::format("no attempt has the number {}", attempt)};
    add_version(sql, attempt, assessment);
    writing.commit();
    return std::nullopt;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

}  // namespace glidewright

// What was thrown away, and taking it back.
#include <fmt/format.h>

#include "store/connection.hpp"

namespace glidewright {
namespace {

/// Of the two kinds that can be thrown away: "students" or "attempts".
std::optional<Error> throw_away(soci::session& sql, const std::string& kind, long long what,
                                const Stamp& stamp) {
  Writing writing(sql);
  int there = 0;
  sql << "select count(*) from " + kind + " where number = :what and in_trash = 0", soci::use(what),
      soci::into(there);
  if (there == 0)
    return Error{fmt::format("{} {} is not there, or in the trash already",
                             kind == "students" ? "student" : "attempt", what)};
  sql << "update " + kind + " set in_trash = 1 where number = :what", soci::use(what);
  sql << "insert into trash(kind, what, thrown_by, thrown_unix_s) values(:kind, :what, :by, :at)",
      soci::use(kind), soci::use(what), soci::use(stamp.by), soci::use(stamp.unix_s);
  writing.commit();
  return std::nullopt;
}

std::string take_back_last(soci::session& sql, const std::string& by, double unix_s) {
  Writing writing(sql);
  long long number = 0, what = 0;
  std::string kind;
  sql << "select number, kind, what from trash where thrown_by = :by and back_unix_s is null"
         " order by number desc limit 1",
      soci::use(by), soci::into(number), soci::into(kind), soci::into(what);
  if (!sql.got_data()) return {};
  sql << "update " + kind + " set in_trash = 0 where number = :what", soci::use(what);
  sql << "update trash set back_unix_s = :at where number = :number", soci::use(unix_s), soci::use(number);
  writing.commit();
  return fmt::format("{} {}", kind == "students" ? "student" : "attempt", what);
}

}  // namespace

std::optional<Error> Records::throw_student_away(long long student, const Stamp& stamp) {
  if (const auto failed = unsigned_change(stamp)) return failed;
  try {
    return throw_away(connection_->sql, "students", student, stamp);
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

std::optional<Error> Records::throw_attempt_away(long long attempt, const Stamp& stamp) {
  if (const auto failed = unsigned_change(stamp)) return failed;
  try {
    return throw_away(connection_->sql, "attempts", attempt, stamp);
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

Result<std::string> Records::undo_last_throwing_away(const std::string& by, double unix_s) {
  try {
    const std::string taken_back = take_back_last(connection_->sql, by, unix_s);
    if (taken_back.empty()) return Error{"nothing that " + by + " threw away is in the trash"};
    return taken_back;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

}  // namespace glidewright

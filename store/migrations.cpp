#include "store/migrations.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <vector>

namespace glidewright {
namespace {

using Step = std::vector<const char*>;

/// Never change a step that was released: add one.
const std::vector<Step>& steps() {
  static const std::vector<Step> all = {
      // 1: students, logs, attempts and their assessments.
      {"create table students(number integer primary key autoincrement, name text not null,"
       " added_by text not null, added_unix_s real not null, in_trash integer not null default 0)",
       "create index students_by_name on students(name)",
       "create table logs(sha256 text primary key, bytes blob not null)",
       "create table attempts(number integer primary key autoincrement,"
       " student integer not null references students(number), log text not null references logs(sha256),"
       " log_name text not null, place integer not null, flown_unix_s real not null,"
       " in_trash integer not null default 0, unique(student, log, place))",
       "create index attempts_by_student on attempts(student, flown_unix_s)",
       "create table assessments(attempt integer not null references attempts(number),"
       " version integer not null, standard text not null, went_around integer not null,"
       " probability_met real not null, probability_in_box real not null, student_alone integer not null,"
       " forced integer not null, sound_go_around integer not null, reason text not null,"
       " made_by text not null, made_unix_s real not null, primary key(attempt, version))",
       // What was judged once stays readable, whatever program writes here.
       "create trigger assessments_stay before update on assessments"
       " begin select raise(abort, 'an assessment is never changed'); end",
       "create trigger assessments_remain before delete on assessments"
       " begin select raise(abort, 'an assessment is never removed'); end"},
      // 2: what was thrown away, in order, so that it can be taken back.
      {"create table trash(number integer primary key autoincrement, kind text not null,"
       " what integer not null, thrown_by text not null, thrown_unix_s real not null, back_unix_s real)",
       "create index trash_by_who on trash(thrown_by, number)"},
  };
  return all;
}

int form_of(soci::session& sql) {
  int form = 0;
  sql << "pragma user_version", soci::into(form);
  return form;
}

std::optional<Error> copy_beside(soci::session& sql, const std::string& file, int next) {
  const std::string copy = fmt::format("{}.before-{}", file, next);
  std::error_code ignored;
  // An upgrade that failed half-way left it: these records are still the same.
  std::filesystem::remove(copy, ignored);
  sql << "vacuum into :copy", soci::use(copy);
  return std::nullopt;
}

}  // namespace

int newest_form() {
  return static_cast<int>(steps().size());
}

std::optional<Error> migrate(soci::session& sql, const std::string& file, int wanted) {
  const int form = form_of(sql);
  if (form > newest_form())
    return Error{fmt::format("{}: records of form {}, made by a newer program; this one reads up to form {}",
                             file, form, newest_form())};
  if (form > 0 && form < wanted) {
    if (const auto failed = copy_beside(sql, file, form + 1)) return failed;
  }
  for (int next = form + 1; next <= wanted; ++next) {
    // Another program may be at the same step: who gets the lock first does it.
    sql << "begin immediate";
    try {
      if (form_of(sql) < next) {
        for (const char* statement : steps()[static_cast<std::size_t>(next - 1)]) sql << statement;
        sql << fmt::format("pragma user_version = {}", next);
      }
      sql << "commit";
    } catch (...) {
      sql << "rollback";
      throw;
    }
  }
  return std::nullopt;
}

}  // namespace glidewright

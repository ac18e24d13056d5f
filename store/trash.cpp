// What was thrown away, and taking it back.
#include <fmt/format.h>

#include "store/connection.hpp"

namespace glidewright {
namespace {

/// One of the kinds that can be thrown away.
struct Kind {
  const char* table;
  const char* word;
  const char* owner;  ///< column that says whose it is
};

constexpr Kind k_student{"students", "student", "number"};
constexpr Kind k_attempt{"attempts", "attempt", "student"};
constexpr Kind k_note{"notes", "note", "student"};
// They are nobody's: their changes stand with no student.
constexpr Kind k_airplane{"airplanes", "airplane", "0"};
constexpr Kind k_airfield{"airfields", "airfield", "0"};

const Kind& kind_in(const std::string& table) {
  for (const Kind* kind : {&k_student, &k_attempt, &k_airplane, &k_airfield})
    if (table == kind->table) return *kind;
  return k_note;
}

long long owner_of(soci::session& sql, const Kind& kind, long long what) {
  long long owner = 0;
  sql << fmt::format("select {} from {} where number = :what", kind.owner, kind.table), soci::use(what),
      soci::into(owner);
  if (!sql.got_data()) throw Refusal(fmt::format("no {} has the number {}", kind.word, what));
  return owner;
}

void throw_away(Records::Connection& records, const Kind& kind, long long what, const Stamp& stamp) {
  require_signed(stamp);
  auto& sql = records.sql;
  Writing writing(sql, records.kind);
  const long long owner = owner_of(sql, kind, what);
  hold_student(sql, records.kind, owner);
  hold_row(sql, records.kind, kind.table, what);
  int in_trash = 0;
  sql << fmt::format("select in_trash from {} where number = :what", kind.table), soci::use(what),
      soci::into(in_trash);
  if (in_trash != 0) throw Refusal(fmt::format("{} {} is in the trash already", kind.word, what));
  const std::string table = kind.table;
  sql << "update " + table + " set in_trash = 1 where number = :what", soci::use(what);
  sql << "insert into trash(kind, what, thrown_by, thrown_unix_s) values(:kind, :what, :by, :at)",
      soci::use(table), soci::use(what), soci::use(stamp.by), soci::use(stamp.unix_s);
  write_down(sql, owner, "thrown away", kind.word, what, stamp);
  writing.commit();
}

/// Meanwhile another may have been added by the name of what is taken back.
void require_name_is_free(soci::session& sql, const Kind& kind, long long what) {
  std::string name;
  sql << fmt::format(
      "select other.name from {0} other join {0} mine on mine.name = other.name"
      " where mine.number = :what and other.in_trash = 0",
      kind.table),
      soci::use(what), soci::into(name);
  if (sql.got_data())
    throw Refusal(fmt::format("another {} is called \"{}\" by now, so {} {} stays in the trash", kind.word,
                              name, kind.word, what));
}

std::string take_back_last(Records::Connection& records, const Stamp& stamp) {
  auto& sql = records.sql;
  Writing writing(sql, records.kind);
  long long number = 0, what = 0;
  std::string table;
  sql << "select number, kind, what from trash where thrown_by = :by and back_unix_s is null"
         " order by number desc limit 1",
      soci::use(stamp.by), soci::into(number), soci::into(table), soci::into(what);
  if (!sql.got_data()) throw Refusal("nothing that " + stamp.by + " threw away is in the trash");
  const Kind& kind = kind_in(table);
  if (&kind == &k_airplane || &kind == &k_airfield) require_name_is_free(sql, kind, what);
  sql << "update " + table + " set in_trash = 0 where number = :what", soci::use(what);
  sql << "update trash set back_unix_s = :at where number = :number", soci::use(stamp.unix_s),
      soci::use(number);
  write_down(sql, owner_of(sql, kind, what), "taken back", kind.word, what, stamp);
  writing.commit();
  return fmt::format("{} {}", kind.word, what);
}

}  // namespace

std::optional<Error> Records::throw_student_away(long long student, const Stamp& stamp) {
  return done_or_error(*connection_, [&] { throw_away(*connection_, k_student, student, stamp); });
}

std::optional<Error> Records::throw_attempt_away(long long attempt, const Stamp& stamp) {
  return done_or_error(*connection_, [&] { throw_away(*connection_, k_attempt, attempt, stamp); });
}

std::optional<Error> Records::throw_note_away(long long note, const Stamp& stamp) {
  return done_or_error(*connection_, [&] { throw_away(*connection_, k_note, note, stamp); });
}

std::optional<Error> Records::throw_from_fleet(FleetKind kind, long long number, const Stamp& stamp) {
  return done_or_error(*connection_, [&] {
    throw_away(*connection_, kind == FleetKind::airplane ? k_airplane : k_airfield, number, stamp);
  });
}

Result<std::string> Records::undo_last_throwing_away(const std::string& by, double unix_s) {
  return answer<std::string>(*connection_, [&] { return take_back_last(*connection_, {by, unix_s}); });
}

}  // namespace glidewright

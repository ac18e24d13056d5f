// Notes, sign-offs and what was done: kept as they were written.
#include <fmt/format.h>

#include <cmath>

#include "formats/time.hpp"
#include "formats/uid.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

void require_attempt_of(soci::session& sql, long long student, long long attempt) {
  int there = 0;
  sql << "select count(*) from attempts where number = :attempt and student = :student", soci::use(attempt),
      soci::use(student), soci::into(there);
  if (there == 0) throw Refusal(fmt::format("student {} has no attempt {}", student, attempt));
}

Note note_of(const soci::row& row) {
  Note note;
  note.number = whole_number(row, "number");
  note.uid = row.get<std::string>("uid");
  if (!is_null(row, "attempt")) note.attempt = whole_number(row, "attempt");
  note.text = row.get<std::string>("said");
  note.stamp = {row.get<std::string>("made_by"), row.get<double>("made_unix_s")};
  note.in_trash = whole_number(row, "in_trash") != 0;
  return note;
}

SignOff sign_off_of(const soci::row& row) {
  SignOff one;
  one.number = whole_number(row, "number");
  one.uid = row.get<std::string>("uid");
  one.what = row.get<std::string>("what");
  one.signed_by = row.get<std::string>("signed_by");
  one.signed_on = row.get<std::string>("signed_on");
  one.withdraws = row.get<std::string>("withdraws");
  one.stamp = {row.get<std::string>("made_by"), row.get<double>("made_unix_s")};
  return one;
}

/// What a sign-off takes back must be this student's, and stand.
void require_standing(const std::vector<SignOff>& all, const std::string& uid) {
  bool there = false;
  for (const SignOff& one : all) {
    there = there || (one.uid == uid && one.withdraws.empty());
    if (one.withdraws == uid) throw Refusal("that sign-off was withdrawn before");
  }
  if (!there) throw Refusal("the student has no such sign-off");
}

}  // namespace

std::vector<Note> select_notes(soci::session& sql, long long student) {
  std::vector<Note> found;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "select number, uid, attempt, said, made_by, made_unix_s, in_trash from notes"
                      " where student = :student order by made_unix_s, number",
       soci::use(student));
  for (const auto& row : rows) found.push_back(note_of(row));
  return found;
}

long long insert_note(soci::session& sql, long long student, const Note& note) {
  Nullable<long long> about(note.attempt);
  const int in_trash = note.in_trash;
  long long number = 0;
  sql << "insert into notes(uid, student, attempt, said, made_by, made_unix_s, in_trash)"
         " values(:uid, :student, :attempt, :said, :by, :at, :trash) returning number",
      soci::use(note.uid), soci::use(student), soci::use(about.value, about.indicator), soci::use(note.text),
      soci::use(note.stamp.by), soci::use(note.stamp.unix_s), soci::use(in_trash), soci::into(number);
  return number;
}

std::vector<SignOff> select_sign_offs(soci::session& sql, long long student) {
  std::vector<SignOff> found;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "select number, uid, what, signed_by, signed_on, withdraws, made_by, made_unix_s"
                      " from sign_offs where student = :student order by number",
       soci::use(student));
  for (const auto& row : rows) found.push_back(sign_off_of(row));
  return found;
}

long long insert_sign_off(soci::session& sql, long long student, const SignOff& one) {
  long long number = 0;
  sql << "insert into sign_offs(uid, student, what, signed_by, signed_on, withdraws, made_by, made_unix_s)"
         " values(:uid, :student, :what, :who, :day, :withdraws, :by, :at) returning number",
      soci::use(one.uid), soci::use(student), soci::use(one.what), soci::use(one.signed_by),
      soci::use(one.signed_on), soci::use(one.withdraws), soci::use(one.stamp.by),
      soci::use(one.stamp.unix_s), soci::into(number);
  return number;
}

Result<Note> Records::add_note(long long student, std::optional<long long> attempt, const std::string& text,
                               const Stamp& stamp) {
  return answer<Note>(*connection_, [&] {
    require_signed(stamp);
    require_text("a note", text);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    require_student(*connection_, student);
    if (attempt) require_attempt_of(sql, student, *attempt);
    Note note{0, new_uid(), attempt, text, stamp, false};
    note.number = insert_note(sql, student, note);
    write_down(sql, student, "written", "note", note.number, stamp);
    writing.commit();
    return note;
  });
}

Result<std::vector<Note>> Records::notes_of(long long student) {
  return answer<std::vector<Note>>(*connection_, [&] { return select_notes(connection_->sql, student); });
}

namespace {

/// Nobody has signed yet what lies ahead; east of Greenwich the next day has begun already.
void require_signed_by_then(const SignOff& sign_off, const Stamp& stamp) {
  constexpr double k_day_s = 86400.0;
  const auto day = read_date(sign_off.signed_on);
  if (!day) throw Refusal(sign_off.signed_on + ": the day of a sign-off was expected, such as 2026-05-14");
  if (static_cast<double>(*day) > std::floor(stamp.unix_s / k_day_s) + 1.0)
    throw Refusal(sign_off.signed_on + ": lies ahead; the day on which somebody signed was expected");
}

}  // namespace

Result<SignOff> Records::add_sign_off(long long student, const SignOff& sign_off, const Stamp& stamp) {
  return answer<SignOff>(*connection_, [&] {
    require_signed(stamp);
    require_text("what is signed off", sign_off.what);
    require_text("who signed", sign_off.signed_by);
    require_text("the day of a sign-off", sign_off.signed_on);
    require_signed_by_then(sign_off, stamp);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    require_student(*connection_, student);
    if (!sign_off.withdraws.empty()) require_standing(select_sign_offs(sql, student), sign_off.withdraws);
    SignOff kept = sign_off;
    kept.uid = new_uid();
    kept.stamp = stamp;
    kept.number = insert_sign_off(sql, student, kept);
    write_down(sql, student, kept.withdraws.empty() ? "signed off" : "withdrawn", "sign-off", kept.number,
               stamp);
    writing.commit();
    return kept;
  });
}

Result<std::vector<SignOff>> Records::sign_offs_of(long long student) {
  return answer<std::vector<SignOff>>(*connection_,
                                      [&] { return select_sign_offs(connection_->sql, student); });
}

Result<std::vector<Change>> Records::changes_of(long long student) {
  return answer<std::vector<Change>>(*connection_, [&] {
    std::vector<Change> found;
    const soci::rowset<soci::row> rows =
        (connection_->sql.prepare << "select what, kind, of_what, made_by, made_unix_s from changes"
                                     " where student = :student order by number",
         soci::use(student));
    for (const auto& row : rows)
      found.push_back({{row.get<std::string>("made_by"), row.get<double>("made_unix_s")},
                       row.get<std::string>("what"),
                       row.get<std::string>("kind"),
                       whole_number(row, "of_what")});
    return found;
  });
}

}  // namespace glidewright

#include "store/migrations.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <functional>
#include <vector>

#include "formats/sha256.hpp"
#include "formats/unpack.hpp"

namespace glidewright {
namespace {

/// Statements of one database, or of both where their dialects agree; then whatever is no statement.
struct Step {
  std::vector<std::string> statements;
  std::function<void(soci::session&, DatabaseKind)> then = {};
};

/// Whatever program writes here: what was judged once stays readable. Only a whole person is ever deleted,
/// and then stands in `deleting` until it is done.
std::vector<std::string> kept_for_ever(const std::string& table, const std::string& what, DatabaseKind kind) {
  if (kind == DatabaseKind::sqlite)
    return {fmt::format("create trigger {0}_stay before update on {0}"
                        " begin select raise(abort, '{1} is never changed'); end",
                        table, what),
            fmt::format("create trigger {0}_remain before delete on {0}"
                        " when (select count(*) from deleting) = 0"
                        " begin select raise(abort, '{1} is never removed'); end",
                        table, what)};
  return {fmt::format("create function {0}_stay() returns trigger language plpgsql as $$ begin"
                      " if tg_op = 'UPDATE' then raise exception '{1} is never changed'; end if;"
                      " if not exists (select 1 from deleting) then"
                      " raise exception '{1} is never removed'; end if;"
                      " return old; end $$",
                      table, what),
          fmt::format("create trigger {0}_stay before update or delete on {0} for each row"
                      " execute function {0}_stay()",
                      table)};
}

/// Logs were known by the bytes of the file; since form 3 by those of the track inside, packed or not.
void know_packed_logs_by_their_track(soci::session& sql, DatabaseKind kind) {
  std::vector<std::string> known;
  {
    const soci::rowset<std::string> rows = (sql.prepare << "select sha256 from logs order by sha256");
    for (const auto& sha : rows) known.push_back(sha);
  }
  for (const std::string& before : known) {
    const auto bytes = read_log(sql, kind, before);
    if (!bytes || !is_packed(*bytes)) continue;
    const auto inside = unpack(*bytes, before);
    if (!inside) continue;
    const std::string now = sha256_hex(inside->bytes);
    insert_log(sql, kind, now, *bytes);
    // Where the student has that track's attempt already, the second one stays what it is, and does not
    // count.
    sql << "update attempts set in_trash = 1 where log = :before and exists (select 1 from attempts other"
           " where other.student = attempts.student and other.place = attempts.place and other.log = :now)",
        soci::use(before), soci::use(now);
    sql << "update attempts set log = :now where log = :before and not exists (select 1 from attempts other"
           " where other.student = attempts.student and other.place = attempts.place and other.log = :same)",
        soci::use(now), soci::use(before), soci::use(now);
    sql << "delete from logs where sha256 = :before and not exists (select 1 from attempts where log = "
           ":same)",
        soci::use(before), soci::use(before);
  }
}

void join(std::vector<std::string>& all, std::vector<std::string> more) {
  for (auto& one : more) all.push_back(std::move(one));
}

Step students_and_attempts(DatabaseKind kind) {
  Step step{
      {"create table students(number {id}, name {text} not null,"
       " added_by {text} not null, added_unix_s {real} not null, in_trash {int} not null default 0)",
       "create index students_by_name on students(name)",
       "create table logs(sha256 {text} primary key, bytes {bytes} not null)",
       "create table attempts(number {id},"
       " student {int} not null references students(number), log {text} not null references "
       "logs(sha256),"
       " log_name {text} not null, place {int} not null, flown_unix_s {real} not null,"
       " in_trash {int} not null default 0, unique(student, log, place))",
       "create index attempts_by_student on attempts(student, flown_unix_s)",
       "create table assessments(attempt {int} not null references attempts(number),"
       " version {int} not null, standard {text} not null, went_around {int} not null,"
       " probability_met {real} not null, probability_in_box {real} not null, student_alone {int} not "
       "null,"
       " forced {int} not null, sound_go_around {int} not null, reason {text} not null,"
       " made_by {text} not null, made_unix_s {real} not null, primary key(attempt, version))"}};
  if (kind == DatabaseKind::sqlite)  // as it was released; a server's records begin with form 3
    join(step.statements, {"create trigger assessments_stay before update on assessments"
                           " begin select raise(abort, 'an assessment is never changed'); end",
                           "create trigger assessments_remain before delete on assessments"
                           " begin select raise(abort, 'an assessment is never removed'); end"});
  return step;
}

Step trash() {
  return {
      {"create table trash(number {id}, kind {text} not null,"
       " what {int} not null, thrown_by {text} not null, thrown_unix_s {real} not null, back_unix_s "
       "{real})",
       "create index trash_by_who on trash(thrown_by, number)"}};
}

/// Notes, sign-offs, the list of changes, deletion, and how an attempt was flown.
Step a_whole_student(DatabaseKind kind) {
  Step step;
  const bool file = kind == DatabaseKind::sqlite;
  if (file) join(step.statements, {"drop trigger assessments_stay", "drop trigger assessments_remain"});
  step.statements.push_back("alter table students add column uid {text} not null default ''");
  step.statements.push_back(file ? "update students set uid = lower(hex(randomblob(16)))"
                                 : "update students set uid = md5(random() || '/' || number)");
  step.statements.push_back("create unique index students_by_uid on students(uid)");
  for (const char* column :
       {"runway {text} not null default ''", "touchdown_point_ft {real}",
        "airplane {text} not null default ''", "along_ft {real}", "along_low95_ft {real}",
        "along_high95_ft {real}", "wind_kt {real}", "wind_from_true_deg {real}",
        "largest_cause {text} not null default ''", "largest_cause_ft {real}", "said_alone {int}",
        "said_forced {int}", "said_met {int}", "said_in_box {int}"})
    step.statements.push_back(std::string("alter table assessments add column ") + column);
  join(
      step.statements,
      {// Until now whatever stood above the first version had been said by a person.
       "update assessments set said_alone = student_alone, said_forced = forced where version > 1",
       "update assessments set said_met = case when probability_met > 0.5 then 1 else 0 end where version > 1"
       " and probability_met <> (select first.probability_met from assessments first"
       " where first.attempt = assessments.attempt and first.version = 1)",
       "create index attempts_by_log on attempts(log)",
       "create table notes(number {id}, uid {text} not null unique,"
       " student {int} not null references students(number), attempt {int} references attempts(number),"
       " said {text} not null, made_by {text} not null, made_unix_s {real} not null,"
       " in_trash {int} not null default 0)",
       "create index notes_by_student on notes(student, made_unix_s)",
       "create index notes_by_attempt on notes(attempt)",
       "create table sign_offs(number {id}, uid {text} not null unique,"
       " student {int} not null references students(number), what {text} not null,"
       " signed_by {text} not null, signed_on {text} not null, withdraws {text} not null,"
       " made_by {text} not null, made_unix_s {real} not null)",
       "create index sign_offs_by_student on sign_offs(student, number)",
       // No reference to students: that something was done outlives them.
       "create table changes(number {id}, student {int} not null, what {text} not null, kind {text} not "
       "null,"
       " of_what {int} not null, made_by {text} not null, made_unix_s {real} not null)",
       "create index changes_by_student on changes(student, number)",
       "create table deleting(student {int} primary key)",
       "create table deleted(uid {text} primary key, made_by {text} not null, made_unix_s {real} not null)",
       "create table remembered(standard {text} not null, flown_year {int} not null, attempts {int} not null,"
       " met {real} not null, primary key(standard, flown_year))"});
  join(step.statements, kept_for_ever("assessments", "an assessment", kind));
  join(step.statements, kept_for_ever("sign_offs", "a sign-off", kind));
  join(step.statements, kept_for_ever("changes", "what was done", kind));
  step.then = know_packed_logs_by_their_track;
  return step;
}

/// Answers to drills.
Step drill_answers() {
  return {
      {"create table answers(number {id}, uid {text} not null unique,"
       " student {int} not null references students(number), setting {text} not null, seed {long} not null,"
       " place {int} not null, said {int} not null, truth {int} not null, sureness {int} not null,"
       " mark_ahead_ft {real}, mark_right_ft {real}, touchdown_ft {real} not null,"
       " answered_unix_s {real} not null)",
       "create index answers_by_student on answers(student, answered_unix_s)"}};
}

/// The whole ledger of each assessment.
Step causes(DatabaseKind kind) {
  Step step{
      {"create table causes(attempt {int} not null, version {int} not null, place {int} not null,"
       " cause {text} not null, effect_ft {real} not null, low95_ft {real} not null,"
       " high95_ft {real} not null, primary key(attempt, version, place),"
       " foreign key(attempt, version) references assessments(attempt, version))"}};
  join(step.statements, kept_for_ever("causes", "a cause", kind));
  return step;
}

/// People who sign in, who looks after whom, what is due, and logs that wait for their debrief.
Step a_school() {
  return {
      {"create table people(number {id}, uid {text} not null unique, name {text} not null,"
       " sign_in {text} not null unique, role {text} not null, password {text} not null default '',"
       " student {int} references students(number), closed {int} not null default 0,"
       " added_by {text} not null, added_unix_s {real} not null)",
       "create index people_by_student on people(student)",
       "create table sessions(token {text} primary key, person {int} not null references people(number),"
       " began_unix_s {real} not null, used_unix_s {real} not null)",
       "create index sessions_by_person on sessions(person)",
       "create table sign_in_tries(who {text} primary key, failed {int} not null,"
       " since_unix_s {real} not null, until_unix_s {real} not null)",
       "alter table students add column instructor {int} references people(number)",
       // A day that never comes, so that what is not due stands last in the index.
       "alter table students add column due_on {text} not null default '9999'",
       "alter table students add column due_what {text} not null default ''",
       "create index students_by_due on students(due_on, name, number)",
       "create index students_by_instructor on students(instructor, due_on, name, number)",
       "create index students_by_instructor_and_name on students(instructor, name, number)",
       "create table waiting_logs(sha256 {text} primary key, bytes {bytes} not null)",
       "create table jobs(number {id}, student {int} not null references students(number),"
       " log {text} not null, log_name {text} not null, asked {text} not null, state {text} not null,"
       " taken_by {text} not null default '', held_until_unix_s {real} not null default 0,"
       " tries {int} not null default 0, said {text} not null default '',"
       " attempts {int} not null default 0, judged_anew {int} not null default 0,"
       " made_by {text} not null, made_unix_s {real} not null, ended_unix_s {real})",
       "create index jobs_by_state on jobs(state, number)",
       "create index jobs_by_student on jobs(student, number)", "create index jobs_by_log on jobs(log)"}};
}

/// Airplanes and airfields, with every version of what is known of them, and attempts filed under an
/// airplane.
Step a_fleet(DatabaseKind kind) {
  Step step;
  for (const auto& [items, versions] :
       {std::pair("airplanes", "airplane_versions"), std::pair("airfields", "airfield_versions")}) {
    step.statements.push_back(
        fmt::format("create table {}(number {{id}}, uid {{text}} not null unique, name {{text}} not null,"
                    " added_by {{text}} not null, added_unix_s {{real}} not null,"
                    " in_trash {{int}} not null default 0)",
                    items));
    step.statements.push_back(
        fmt::format("create unique index {0}_by_name on {0}(name) where in_trash = 0", items));
    step.statements.push_back(
        fmt::format("create table {}(item {{int}} not null references {}(number), version {{int}} not null,"
                    " content {{text}} not null, sha256 {{text}} not null, fitted {{int}} not null default 0,"
                    " reason {{text}} not null,"
                    " made_by {{text}} not null, made_unix_s {{real}} not null, primary key(item, version))",
                    versions, items));
  }
  step.statements.push_back("alter table assessments add column fleet_airplane {text}");
  step.statements.push_back("alter table assessments add column airplane_profile {text}");
  step.statements.push_back(
      "create index assessments_by_airplane on assessments(fleet_airplane, made_unix_s, attempt)"
      " where fleet_airplane is not null");
  join(step.statements, kept_for_ever("airplane_versions", "a version of an airplane", kind));
  join(step.statements, kept_for_ever("airfield_versions", "a version of an airfield", kind));
  return step;
}

/// What somebody said that a log's heights are written in; and logs without attempts, which are nobody's, go.
Step height_units() {
  return {{"alter table assessments add column height_unit {text} not null default ''",
           "delete from logs where not exists (select 1 from attempts where attempts.log = logs.sha256)"}};
}

/// The texts of the standards by which something was judged. What was judged before names its standard's id
/// alone.
Step standards(DatabaseKind kind) {
  Step step{
      {"create table standards(sha256 {text} primary key, id {text} not null, content {text} not null,"
       " added_by {text} not null, added_unix_s {real} not null)",
       "create index standards_by_id on standards(id, added_unix_s)",
       "alter table assessments add column standard_sha256 {text} references standards(sha256)"}};
  join(step.statements, kept_for_ever("standards", "a standard", kind));
  return step;
}

/// Who flew, where until now it was only said whether it was the student alone.
Step who_flew() {
  return {{"alter table assessments add column flown_by {text}",
           "alter table assessments add column said_flown_by {text}"}};
}

/// The marks that a debrief took, as they were told.
Step marks() {
  return {{"alter table assessments add column marks {text} not null default ''"}};
}

constexpr int k_newest_form = 11;

/// Never change what a step that was released does to a file: add one.
Step step_to(int form, DatabaseKind kind) {
  switch (form) {
    case 1:
      return students_and_attempts(kind);
    case 2:
      return trash();
    case 3:
      return a_whole_student(kind);
    case 4:
      return drill_answers();
    case 5:
      return causes(kind);
    case 6:
      return a_school();
    case 7:
      return a_fleet(kind);
    case 8:
      return height_units();
    case 9:
      return standards(kind);
    case 10:
      return who_flew();
    default:
      return marks();
  }
}

void copy_beside(soci::session& sql, const std::string& file, int next) {
  const std::string copy = fmt::format("{}.before-{}", file, next);
  std::error_code ignored;
  // An upgrade that failed half-way left it: these records are still the same.
  std::filesystem::remove(copy, ignored);
  sql << "vacuum into :copy", soci::use(copy);
}

void go_to(soci::session& sql, DatabaseKind kind, int form) {
  begin_writing(sql, kind);
  try {
    // Another program may be at the same step: who gets the lock first does it.
    hold_tables(sql, kind);
    if (form_of(sql, kind) < form) {
      const Step step = step_to(form, kind);
      for (const std::string& statement : step.statements) sql << in_dialect(statement, kind);
      if (step.then) step.then(sql, kind);
      set_form(sql, kind, form);
    }
    sql << "commit";
  } catch (...) {
    sql << "rollback";
    throw;
  }
}

}  // namespace

int newest_form() {
  return k_newest_form;
}

std::optional<Error> migrate(soci::session& sql, DatabaseKind kind, const std::string& shown, int wanted) {
  const int form = form_of(sql, kind);
  if (form > newest_form())
    return Error{fmt::format("{}: records of form {}, made by a newer program; this one reads up to form {}",
                             shown, form, newest_form())};
  if (form > 0 && form < wanted && kind == DatabaseKind::sqlite) copy_beside(sql, shown, form + 1);
  for (int next = form + 1; next <= wanted; ++next) go_to(sql, kind, next);
  return std::nullopt;
}

}  // namespace glidewright

#pragma once
// Rows of the tables as values, and back: each written and read in one place.

#include <string>

#include "store/connection.hpp"

namespace glidewright {

/// What stands in due_on where nothing is due.
constexpr const char* k_never_due = "9999";
constexpr const char* k_students =
    "select number, uid, name, added_by, added_unix_s, in_trash, instructor, due_on, due_what from students ";
Student student_of(const soci::row& row);
/// By its number, in the trash or not.
std::optional<Student> select_student(soci::session& sql, long long number);
Student insert_student(soci::session& sql, const std::string& uid, const std::string& name,
                       const Stamp& stamp);

/// Attempts with all their assessments; `where` on "a" (attempts), with one :what.
std::vector<FiledAttempt> select_attempts(soci::session& sql, const std::string& where, long long what);
/// One row for each assessment that says so, the newest first; what was said later of another airplane stands
/// above it.
constexpr const char* k_latest_attempts_in =
    "select s.attempt as attempt, a.student as student, a.flown_unix_s as flown_unix_s, a.log as log,"
    " a.log_name as log_name, a.place as place from assessments s join attempts a on a.number = s.attempt"
    " join students p on p.number = a.student where s.fleet_airplane = :airplane and a.in_trash = 0"
    " and p.in_trash = 0 and not exists (select 1 from assessments later where later.attempt = s.attempt"
    " and later.made_unix_s > s.made_unix_s and later.fleet_airplane <> s.fleet_airplane)"
    " order by s.made_unix_s desc, s.attempt desc limit :most";
/// A log's heights are the log's, whoever flew: what was said of it last, by anybody.
constexpr const char* k_height_unit_told =
    "select s.height_unit from attempts a join assessments s on s.attempt = a.number where a.log = :log"
    " and s.height_unit <> '' order by s.made_unix_s desc, s.attempt desc, s.version desc limit 1";
/// Of each attempt the newest stands last.
constexpr const char* k_marks_told =
    "select a.place as place, s.marks as marks from attempts a join assessments s on s.attempt = a.number"
    " where a.student = :student and a.log = :log and s.marks <> '' order by a.place, s.made_unix_s, "
    "s.version";
/// Without reading the bytes.
constexpr const char* k_log_sizes =
    "select l.sha256 as sha256, length(l.bytes) as size from attempts a join logs l on l.sha256 = a.log"
    " where a.student = :student";
/// Whether an assessment counts for this standard.
bool is_judged_by(const Assessment& one, const StandardInForce& standard);

/// Kept where it is not yet; refused as Records::keep_standard says.
void keep_text(soci::session& sql, const KeptStandard& standard, const Stamp& stamp);
/// None where no such text is kept.
std::optional<KeptStandard> select_standard(soci::session& sql, const std::string& sha256);
StandardInForce standard_in_force(soci::session& sql, const Standard& standard);

long long insert_attempt(soci::session& sql, long long student, const std::string& sha256,
                         const std::string& log_name, int index, double time_unix_s);
/// As the next version. The student must be held.
void insert_assessment(soci::session& sql, long long attempt, const Assessment& one);

/// One flight of a student who is held, inside a transaction.
FiledFlight file_flight_of_held(soci::session& sql, DatabaseKind kind, long long student,
                                const NewFlight& flight, const Stamp& stamp);

std::vector<Note> select_notes(soci::session& sql, long long student);
long long insert_note(soci::session& sql, long long student, const Note& note);
std::vector<SignOff> select_sign_offs(soci::session& sql, long long student);
long long insert_sign_off(soci::session& sql, long long student, const SignOff& sign_off);

std::vector<KeptAnswer> select_answers(soci::session& sql, long long student);
/// False where it is kept already.
bool insert_answer(soci::session& sql, long long student, const KeptAnswer& answer);

}  // namespace glidewright

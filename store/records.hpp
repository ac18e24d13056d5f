#pragma once
// The records of students: who they are, the logs of their flights, their attempts and how each was assessed.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "formats/result.hpp"
#include "store/values.hpp"

namespace glidewright {

/// One file of records, or a database of a server. Each function that changes something is done wholly or not
/// at all, and is on the disk when it returns. Errors are a sentence for whoever asked.
class Records {
 public:
  enum class Opening { existing, make_where_missing };
  struct Connection;  ///< what lies behind; only the records' own sources know it

  /// A file, or "postgresql://...". Records of an older version are brought up to date, a file after a copy
  /// of it was laid beside it ("FILE.before-2"); those of a newer program are refused.
  static Result<Records> open(const std::string& where, Opening opening = Opening::make_where_missing);

  Records(Records&&) noexcept;
  Records& operator=(Records&&) noexcept;
  ~Records();

  // --- students ---
  Result<Student> add_student(const std::string& name, const Stamp& stamp);
  std::optional<Error> rename_student(long long student, const std::string& name, const Stamp& stamp);
  /// By name; those in the trash are not among them.
  Result<std::vector<Student>> students(const StudentsPage& page = {});
  /// By number, or by the whole name where only one has it; not one in the trash.
  Result<Student> find_student(const std::string& number_or_name);

  // --- flights and attempts ---
  /// All of them or none. What is filed already stays: a log filed again gives its attempts another
  /// assessment only where standard, runway, point or airplane have changed, and what a person said of them
  /// stands.
  Result<std::vector<FiledFlight>> file_flights(long long student, const std::vector<NewFlight>& flights,
                                                const Stamp& stamp);
  Result<FiledFlight> file_flight(long long student, const NewFlight& flight, const Stamp& stamp);
  /// In the order flown. Those in the trash are marked, and do not count.
  Result<std::vector<FiledAttempt>> attempts_of(long long student);
  /// "ft" or "m" where somebody said what the heights of this log, packed or not, are written in; what was
  /// said last. Empty where nobody did.
  Result<std::string> height_unit_told(const std::string& log_bytes, const std::string& log_name);
  /// What was marked last in each attempt of this student in this log, packed or not, as a file
  /// `glidewright.marks/1`. Empty where nobody marked anything.
  Result<std::string> marks_told(long long student, const std::string& log_bytes,
                                 const std::string& log_name);
  /// How many bytes each log of the student has, by its SHA-256.
  Result<std::map<std::string, std::size_t>> log_sizes_of(long long student);
  /// The bytes of a log as they were filed.
  Result<std::string> original(const std::string& log_sha256);
  /// Adds a version. `assessment.reason` and `stamp.by` must say something.
  /// Where `versions_seen` is given and there are more by now, somebody else was quicker: refused.
  std::optional<Error> assess_again(long long attempt, const Assessment& assessment,
                                    std::optional<int> versions_seen = {});

  // --- airplanes and airfields ---
  /// `content`: a profile `glidewright.airplane/1`, or a list of runways `glidewright.runway/1`, each with a
  /// designator of its own. Refused where it does not go together, or where the name is taken.
  Result<FleetItem> add_to_fleet(FleetKind kind, const std::string& name, const std::string& content,
                                 const Stamp& stamp);
  /// Adds a version, which counts from now on; refused where nothing would change. `reason` must say
  /// something.
  enum class From { a_person, logged_glides };
  Result<FleetItem> change_in_fleet(FleetKind kind, long long number, const std::string& content,
                                    const std::string& reason, const Stamp& stamp,
                                    From from = From::a_person);
  /// By name, with the versions but without their contents; those in the trash are not among them.
  Result<std::vector<FleetItem>> fleet(FleetKind kind);
  Result<std::vector<FleetItem>> fleet_in_trash(FleetKind kind);
  /// The one of exactly that name, whole; none where there is none, or where it is in the trash.
  Result<std::optional<FleetItem>> fleet_named(FleetKind kind, const std::string& name);
  /// By its name, or by its number; whole. Not one in the trash.
  Result<FleetItem> find_in_fleet(FleetKind kind, const std::string& name_or_number);
  /// All of it, whole, for an archive; those in the trash, too.
  Result<std::vector<FleetItem>> whole_fleet();
  /// What was judged last as flown in this airplane; the newest assessments first.
  Result<std::vector<FleetAttempt>> latest_attempts_in(const std::string& airplane_uid, int at_most);
  /// What was said of attempts of before stays as it is.
  std::optional<Error> throw_from_fleet(FleetKind kind, long long number, const Stamp& stamp);
  /// Adds what is not here yet; all of it or nothing.
  Result<MergedFleet> merge_fleet(const std::vector<FleetItem>& fleet, const Stamp& stamp);

  // --- standards ---
  /// `id`: its file's name without ending. What is kept already stays as it is. Refused where a house
  /// standard of that version has another text here: its version is raised with every change.
  Result<KeptStandard> keep_standard(const std::string& id, const std::string& content, const Stamp& stamp);
  /// By id, oldest first.
  Result<std::vector<KeptStandard>> kept_standards();
  /// "ID", of which the text that was kept last counts, "ID:VERSION" of a house standard, or the SHA-256 of
  /// a text; none where no such text is kept.
  Result<std::optional<KeptStandard>> kept_standard(const std::string& named);
  /// To count by: what was judged by an earlier text with other limits is not judged by this one.
  Result<StandardInForce> in_force(const Standard& standard);
  /// Adds what is not here yet, and says how much; all of it or nothing. Two copies of the records may each
  /// have made another text of one version: both stay, for assessments name the text.
  Result<int> merge_standards(const std::vector<KeptStandard>& standards, const Stamp& stamp);

  // --- notes, sign-offs, changes ---
  Result<Note> add_note(long long student, std::optional<long long> attempt, const std::string& text,
                        const Stamp& stamp);
  Result<std::vector<Note>> notes_of(long long student);
  /// `sign_off.what`, `signed_by` and `signed_on` must say something; never changed or removed but with the
  /// whole person.
  Result<SignOff> add_sign_off(long long student, const SignOff& sign_off, const Stamp& stamp);
  Result<std::vector<SignOff>> sign_offs_of(long long student);
  /// What was done with this student's records, oldest first.
  Result<std::vector<Change>> changes_of(long long student);

  // --- drills ---
  /// Those that are not kept yet; says how many.
  Result<int> add_answers(long long student, const std::vector<KeptAnswer>& answers, const Stamp& stamp);
  /// In the order given.
  Result<std::vector<KeptAnswer>> answers_of(long long student);

  // --- trash ---
  std::optional<Error> throw_student_away(long long student, const Stamp& stamp);
  std::optional<Error> throw_attempt_away(long long attempt, const Stamp& stamp);
  std::optional<Error> throw_note_away(long long note, const Stamp& stamp);
  Result<std::vector<Student>> students_in_trash();
  /// Takes back what `by` threw away last; says what it was.
  Result<std::string> undo_last_throwing_away(const std::string& by, double unix_s);

  // --- archives and deletion ---
  Result<StudentArchive> archive_of(long long student);
  /// Adds what is not here yet; all of it or nothing. `logs` by SHA-256 as filed; the standards that its
  /// assessments name come in with `merge_standards` before. A person who was deleted here stays deleted.
  Result<Merged> merge(const StudentArchive& archive, const std::map<std::string, std::string>& logs,
                       const Stamp& stamp);
  /// For good. What stays: how many attempts of which standard and year, and how many of them met it.
  Result<Deletion> delete_student(long long student, const Stamp& stamp);
  Result<std::vector<Remembered>> remembered();

  // --- upkeep ---
  /// The last call failed because the database did not do its part, not because of what was asked.
  bool database_failed() const;
  /// A copy that is whole, made while others may write. `file` must not be there yet. Of a file only.
  std::optional<Error> back_up(const std::string& file);
  /// Reads everything, the bytes of every log and the text of every standard too; what is wrong, or none.
  /// Says how many logs were read.
  Result<int> check_whole();

 private:
  explicit Records(std::unique_ptr<Connection> connection);
  std::unique_ptr<Connection> connection_;
  friend class School;
  friend class Queue;
};

}  // namespace glidewright

#pragma once
// The records of students: who they are, the logs of their flights, their attempts and how each was assessed.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/progress/readiness.hpp"
#include "formats/result.hpp"

namespace glidewright {

/// Who did it, and when. The records read no clock.
struct Stamp {
  std::string by;
  double unix_s = 0.0;
};

struct Student {
  long long number = 0;
  std::string name;
  Stamp added;
  bool in_trash = false;
};

/// Judged by a standard, once. A later one stands above it and never replaces it.
struct Assessment {
  RatedAttempt rated;  ///< first_of_day is not kept: it follows from the times
  std::string standard_id;
  std::string reason;  ///< why it was changed; empty for the first
  Stamp stamp;
};

struct NewAttempt {
  int index = 0;  ///< in its log, from 1
  double time_unix_s = 0.0;
  Assessment assessment;
};

struct FiledAttempt {
  long long number = 0;
  std::string log_sha256;
  std::string log_name;
  int index = 0;
  double time_unix_s = 0.0;
  std::vector<Assessment> assessments;  ///< oldest first; the last one counts
  bool in_trash = false;
};

struct NewFlight {
  std::string log_name;   ///< as the file was called
  std::string log_bytes;  ///< the original, kept by its content
  std::vector<NewAttempt> attempts;
};

struct FiledFlight {
  std::string log_sha256;
  int attempts = 0;  ///< that this filing added; 0 where the student's log was there already
};

/// One file of records. Each function that changes something is done wholly or not at all, and is on the disk
/// when it returns. Errors are a sentence for whoever asked.
class Records {
 public:
  /// Opens or makes the file. Records of an older version are brought up to date, after a copy of them was
  /// laid beside them ("FILE.before-2"); those of a newer program are refused.
  static Result<Records> open(const std::string& file);

  Records(Records&&) noexcept;
  Records& operator=(Records&&) noexcept;
  ~Records();

  Result<Student> add_student(const std::string& name, const Stamp& stamp);
  /// By name; those in the trash only where asked for by number.
  Result<std::vector<Student>> students();
  /// By number, or by the whole name where only one has it.
  Result<Student> find_student(const std::string& number_or_name);

  /// The same log filed again for the same student changes nothing.
  Result<FiledFlight> file_flight(long long student, const NewFlight& flight, const Stamp& stamp);
  /// In the order flown. Those in the trash are marked, and do not count.
  Result<std::vector<FiledAttempt>> attempts_of(long long student);
  /// The bytes of a log that was filed.
  Result<std::string> original(const std::string& log_sha256);

  /// Adds a version. `assessment.reason` and `stamp.by` must say something.
  std::optional<Error> assess_again(long long attempt, const Assessment& assessment);

  std::optional<Error> throw_student_away(long long student, const Stamp& stamp);
  std::optional<Error> throw_attempt_away(long long attempt, const Stamp& stamp);
  /// Takes back what `by` threw away last; says what it was.
  Result<std::string> undo_last_throwing_away(const std::string& by, double unix_s);

  /// A copy that is whole, made while others may write. `file` must not be there yet.
  std::optional<Error> back_up(const std::string& file);

 private:
  struct Connection;
  explicit Records(std::unique_ptr<Connection> connection);
  std::unique_ptr<Connection> connection_;
};

}  // namespace glidewright

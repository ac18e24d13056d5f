#pragma once
// What the records hold, as values.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/debrief/standard.hpp"
#include "engine/progress/practice.hpp"
#include "engine/progress/readiness.hpp"
#include "formats/drill_json.hpp"

namespace glidewright {

/// Who did it, and when. The records read no clock.
struct Stamp {
  std::string by;
  double unix_s = 0.0;
};

struct Student {
  long long number = 0;  ///< in these records
  std::string uid;       ///< the same in every copy and archive; 32 hexadecimal digits, says nothing
  std::string name;
  Stamp added;
  bool in_trash = false;
  std::optional<long long> instructor;  ///< who looks after the student: a person's number
  std::string due_on;                   ///< "2026-05-21"; empty where nothing is due
  std::string due_what;                 ///< "progress check"
};

/// Where and how an attempt was flown, as far as its debrief knew.
struct Circumstances {
  std::string runway;
  std::optional<double> touchdown_point_ft;  ///< past the threshold
  std::string height_unit;                   ///< "ft" or "m": told of its log; empty: as that itself says
  std::string airplane;
  std::string fleet_airplane;      ///< uid of the fleet's airplane that it was; empty where none was named
  std::string airplane_profile;    ///< SHA-256 of the version of its profile that the debrief took
  std::optional<double> along_ft;  ///< of the touchdown, past the point
  std::optional<double> along_low95_ft;
  std::optional<double> along_high95_ft;
  std::optional<double> wind_kt;  ///< at 10 m
  std::optional<double> wind_from_true_deg;
  /// What somebody who was there marked: one attempt of glidewright.marks/1; empty where nobody did.
  std::string marks;
  std::string largest_cause;  ///< the decided one; empty where none is
  std::optional<double> largest_cause_ft;
  std::vector<CauseEffect> causes;  ///< all of the ledger, in flown order
};

/// What a person said of an attempt. It stands above whatever a log shows, also when the log is debriefed
/// again.
struct Said {
  std::optional<FlownBy> flown_by;
  std::optional<bool> forced;
  std::optional<bool> met;
  std::optional<bool> in_box;
};

/// What was said, in the place of what the log shows.
void apply(const Said& said, RatedAttempt& rated);

/// The text of a standard as it was when something was judged by it: a house raises its limits, and what was
/// judged before can still be understood.
struct KeptStandard {
  Standard standard;    ///< what the text says
  std::string content;  ///< JSON glidewright.standard/1, as canonical_standard writes it
  std::string sha256;   ///< of the content; assessments name it
  Stamp added;
};

/// As the records keep it; `bytes`: the file that was read into `standard`.
KeptStandard kept_text(Standard standard, std::string_view bytes);

/// Whether an attempt's touchdown meets both or neither. Speeds and what no log shows are not asked: no
/// assessment keeps a verdict on them.
bool same_limits(const Standard& a, const Standard& b);

/// A standard to count by.
struct StandardInForce {
  Standard standard;
  std::vector<std::string> otherwise_limited = {};  ///< SHA-256 of kept texts of its id with other limits
};

/// Judged by a standard, once. A later one stands above it and never replaces it.
struct Assessment {
  RatedAttempt rated;  ///< first_of_day is not kept: it follows from the times
  std::string standard_id;
  std::string standard_sha256 = {};  ///< of its text; empty where it was judged before texts were kept
  Circumstances circumstances;
  Said said;
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
  std::string log_sha256;  ///< of the track, whether or not it came packed
  std::string log_name;
  int index = 0;
  double time_unix_s = 0.0;
  std::vector<Assessment> assessments;  ///< oldest first; of each standard the last one counts
  bool in_trash = false;
  long long student = 0;  ///< number of whoever flew it
};

/// The last one by a standard of that id, whatever its limits were; none where it was never judged by one.
const Assessment* newest_by(const FiledAttempt& attempt, const std::string& standard_id);
/// The one that counts: the last by this standard, with these limits. What was judged before texts were kept
/// counts by the id alone.
const Assessment* newest_by(const FiledAttempt& attempt, const StandardInForce& standard);

struct NewFlight {
  std::string log_name;   ///< as the file was called
  std::string log_bytes;  ///< the original, kept as it came; known by what is inside, packed or not
  std::vector<NewAttempt> attempts;
  std::vector<std::string> doubts = {};  ///< what speaks against its log, where that is a poor one; not kept
  std::optional<KeptStandard> standard = {};  ///< whose text its assessments name; kept with them
};

struct FiledFlight {
  std::string log_sha256;
  int attempts = 0;     ///< new ones
  int judged_anew = 0;  ///< known ones that this filing gave another assessment
};

/// Of a student, or of one attempt. Never changed; the trash is for a slip of the pen.
struct Note {
  long long number = 0;
  std::string uid;
  std::optional<long long> attempt;  ///< its number in these records
  std::string text;
  Stamp stamp;
  bool in_trash = false;
};

/// A named human answers for the student on a date. The records keep it and never make one.
struct SignOff {
  long long number = 0;
  std::string uid;
  std::string what;       ///< "solo accuracy landings"
  std::string signed_by;  ///< who signed
  std::string signed_on;  ///< "2026-11-27"
  std::string withdraws;  ///< uid of an earlier one that this takes back; else empty
  Stamp stamp;            ///< who wrote it down
};

/// One line of what was done to the records. It holds no names of students and no text.
struct Change {
  Stamp stamp;
  std::string what;  ///< "filed", "assessed", "thrown away" ...
  std::string kind;  ///< "student", "attempt", "note", "sign-off"
  long long number = 0;
};

/// What a school has once for all its students: airplanes, whose profile is kept, and airfields, whose
/// runways are.
enum class FleetKind { airplane, airfield };
/// "airplane" or "airfield".
const char* name_of(FleetKind kind);

/// What was said of it, once. A later one stands above it and never replaces it.
struct FleetVersion {
  std::string content;  ///< JSON: a profile, or a list of runways; without needless blanks
  std::string sha256;   ///< of the content
  std::string reason;   ///< why it was changed; empty for the first
  Stamp stamp;
  bool fitted = false;  ///< reckoned from logged glides; else as a person gave it
};

struct FleetItem {
  FleetKind kind = FleetKind::airplane;
  long long number = 0;  ///< in these records
  std::string uid;       ///< the same in every copy and archive
  std::string name;      ///< as the school calls it; no two that are not in the trash have the same
  Stamp added;
  bool in_trash = false;
  std::vector<FleetVersion> versions;  ///< oldest first, by when they were made; the last one counts
};

/// An attempt that was filed under an airplane of the fleet.
struct FleetAttempt {
  long long attempt = 0;
  long long student = 0;
  double time_unix_s = 0.0;
  std::string log_sha256;
  std::string log_name;
  int index = 0;  ///< in its log
};

/// All that is kept of one student.
struct StudentArchive {
  Student student;
  std::vector<FiledAttempt> attempts;
  std::vector<Note> notes;
  std::vector<SignOff> sign_offs;
  std::vector<KeptAnswer> answers;           ///< to drills
  std::vector<KeptStandard> standards = {};  ///< whose texts its assessments name
};

/// What bringing in an archive added; all 0 the second time.
struct Merged {
  bool student = false;
  int attempts = 0;
  int assessments = 0;
  int notes = 0;
  int sign_offs = 0;
  int answers = 0;
  int logs = 0;

  bool anything() const { return student || attempts + assessments + notes + sign_offs + answers + logs > 0; }
};

/// What bringing in airplanes and airfields added.
struct MergedFleet {
  int airplanes = 0;
  int airfields = 0;
  int versions = 0;  ///< those of new ones, too

  bool anything() const { return airplanes + airfields + versions > 0; }
};

/// What went with a person, and what stays.
struct Deletion {
  std::string uid;
  int attempts = 0;
  int assessments = 0;
  int notes = 0;
  int sign_offs = 0;
  int answers = 0;
  int logs = 0;       ///< removed
  int logs_kept = 0;  ///< another student's attempts are in them
};

/// What the records remember of those who were deleted: how often, of whom no longer.
struct Remembered {
  std::string standard_id;
  int year = 0;
  int attempts = 0;
  double met = 0.0;  ///< expected
};

/// One part of the list of students, by name.
struct StudentsPage {
  enum class Order { by_name, by_due };

  std::string search;     ///< a part of the name, in any case of letters; empty: all
  long long after = 0;    ///< number of the last student of the part before; 0: from the start
  int at_most = 1000000;  ///< so many
  Order order = Order::by_name;
  std::optional<long long> instructor = {};  ///< those whom this person looks after; else all
};

}  // namespace glidewright

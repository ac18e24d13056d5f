#pragma once
// What is kept of a student and what it proves, as JSON: `glidewright.record/1`, `glidewright.students/1`,
// `glidewright.history/1`, `glidewright.roster/1` and the parts of a school, docs/schema/.

#include <vector>

#include "engine/debrief/standard.hpp"
#include "formats/progress_json.hpp"
#include "formats/readiness_json.hpp"
#include "store/archive_json.hpp"
#include "store/queue.hpp"
#include "store/school.hpp"

namespace glidewright {

/// By each attempt's newest assessment of this standard; those in the trash do not count.
ReadinessOfLogs readiness_from(const std::vector<FiledAttempt>& attempts, const Standard& standard);
/// `readiness`: of the same attempts.
StudentProgress progress_from(const std::vector<FiledAttempt>& attempts, const ReadinessOfLogs& readiness,
                              const Standard& standard);

Json record_to_json(const StudentArchive& archive, const Standard& standard);
Json students_to_json(const std::vector<Student>& students);
Json history_to_json(const std::vector<Change>& changes);

/// `glidewright.fleet/1`: airplanes or airfields, with their versions.
Json fleet_to_json(FleetKind kind, const std::vector<FleetItem>& items);
/// `glidewright.fleet-item/1`: one of them, whole, with what was filed under it last.
Json fleet_item_shown_to_json(const FleetItem& item, const std::vector<FleetAttempt>& flown);

/// Its id, name and box.
Json standard_line(const Standard& standard);
Json person_to_json(const Person& person);
Json people_to_json(const std::vector<Person>& people);
Json job_to_json(const Job& job);
Json jobs_to_json(const std::vector<Job>& jobs);

/// A student in one row: what is due, the latest landings, what they prove, what to fly next.
struct RosterRow {
  Student student;
  std::vector<FiledAttempt> attempts;  ///< the latest, in the order flown
  ReadinessOfLogs readiness;           ///< from these attempts
};
/// Rows in the order given; it is no ranking. `landings`: how many of the latest are listed one by one.
Json roster_to_json(const std::vector<RosterRow>& rows, const std::vector<Person>& people,
                    const Standard& standard, int landings = 10);

}  // namespace glidewright

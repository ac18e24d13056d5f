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
ReadinessOfLogs readiness_from(const std::vector<FiledAttempt>& attempts, const StandardInForce& standard);
/// How many were judged by an earlier text of it alone, whose limits were others: they do not count until
/// they are judged by this one.
int judged_by_other_limits(const std::vector<FiledAttempt>& attempts, const StandardInForce& standard);
/// `readiness`: of the same attempts.
StudentProgress progress_from(const std::vector<FiledAttempt>& attempts, const ReadinessOfLogs& readiness,
                              const StandardInForce& standard);

Json record_to_json(const StudentArchive& archive, const StandardInForce& standard);
Json students_to_json(const std::vector<Student>& students);
Json history_to_json(const std::vector<Change>& changes);

/// `glidewright.fleet/1`: airplanes or airfields, with their versions.
Json fleet_to_json(FleetKind kind, const std::vector<FleetItem>& items);
/// `glidewright.fleet-item/1`: one of them, whole, with what was filed under it last.
Json fleet_item_shown_to_json(const FleetItem& item, const std::vector<FleetAttempt>& flown);

/// `glidewright.standards/1`: those whose texts are kept.
Json standards_to_json(const std::vector<KeptStandard>& standards);
/// Its id, name and box, and which texts of its id have other limits.
Json standard_line(const StandardInForce& in_force);
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
                    const StandardInForce& standard, int landings = 10);

}  // namespace glidewright

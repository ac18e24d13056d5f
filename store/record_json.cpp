#include "store/record_json.hpp"

#include <algorithm>

#include "formats/drill_json.hpp"
#include "formats/drill_over_time.hpp"
#include "formats/flown_by.hpp"
#include "formats/time.hpp"

namespace glidewright {
namespace {

Json stamp_to_json(const Stamp& stamp) {
  return {{"by", stamp.by}, {"at", iso8601_utc(stamp.unix_s, 0)}};
}

Json student_line(const Student& one) {
  Json line{{"number", one.number},     {"uid", one.uid},
            {"name", one.name},         {"added", iso8601_utc(one.added.unix_s, 0)},
            {"added_by", one.added.by}, {"in_trash", one.in_trash}};
  if (one.instructor) line["instructor"] = *one.instructor;
  if (!one.due_on.empty()) line["due"] = {{"on", one.due_on}, {"what", one.due_what}};
  return line;
}

Json landing_to_json(const FiledAttempt& attempt, const Assessment& now) {
  Json landing{{"attempt", attempt.number},
               {"flown", iso8601_utc(attempt.time_unix_s, 0)},
               {"went_around", now.rated.end == RatedAttempt::End::went_around},
               {"alone", now.rated.student_alone()},
               {"flown_by", flown_by_name(now.rated.flown_by)},
               {"forced", now.rated.forced},
               {"probability_in_box", number(now.rated.probability_in_box, 6)}};
  const Circumstances& how = now.circumstances;
  if (how.along_ft && how.along_low95_ft && how.along_high95_ft) {
    landing["along_ft"] = number(*how.along_ft, 0);
    landing["low95_ft"] = number(*how.along_low95_ft, 0);
    landing["high95_ft"] = number(*how.along_high95_ft, 0);
  }
  return landing;
}

Json roster_row_to_json(const RosterRow& row, const std::vector<Person>& people,
                        const StandardInForce& standard, int landings) {
  Json line = student_line(row.student);
  if (row.student.instructor)
    for (const Person& one : people)
      if (one.number == *row.student.instructor) line["instructor_name"] = one.name;
  const StudentProgress progress = progress_from(row.attempts, row.readiness, standard);
  std::vector<Json> listed;
  for (auto one = row.attempts.rbegin(); one != row.attempts.rend(); ++one) {
    if (line.find("last_flown") == line.end()) line["last_flown"] = iso8601_utc(one->time_unix_s, 0);
    const Assessment* now = newest_by(*one, standard);
    if (now != nullptr && static_cast<int>(listed.size()) < landings)
      listed.push_back(landing_to_json(*one, *now));
  }
  std::reverse(listed.begin(), listed.end());
  line["landings"] = listed;
  const Readiness& proved = row.readiness.readiness;
  line["met"] = {
      {"made", number(proved.met.made, 2)},         {"of", proved.met.of},
      {"at_least", number(proved.at_least, 4)},     {"next_mean", number(proved.next_mean, 4)},
      {"next_low90", number(proved.next_low90, 4)}, {"next_high90", number(proved.next_high90, 4)}};
  if (!progress.causes.empty())
    line["largest_cause"] = {{"cause", progress.causes.front().cause},
                             {"mean_ft", number(progress.causes.front().mean_ft, 0)},
                             {"attempts", progress.causes.front().attempts}};
  if (!progress.practise.empty()) line["next"] = progress.practise.front().what;
  return line;
}

}  // namespace

ReadinessOfLogs readiness_from(const std::vector<FiledAttempt>& attempts, const StandardInForce& standard) {
  ReadinessOfLogs result;
  result.standard_id = standard.standard.id;
  result.standard_name = standard.standard.name;
  for (const FiledAttempt& one : attempts) {
    const Assessment* now = newest_by(one, standard);
    if (!one.in_trash && now != nullptr)
      result.attempts.push_back({one.log_name, one.index, one.time_unix_s, now->rated});
  }
  complete_readiness(result);
  return result;
}

int judged_by_other_limits(const std::vector<FiledAttempt>& attempts, const StandardInForce& standard) {
  return static_cast<int>(std::count_if(attempts.begin(), attempts.end(), [&](const FiledAttempt& one) {
    return !one.in_trash && newest_by(one, standard) == nullptr &&
           newest_by(one, standard.standard.id) != nullptr;
  }));
}

StudentProgress progress_from(const std::vector<FiledAttempt>& attempts, const ReadinessOfLogs& readiness,
                              const StandardInForce& standard) {
  std::vector<PractisedAttempt> practised;
  for (const FiledAttempt& one : attempts) {
    const Assessment* now = newest_by(one, standard);
    if (one.in_trash || now == nullptr) continue;
    PractisedAttempt attempt;
    attempt.rated = now->rated;
    attempt.causes = now->circumstances.causes;
    attempt.wind_kt = now->circumstances.wind_kt;
    attempt.airplane = now->circumstances.airplane;
    attempt.instructor = now->stamp.by;
    practised.push_back(std::move(attempt));
  }
  // Which of them was the first of its day has been found there already.
  for (std::size_t i = 0; i < practised.size() && i < readiness.attempts.size(); ++i)
    practised[i].rated.first_of_day = readiness.attempts[i].rated.first_of_day;
  return progress_of(practised, readiness.rules);
}

Json record_to_json(const StudentArchive& archive, const StandardInForce& standard) {
  const ReadinessOfLogs readiness = readiness_from(archive.attempts, standard);
  const StudentProgress progress = progress_from(archive.attempts, readiness, standard);
  Json object;
  object["schema"] = "glidewright.record/1";
  object["number"] = archive.student.number;
  object["student"] = student_to_json(archive);
  object["readiness"] = readiness_to_json(readiness);
  object["progress"] = progress_to_json(progress);
  object["judged_by_other_limits"] = judged_by_other_limits(archive.attempts, standard);
  object["standards"] = Json::array();
  for (const KeptStandard& one : archive.standards) object["standards"].push_back(kept_standard_to_json(one));
  object["drill_score"] = score_to_json(score_of_kept(archive.answers));
  object["drill_over_time"] = drill_periods_to_json(drill_periods(archive.answers));
  return object;
}

Json students_to_json(const std::vector<Student>& students) {
  Json object;
  object["schema"] = "glidewright.students/1";
  object["students"] = Json::array();
  for (const Student& one : students) object["students"].push_back(student_line(one));
  return object;
}

Json history_to_json(const std::vector<Change>& changes) {
  Json object;
  object["schema"] = "glidewright.history/1";
  object["changes"] = Json::array();
  for (const Change& one : changes)
    object["changes"].push_back({{"at", iso8601_utc(one.stamp.unix_s, 3)},
                                 {"by", one.stamp.by},
                                 {"what", one.what},
                                 {"kind", one.kind},
                                 {"number", one.number}});
  return object;
}

namespace {

Json fleet_line(const FleetItem& item) {
  Json object{{"number", item.number}};
  object.update(fleet_item_to_json(item));
  return object;
}

}  // namespace

Json fleet_to_json(FleetKind kind, const std::vector<FleetItem>& items) {
  Json object{{"schema", "glidewright.fleet/1"}, {"kind", name_of(kind)}, {"items", Json::array()}};
  for (const FleetItem& one : items) object["items"].push_back(fleet_line(one));
  return object;
}

Json fleet_item_shown_to_json(const FleetItem& item, const std::vector<FleetAttempt>& flown) {
  Json object{
      {"schema", "glidewright.fleet-item/1"}, {"kind", name_of(item.kind)}, {"item", fleet_line(item)}};
  object["filed_last"] = Json::array();
  for (const FleetAttempt& one : flown)
    object["filed_last"].push_back({{"attempt", one.attempt},
                                    {"student", one.student},
                                    {"time", iso8601_utc(one.time_unix_s, 0)},
                                    {"log", one.log_sha256},
                                    {"log_name", one.log_name},
                                    {"index", one.index}});
  return object;
}

Json standards_to_json(const std::vector<KeptStandard>& standards) {
  Json object{{"schema", "glidewright.standards/1"}, {"standards", Json::array()}};
  for (const KeptStandard& one : standards) object["standards"].push_back(kept_standard_to_json(one));
  return object;
}

Json standard_line(const StandardInForce& in_force) {
  const Standard& standard = in_force.standard;
  Json object{{"id", standard.id}, {"name", standard.name}};
  if (!standard.version.empty()) object["version"] = standard.version;
  if (!standard.set_by.empty()) object["set_by"] = standard.set_by;
  if (standard.box) {
    object["low_ft"] = number(standard.box->low_ft, 0);
    object["high_ft"] = number(standard.box->high_ft, 0);
  }
  if (!in_force.otherwise_limited.empty()) object["otherwise_limited"] = in_force.otherwise_limited;
  return object;
}

Json person_to_json(const Person& person) {
  Json object{{"number", person.number},
              {"name", person.name},
              {"sign_in", person.sign_in},
              {"role", name_of(person.role)},
              {"closed", person.closed},
              {"has_password", person.has_password},
              {"added", stamp_to_json(person.added)}};
  if (person.student) object["student"] = *person.student;
  return object;
}

Json people_to_json(const std::vector<Person>& people) {
  Json object;
  object["schema"] = "glidewright.people/1";
  object["people"] = Json::array();
  for (const Person& one : people) object["people"].push_back(person_to_json(one));
  return object;
}

Json job_to_json(const Job& job) {
  Json object{{"number", job.number},
              {"student", job.student},
              {"log", job.log_name},
              {"state", name_of(job.state)},
              {"asked", stamp_to_json(job.stamp)}};
  if (job.state == Job::State::done) {
    object["new_attempts"] = job.attempts;
    object["judged_anew"] = job.judged_anew;
  }
  if (job.state == Job::State::failed) object["reason"] = job.said;
  if (job.ended_unix_s) object["ended"] = iso8601_utc(*job.ended_unix_s, 0);
  return object;
}

Json jobs_to_json(const std::vector<Job>& jobs) {
  Json object;
  object["schema"] = "glidewright.jobs/1";
  object["jobs"] = Json::array();
  for (const Job& job : jobs) object["jobs"].push_back(job_to_json(job));
  return object;
}

Json roster_to_json(const std::vector<RosterRow>& rows, const std::vector<Person>& people,
                    const StandardInForce& standard, int landings) {
  Json object;
  object["schema"] = "glidewright.roster/1";
  object["standard"] = standard_line(standard);
  object["students"] = Json::array();
  for (const RosterRow& row : rows)
    object["students"].push_back(roster_row_to_json(row, people, standard, landings));
  return object;
}

}  // namespace glidewright

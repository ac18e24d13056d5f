// Logs that are filed, and their debriefs.
#include <fmt/format.h>

#include <algorithm>

#include "apps/server/known_to_records.hpp"
#include "apps/server/route.hpp"

namespace glidewright::api {
namespace {

/// How to debrief a log, and that the fleet has what it names.
void require_right(const Call& call, const std::string& asked) {
  if (const auto wrong = call.parts.wrong_with_asked(asked); !wrong.empty()) throw Refused{400, wrong};
  must(call, known_to_records(call.records, asked), 400);
}

/// Kept when this is answered; debriefed when its turn comes.
ApiAnswer file_log(Call& call) {
  const Student student = student_seen(call);
  const std::string name = call.query("name");
  if (name.empty()) throw Refused{400, "name: what the log's file is called was expected"};
  const std::string asked = call.query("asked").empty() ? "{}" : call.query("asked");
  require_right(call, asked);
  Queue queue(call.records);
  return json_answer(
      job_to_json(must(call, queue.put(student.number, name, call.request.body, asked, call.stamp()))), 202);
}

ApiAnswer jobs_of(Call& call) {
  const Student student = student_seen(call);
  Queue queue(call.records);
  return json_answer(jobs_to_json(must(call, queue.of_student(student.number))));
}

/// The job of the path, where its student may be seen.
Job job_seen(Call& call) {
  Queue queue(call.records);
  Job job = must(call, queue.find(call.numbers.at(0)), 404);
  auto student = call.records.find_student(std::to_string(job.student));
  if (!student) refuse(call, student.error(), 404);
  if (call.person && !may_see(*call.person, *student))
    throw Refused{404, fmt::format("no debrief has the number {}", job.number)};
  return job;
}

ApiAnswer job(Call& call) {
  return json_answer(job_to_json(job_seen(call)));
}

ApiAnswer ask_again(Call& call) {
  const Job known = job_seen(call);
  const std::string asked = call.query("asked").empty() ? known.asked : call.query("asked");
  require_right(call, asked);
  must(call, Queue(call.records).ask_again(known.number, asked, call.stamp()));
  return done();
}

ApiAnswer dismiss(Call& call) {
  must(call, Queue(call.records).dismiss(job_seen(call).number, call.stamp()));
  return done();
}

/// As it was filed, so that the page can debrief it before somebody's eyes.
ApiAnswer original(Call& call) {
  const Student student = student_seen(call);
  const auto attempts = must(call, call.records.attempts_of(student.number));
  const auto own = std::find_if(attempts.begin(), attempts.end(),
                                [&](const FiledAttempt& one) { return one.log_sha256 == call.words.at(0); });
  if (own == attempts.end()) throw Refused{404, student.name + " has no such log"};
  ApiAnswer answer;
  answer.body = must(call, call.records.original(own->log_sha256));
  answer.type = "application/octet-stream";
  answer.file_name = own->log_name;
  return answer;
}

}  // namespace

const std::vector<Route>& log_routes() {
  static const std::vector<Route> routes = {
      {"POST", "students/#/logs", Who::signed_in, file_log},
      {"GET", "students/#/logs/*", Who::signed_in, original},
      {"GET", "students/#/jobs", Who::signed_in, jobs_of},
      {"GET", "jobs/#", Who::signed_in, job},
      {"POST", "jobs/#/again", Who::signed_in, ask_again},
      {"POST", "jobs/#/dismiss", Who::signed_in, dismiss},
  };
  return routes;
}

}  // namespace glidewright::api

namespace glidewright {

JobsNow jobs_now(Api& api, const ApiRequest& request) {
  JobsNow now{api.answer(request), true};
  if (now.answer.status != 200) return now;
  const Json list = Json::parse(now.answer.body);
  for (const auto& job : list["jobs"])
    if (job["state"] == "waiting" || job["state"] == "taken") now.all_ended = false;
  return now;
}

}  // namespace glidewright

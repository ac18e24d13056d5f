// Students and what is kept of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "apps/server/route.hpp"
#include "formats/drill_json.hpp"
#include "formats/flown_by.hpp"
#include "formats/time.hpp"
#include "store/archive_zip.hpp"
#include "store/correction.hpp"

namespace glidewright::api {
namespace {

constexpr int k_longest_page = 200;

/// Who sees only their own, sees these whatever is asked.
StudentsPage page_asked_for(const Call& call) {
  StudentsPage page;
  page.search = call.query("search");
  page.after = call.query_number("after").value_or(0);
  page.at_most =
      static_cast<int>(std::clamp<long long>(call.query_number("at_most").value_or(50), 1, k_longest_page));
  page.instructor = call.query_number("instructor");
  if (call.query("order") == "due") page.order = StudentsPage::Order::by_due;
  if (call.person && call.person->role == Role::instructor) page.instructor = call.person->number;
  return page;
}

std::vector<Student> students_of(Call& call, const StudentsPage& page) {
  if (!call.person || call.person->role != Role::student) return must(call, call.records.students(page));
  auto own = call.records.find_student(std::to_string(call.person->student.value_or(0)));
  if (!own) return {};
  return {*own};
}

ApiAnswer list(Call& call) {
  return json_answer(students_to_json(students_of(call, page_asked_for(call))));
}

ApiAnswer roster(Call& call) {
  // Enough for the window of readiness where some of them do not count; all of them where it is not.
  constexpr int k_some = 40, k_all = 1000000;
  const StandardInForce standard = call.standard();
  const auto page = page_asked_for(call);
  std::vector<Student> students = students_of(call, page);
  std::vector<long long> numbers;
  for (const Student& student : students) numbers.push_back(student.number);
  auto latest = must(call, call.school.latest_attempts_of(numbers, k_some));
  std::vector<RosterRow> rows;
  for (Student& student : students) {
    auto& attempts = latest[student.number];
    auto readiness = readiness_from(attempts, standard);
    if (attempts.size() >= k_some && readiness.readiness.met.of < readiness.rules.window) {
      attempts =
          std::move(must(call, call.school.latest_attempts_of({student.number}, k_all))[student.number]);
      readiness = readiness_from(attempts, standard);
    }
    rows.push_back({std::move(student), std::move(attempts), std::move(readiness)});
  }
  Json object = roster_to_json(rows, must(call, call.school.people()), standard);
  if (!rows.empty() && static_cast<int>(rows.size()) == page.at_most)
    object["next_after"] = rows.back().student.number;
  return json_answer(object);
}

ApiAnswer add(Call& call) {
  const auto name = read_body(call, [](JsonFields& fields) { return fields.text("name"); });
  const Stamp stamp = call.stamp();
  const Student student = must(call, call.records.add_student(name, stamp));
  // Who adds a student looks after the student.
  if (call.person && call.person->role == Role::instructor)
    must(call, call.school.hand_over(student.number, call.person->number, stamp));
  return json_answer({{"number", student.number}, {"uid", student.uid}, {"name", student.name}}, 201);
}

ApiAnswer show(Call& call) {
  const Student student = student_seen(call);
  const StandardInForce standard = call.standard();
  Json object;
  object["schema"] = "glidewright.student/1";
  object["record"] = record_to_json(must(call, call.records.archive_of(student.number)), standard);
  object["standard"] = standard_line(standard);
  object["may_change"] = !call.person || may_change(*call.person, student);
  if (!student.due_on.empty()) object["due"] = {{"on", student.due_on}, {"what", student.due_what}};
  if (student.instructor) object["instructor"] = *student.instructor;
  return json_answer(object);
}

ApiAnswer rename(Call& call) {
  const Student student = student_changed(call);
  const auto name = read_body(call, [](JsonFields& fields) { return fields.text("name"); });
  must(call, call.records.rename_student(student.number, name, call.stamp()));
  return done();
}

ApiAnswer due(Call& call) {
  const Student student = student_changed(call);
  struct Due {
    std::string on, what;
  };
  const auto due = read_body(call, [](JsonFields& fields) {
    Due read;
    fields.replace_text("on", read.on);
    fields.replace_text("what", read.what);
    return read;
  });
  must(call, call.school.set_due(student.number, due.on, due.what, call.stamp()));
  return done();
}

ApiAnswer hand_over(Call& call) {
  const Student student = student_changed(call);
  const auto to =
      read_body(call, [](JsonFields& fields) { return optional_record_number(fields, "person"); });
  must(call, call.school.hand_over(student.number, to, call.stamp()));
  return done();
}

ApiAnswer add_note(Call& call) {
  const Student student = student_changed(call);
  struct Said {
    std::string text;
    std::optional<long long> attempt;
  };
  const auto said = read_body(call, [](JsonFields& fields) {
    return Said{fields.text("text"), optional_record_number(fields, "attempt")};
  });
  const Note note = must(call, call.records.add_note(student.number, said.attempt, said.text, call.stamp()));
  return json_answer({{"number", note.number}}, 201);
}

/// By whoever is signed in where nobody else is named; the program never signs.
ApiAnswer add_sign_off(Call& call) {
  const Student student = student_changed(call);
  SignOff next = read_body(call, [&](JsonFields& fields) {
    SignOff read;
    read.what = fields.text("what");
    read.signed_on = fields.text("signed_on");
    if (call.person) read.signed_by = call.person->name;
    fields.replace_text("signed_by", read.signed_by);
    fields.replace_text("withdraws", read.withdraws);
    if (!read_date(read.signed_on)) fields.add_problem("signed_on", "a day such as 2026-05-14 was expected");
    return read;
  });
  const SignOff kept = must(call, call.records.add_sign_off(student.number, next, call.stamp()));
  return json_answer({{"number", kept.number}, {"uid", kept.uid}}, 201);
}

ApiAnswer history(Call& call) {
  const Student student = student_seen(call);
  return json_answer(history_to_json(must(call, call.records.changes_of(student.number))));
}

ApiAnswer archive(Call& call) {
  const Student student = student_seen(call);
  Archive all{call.stamp(), {must(call, call.records.archive_of(student.number))}};
  all.fleet = must(call, fleet_flown_by(call.records, all.students));
  all.standards = standards_of(all.students);
  ApiAnswer answer;
  answer.body = must(call, archive_zip(call.records, all));
  answer.type = "application/zip";
  answer.file_name = fmt::format("student-{}.zip", student.number);
  return answer;
}

ApiAnswer add_answers(Call& call) {
  const Student student = student_seen(call);
  const auto answers = read_answers_json(call.request.body, "what was sent");
  if (!answers) throw Refused{400, answers.error().sentence};
  return json_answer({{"new", must(call, call.records.add_answers(student.number, *answers, call.stamp()))}});
}

/// The one of the student's attempts or notes that the path names; 404 for anybody else's.
template <class One>
const One& own(const Call& call, const Student& student, const std::vector<One>& all, const char* kind) {
  const long long number = call.numbers.at(1);
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const One& one) { return one.number == number; });
  if (found == all.end()) throw Refused{404, fmt::format("{} has no {} {}", student.name, kind, number)};
  return *found;
}

struct Corrected {
  Said said;
  std::string reason;
  int versions_seen = 0;
};

Corrected correction_sent(const Call& call) {
  return read_body(call, [](JsonFields& fields) {
    Corrected read;
    const auto say = [&](const char* name, std::optional<bool>& value) {
      if (fields.has(name)) value = fields.flag(name);
    };
    if (fields.has("flown_by")) {
      read.said.flown_by = flown_by_said(fields.text("flown_by"));
      if (!read.said.flown_by)
        fields.add_problem("flown_by", "flown_by: " + flown_by_expected() + " was expected");
    }
    say("forced", read.said.forced);
    say("met", read.said.met);
    say("in_box", read.said.in_box);
    read.reason = fields.text("reason");
    read.versions_seen = static_cast<int>(std::lround(fields.number("versions_seen", {1.0, 1e6})));
    return read;
  });
}

/// Two who look at the same attempt: the second is told, and nothing is lost.
ApiAnswer assess(Call& call) {
  const Student student = student_changed(call);
  const StandardInForce standard = call.standard();
  const Corrected sent = correction_sent(call);
  const auto attempts = must(call, call.records.attempts_of(student.number));
  const FiledAttempt& attempt = own(call, student, attempts, "attempt");
  const Assessment* now = newest_by(attempt, standard);
  if (now == nullptr)
    throw Refused{409, fmt::format("attempt {} was not judged by {}", attempt.number, standard.standard.id)};
  const auto next = corrected(attempt.number, *now, sent.said, sent.reason, call.stamp());
  if (!next) throw Refused{400, next.error().sentence};
  must(call, call.records.assess_again(attempt.number, *next, sent.versions_seen));
  return done();
}

ApiAnswer throw_student_away(Call& call) {
  must(call, call.records.throw_student_away(student_changed(call).number, call.stamp()));
  return done();
}

ApiAnswer throw_attempt_away(Call& call) {
  const Student student = student_changed(call);
  const auto attempts = must(call, call.records.attempts_of(student.number));
  must(call, call.records.throw_attempt_away(own(call, student, attempts, "attempt").number, call.stamp()));
  return done();
}

ApiAnswer throw_note_away(Call& call) {
  const Student student = student_changed(call);
  const auto notes = must(call, call.records.notes_of(student.number));
  must(call, call.records.throw_note_away(own(call, student, notes, "note").number, call.stamp()));
  return done();
}

ApiAnswer undo(Call& call) {
  const Stamp stamp = call.stamp();
  return json_answer(
      {{"taken_back", must(call, call.records.undo_last_throwing_away(stamp.by, stamp.unix_s))}});
}

}  // namespace

const std::vector<Route>& student_routes() {
  static const std::vector<Route> routes = {
      {"GET", "students", Who::signed_in, list},
      {"POST", "students", Who::instructor, add},
      {"GET", "roster", Who::signed_in, roster},
      {"GET", "students/#", Who::signed_in, show},
      {"POST", "students/#/name", Who::instructor, rename},
      {"POST", "students/#/due", Who::instructor, due},
      {"POST", "students/#/instructor", Who::instructor, hand_over},
      {"POST", "students/#/notes", Who::instructor, add_note},
      {"POST", "students/#/sign-offs", Who::instructor, add_sign_off},
      {"POST", "students/#/answers", Who::signed_in, add_answers},
      {"GET", "students/#/history", Who::signed_in, history},
      {"GET", "students/#/archive", Who::signed_in, archive},
      {"POST", "students/#/attempts/#/assessment", Who::instructor, assess},
      {"POST", "students/#/trash", Who::instructor, throw_student_away},
      {"POST", "students/#/attempts/#/trash", Who::instructor, throw_attempt_away},
      {"POST", "students/#/notes/#/trash", Who::instructor, throw_note_away},
      {"POST", "undo", Who::instructor, undo},
  };
  return routes;
}

}  // namespace glidewright::api

// The people of a school: school add, people, password, close, open, hand-over, due
#include <fmt/format.h>
#include <termios.h>
#include <unistd.h>

#include <iostream>
#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/terminal.hpp"
#include "store/record_json.hpp"

namespace glidewright {
namespace {

struct SchoolOptions {
  std::string records;
  std::string by;
  std::string name;
  std::string sign_in;
  std::string role = "instructor";
  std::string person;
  std::string student;
  std::string to;
  std::string on;
  std::string what;
  bool nobody = false;
  bool json = false;
};

using Shared = std::shared_ptr<SchoolOptions>;
using Run = ExitCode (*)(const SchoolOptions&);

Stamp stamp_of(const SchoolOptions& options) {
  return {options.by, now_unix_s()};
}

/// One line without showing it where somebody types it.
std::string typed_secretly(const std::string& prompt) {
  const bool terminal = isatty(STDIN_FILENO) != 0;
  termios before{};
  if (terminal) {
    std::cerr << prompt << std::flush;
    tcgetattr(STDIN_FILENO, &before);
    termios hidden = before;
    hidden.c_lflag &= static_cast<tcflag_t>(~ECHO);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &hidden);
  }
  std::string line;
  std::getline(std::cin, line);
  if (terminal) {
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &before);
    std::cerr << "\n";
  }
  return line;
}

ExitCode set_password(School& school, const Person& person, const SchoolOptions& options) {
  const std::string password = typed_secretly("password of " + person.name + ": ");
  if (isatty(STDIN_FILENO) != 0 && typed_secretly("once more: ") != password)
    return input_is_at_fault({"the two are not the same; nothing was changed"});
  if (const auto failed = school.set_password(person.number, password, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(person.name + " signs in as \"" + person.sign_in + "\" with the new password.");
}

ExitCode add(const SchoolOptions& options) {
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  NewPerson next{options.name, options.sign_in, role_named(options.role).value_or(Role::instructor), {}};
  if (!options.student.empty()) {
    const auto student = records->find_student(options.student);
    if (!student) return input_is_at_fault(student.error());
    next.student = student->number;
  }
  School school(*records);
  const auto person = school.add(next, stamp_of(options));
  if (!person) return input_is_at_fault(person.error());
  return say(fmt::format("{} is person {}, {}; school password lets them sign in as \"{}\".", person->name,
                         person->number, name_of(person->role), person->sign_in));
}

/// Opens records that are there, and finds the person of the options in them.
struct OpenedPerson {
  Records records;
  Person person;
};
Result<OpenedPerson> open_for_person(const SchoolOptions& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return records.error();
  auto person = School(*records).find(options.person);
  if (!person) return person.error();
  return OpenedPerson{std::move(*records), std::move(*person)};
}

ExitCode password(const SchoolOptions& options) {
  auto opened = open_for_person(options);
  if (!opened) return input_is_at_fault(opened.error());
  School school(opened->records);
  return set_password(school, opened->person, options);
}

ExitCode close(const SchoolOptions& options) {
  auto opened = open_for_person(options);
  if (!opened) return input_is_at_fault(opened.error());
  if (const auto failed = School(opened->records).close(opened->person.number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(opened->person.name + " can no longer sign in; what they wrote stays.");
}

ExitCode open_again(const SchoolOptions& options) {
  auto opened = open_for_person(options);
  if (!opened) return input_is_at_fault(opened.error());
  if (const auto failed = School(opened->records).open_again(opened->person.number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(opened->person.name + " can sign in again.");
}

std::string line_of(const Person& one) {
  return fmt::format("person {}: {}, {}, signs in as \"{}\"{}{}", one.number, one.name, name_of(one.role),
                     one.sign_in, one.has_password ? "" : ", has no password yet",
                     one.closed ? ", closed" : "");
}

ExitCode people(const SchoolOptions& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto all = School(*records).people();
  if (!all) return input_is_at_fault(all.error());
  if (options.json) {
    write_json(people_to_json(*all));
    return ExitCode::done;
  }
  if (all->empty()) return say("Nobody signs in to these records; school add makes the first.");
  const Page page = standard_output_page();
  std::string text;
  for (const Person& one : *all) text += wrapped(line_of(one), {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

ExitCode hand_over(const SchoolOptions& options) {
  if (options.nobody != options.to.empty()) {
    write_error("school hand-over: either --to or --to-nobody was expected");
    return ExitCode::wrong_usage;
  }
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->find_student(options.student);
  if (!student) return input_is_at_fault(student.error());
  School school(*records);
  std::optional<long long> to;
  std::string name = "nobody";
  if (!options.nobody) {
    const auto person = school.find(options.to);
    if (!person) return input_is_at_fault(person.error());
    to = person->number;
    name = person->name;
  }
  if (const auto failed = school.hand_over(student->number, to, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(fmt::format("{} is looked after by {} now.", student->name, name));
}

ExitCode due(const SchoolOptions& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto student = records->find_student(options.student);
  if (!student) return input_is_at_fault(student.error());
  if (const auto failed =
          School(*records).set_due(student->number, options.on, options.what, stamp_of(options)))
    return input_is_at_fault(*failed);
  if (options.on.empty()) return say("Nothing is due for " + student->name + ".");
  return say(fmt::format("Due for {} on {}{}{}.", student->name, options.on, options.what.empty() ? "" : ": ",
                         options.what));
}

Command part(const Command& school, const Shared& options, const char* name, const char* what, Run run) {
  const auto command = school.add_command(name, what);
  add_records_option(command, options->records, "the file of records, or postgresql://...");
  command.runs([options, run] { return run(*options); });
  return command;
}

void add_person_parts(const Command& school, const Shared& options) {
  const auto added = part(school, options, "add", "a person who may sign in", add);
  added.add_option("NAME", options->name, "as it stands on what they change").required();
  added.add_option("--sign-in", options->sign_in, "what they type to sign in: small letters")
      .type_name("NAME")
      .required();
  added.add_option("--role", options->role, "student, instructor (else this) or administrator")
      .one_of({"student", "instructor", "administrator"});
  added.add_option("--student", options->student, "for the role student: whose record is their own")
      .type_name("WHO");
  add_by_option(added, options->by);
  const auto listed = part(school, options, "people", "who may sign in", people);
  add_json_flag(listed, options->json);
  const std::vector<std::tuple<const char*, const char*, Run>> one_person = {
      {"password", "give a person a password, asked for or from standard input; their sessions end",
       password},
      {"close", "let a person sign in no longer; what they wrote stays", close},
      {"open", "let a person sign in again", open_again}};
  for (const auto& [name, what, run] : one_person) {
    const auto command = part(school, options, name, what, run);
    command.add_option("PERSON", options->person, "number, or what they sign in with").required();
    add_by_option(command, options->by);
  }
}

void add_student_parts(const Command& school, const Shared& options) {
  const auto handed = part(school, options, "hand-over", "say who looks after a student", hand_over);
  handed.add_option("STUDENT", options->student, "name or number").required();
  handed.add_option("--to", options->to, "the instructor: number, or what they sign in with")
      .type_name("PERSON");
  handed.add_flag("--to-nobody", options->nobody, "nobody but an administrator sees the student then");
  add_by_option(handed, options->by);
  const auto said =
      part(school, options, "due", "say what is due for a student next; nothing, without --on", due);
  said.add_option("STUDENT", options->student, "name or number").required();
  said.add_option("--on", options->on, "the day, 2026-05-21").type_name("DAY");
  said.add_option("--what", options->what, "such as progress check").type_name("TEXT");
  add_by_option(said, options->by);
}

}  // namespace

void add_school(Program& program) {
  const auto options = std::make_shared<SchoolOptions>();
  const auto command =
      program.add_command("school", "who may sign in to the records, and whom they look after");
  add_person_parts(command, options);
  add_student_parts(command, options);
  add_examples(
      command,
      "  glidewright school add 'Instructor M' --sign-in m --role administrator --by 'Demo Instructor' "
      "--records build/demo.records\n"
      "  glidewright school people --records build/demo.records\n"
      "Instructors see the students whom they look after, students their own record, administrators all.");
}

}  // namespace glidewright

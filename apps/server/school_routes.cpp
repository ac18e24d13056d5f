// The people of the school.
#include "apps/server/route.hpp"

namespace glidewright::api {
namespace {

ApiAnswer list(Call& call) {
  const auto people = must(call, call.school.people());
  if (!call.signs_in || (call.person && call.person->role == Role::administrator))
    return json_answer(people_to_json(people));
  // To hand a student over, an instructor needs the colleagues, by name alone.
  Json object = people_to_json({});
  for (const Person& one : people)
    if (one.role != Role::student && !one.closed)
      object["people"].push_back({{"number", one.number}, {"name", one.name}, {"role", name_of(one.role)}});
  return json_answer(object);
}

ApiAnswer add(Call& call) {
  struct Sent {
    NewPerson person;
    std::string password;
  };
  const auto sent = read_body(call, [](JsonFields& fields) {
    Sent read;
    read.person.name = fields.text("name");
    read.person.sign_in = fields.text("sign_in");
    const std::string role = fields.text("role");
    if (const auto known = role_named(role))
      read.person.role = *known;
    else
      fields.add_problem("role", "student, instructor or administrator was expected");
    read.person.student = optional_record_number(fields, "student");
    fields.replace_text("password", read.password);
    return read;
  });
  const Person person = must(call, call.school.add(sent.person, call.stamp()));
  if (!sent.password.empty())
    must(call, call.school.set_password(person.number, sent.password, call.stamp()));
  return json_answer(person_to_json(must(call, call.school.find(std::to_string(person.number)))), 201);
}

ApiAnswer set_password(Call& call) {
  const auto password = read_body(call, [](JsonFields& fields) { return fields.text("password"); });
  must(call, call.school.set_password(call.numbers.at(0), password, call.stamp()));
  return done();
}

ApiAnswer close(Call& call) {
  must(call, call.school.close(call.numbers.at(0), call.stamp()));
  return done();
}

ApiAnswer open_again(Call& call) {
  must(call, call.school.open_again(call.numbers.at(0), call.stamp()));
  return done();
}

}  // namespace

const std::vector<Route>& school_routes() {
  static const std::vector<Route> routes = {
      {"GET", "people", Who::instructor, list},
      {"POST", "people", Who::administrator, add},
      {"POST", "people/#/password", Who::administrator, set_password},
      {"POST", "people/#/close", Who::administrator, close},
      {"POST", "people/#/open", Who::administrator, open_again},
  };
  return routes;
}

}  // namespace glidewright::api

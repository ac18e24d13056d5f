// The people of a school.
#include <fmt/format.h>

#include <algorithm>

#include "formats/number.hpp"
#include "formats/uid.hpp"
#include "store/connection.hpp"
#include "store/password.hpp"
#include "store/people_rows.hpp"
#include "store/rows.hpp"
#include "store/school.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_shortest_password = 10;
constexpr std::size_t k_longest_password = 200;  // what is hashed costs time

/// The changes of a person stand with no student.
constexpr long long k_no_student = 0;

void require_sign_in_name(const std::string& name) {
  const bool right = !name.empty() && name.size() <= 64 && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '.' || c == '-' || c == '_' || c == '@';
  });
  const bool number = std::all_of(name.begin(), name.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (!right || number)
    throw Refusal(
        "the name to sign in with: up to 64 small letters, digits, dots, hyphens, underlines or @ were "
        "expected, not "
        "digits alone");
}

void require_own_record(Records::Connection& connection, const NewPerson& person) {
  if (person.student.has_value() != (person.role == Role::student))
    throw Refusal(
        "a person of the role student, and nobody else, has a record of their own: name the student");
  if (person.student) require_student(connection, *person.student);
}

void require_another_administrator(soci::session& sql, const Person& person) {
  if (person.role != Role::administrator || person.closed || !person.has_password) return;
  int others = 0;
  sql << "select count(*) from people where role = 'administrator' and closed = 0 and password <> ''"
         " and number <> :number",
      soci::use(person.number), soci::into(others);
  if (others == 0) throw Refusal(person.name + " is the last administrator; make another one first");
}

Person require_person(soci::session& sql, long long number) {
  const auto person = select_person(sql, number);
  if (!person) throw Refusal(fmt::format("no person has the number {}", number));
  return *person;
}

void set_closed(Records::Connection& connection, long long number, int closed, const Stamp& stamp) {
  require_signed(stamp);
  auto& sql = connection.sql;
  Writing writing(sql, connection.kind);
  const Person person = require_person(sql, number);
  if (closed != 0) require_another_administrator(sql, person);
  sql << "update people set closed = :closed where number = :number", soci::use(closed), soci::use(number);
  sql << "delete from sessions where person = :number", soci::use(number);
  write_down(sql, k_no_student, closed != 0 ? "closed" : "opened again", "person", number, stamp);
  writing.commit();
}

}  // namespace

const char* name_of(Role role) {
  switch (role) {
    case Role::student:
      return "student";
    case Role::instructor:
      return "instructor";
    default:
      return "administrator";
  }
}

std::optional<Role> role_named(const std::string& name) {
  for (const auto role : {Role::student, Role::instructor, Role::administrator})
    if (name == name_of(role)) return role;
  return std::nullopt;
}

Person person_of(const soci::row& row) {
  Person person;
  person.number = whole_number(row, "number");
  person.uid = row.get<std::string>("uid");
  person.name = row.get<std::string>("name");
  person.sign_in = row.get<std::string>("sign_in");
  person.role = role_named(row.get<std::string>("role")).value_or(Role::student);
  if (!is_null(row, "student")) person.student = whole_number(row, "student");
  person.closed = whole_number(row, "closed") != 0;
  person.has_password = !row.get<std::string>("password").empty();
  person.added = {row.get<std::string>("added_by"), row.get<double>("added_unix_s")};
  return person;
}

std::optional<Person> select_person(soci::session& sql, long long number) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << std::string(k_people) + "where number = :number", soci::use(number));
  for (const auto& row : rows) return person_of(row);
  return std::nullopt;
}

School::School(Records& records, const SignInRules& rules)
    : connection_(*records.connection_), rules_(rules) {}

Result<Person> School::add(const NewPerson& person, const Stamp& stamp) {
  return answer<Person>(connection_, [&] {
    require_text("a person's name", person.name);
    require_sign_in_name(person.sign_in);
    require_signed(stamp);
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    require_own_record(connection_, person);
    int taken = 0;
    sql << "select count(*) from people where sign_in = :name", soci::use(person.sign_in), soci::into(taken);
    if (taken != 0) throw Refusal("somebody signs in as \"" + person.sign_in + "\" already");
    const std::string uid = new_uid(), role = name_of(person.role);
    Nullable<long long> student(person.student);
    long long number = 0;
    sql << "insert into people(uid, name, sign_in, role, student, added_by, added_unix_s)"
           " values(:uid, :name, :sign_in, :role, :student, :by, :at) returning number",
        soci::use(uid), soci::use(person.name), soci::use(person.sign_in), soci::use(role),
        soci::use(student.value, student.indicator), soci::use(stamp.by), soci::use(stamp.unix_s),
        soci::into(number);
    write_down(sql, k_no_student, "added", "person", number, stamp);
    const Person added = require_person(sql, number);
    writing.commit();
    return added;
  });
}

Result<std::vector<Person>> School::people() {
  return answer<std::vector<Person>>(connection_, [&] {
    std::vector<Person> found;
    const soci::rowset<soci::row> rows =
        (connection_.sql.prepare << std::string(k_people) + "order by name, number");
    for (const auto& row : rows) found.push_back(person_of(row));
    return found;
  });
}

Result<Person> School::find(const std::string& number_or_sign_in) {
  return answer<Person>(connection_, [&] {
    if (const auto number = read_whole_number(number_or_sign_in))
      return require_person(connection_.sql, *number);
    const soci::rowset<soci::row> rows =
        (connection_.sql.prepare << std::string(k_people) + "where sign_in = :name",
         soci::use(number_or_sign_in));
    for (const auto& row : rows) return person_of(row);
    throw Refusal("nobody signs in as \"" + number_or_sign_in + "\"; `school people` lists them");
  });
}

std::optional<Error> School::set_password(long long person, const std::string& password, const Stamp& stamp) {
  return done_or_error(connection_, [&] {
    require_signed(stamp);
    if (password.size() < k_shortest_password || password.size() > k_longest_password)
      throw Refusal(
          fmt::format("a password of {} to {} bytes was expected; a few words are easier to keep than signs",
                      k_shortest_password, k_longest_password));
    const std::string hash = password_hash(password);
    auto& sql = connection_.sql;
    Writing writing(sql, connection_.kind);
    require_person(sql, person);
    sql << "update people set password = :hash where number = :number", soci::use(hash), soci::use(person);
    sql << "delete from sessions where person = :number", soci::use(person);
    write_down(sql, k_no_student, "given a password", "person", person, stamp);
    writing.commit();
  });
}

std::optional<Error> School::close(long long person, const Stamp& stamp) {
  return done_or_error(connection_, [&] { set_closed(connection_, person, 1, stamp); });
}

std::optional<Error> School::open_again(long long person, const Stamp& stamp) {
  return done_or_error(connection_, [&] { set_closed(connection_, person, 0, stamp); });
}

Result<bool> School::can_be_signed_in_to() {
  return answer<bool>(connection_, [&] {
    int count = 0;
    connection_.sql
        << "select count(*) from people where role = 'administrator' and closed = 0 and password <> ''",
        soci::into(count);
    return count > 0;
  });
}

bool may_see(const Person& person, const Student& student) {
  switch (person.role) {
    case Role::administrator:
      return true;
    case Role::instructor:
      return student.instructor == person.number;
    default:
      return person.student == student.number;
  }
}

bool may_change(const Person& person, const Student& student) {
  return person.role != Role::student && may_see(person, student);
}

}  // namespace glidewright

// Students, by number, name and part of a name.
#include <fmt/format.h>

#include "formats/number.hpp"
#include "formats/uid.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

/// A part of a text as LIKE takes it, with nothing in it that stands for anything else.
std::string pattern_of(const std::string& part) {
  std::string pattern = "%";
  for (const char c : part) {
    if (c == '%' || c == '_' || c == '\\') pattern += '\\';
    pattern += c;
  }
  return pattern + "%";
}

std::vector<Student> all_of(const soci::rowset<soci::row>& rows) {
  std::vector<Student> found;
  for (const auto& row : rows) found.push_back(student_of(row));
  return found;
}

/// The last student of the part before, as the index has it.
struct Last {
  std::string due_on, name;
};
Last last_before(soci::session& sql, long long student) {
  Last last;
  sql << "select due_on, name from students where number = :number", soci::use(student),
      soci::into(last.due_on), soci::into(last.name);
  return last;
}

}  // namespace

Student student_of(const soci::row& row) {
  Student student;
  student.number = whole_number(row, "number");
  student.uid = row.get<std::string>("uid");
  student.name = row.get<std::string>("name");
  student.added = {row.get<std::string>("added_by"), row.get<double>("added_unix_s")};
  student.in_trash = whole_number(row, "in_trash") != 0;
  if (!is_null(row, "instructor")) student.instructor = whole_number(row, "instructor");
  student.due_on = row.get<std::string>("due_on");
  if (student.due_on == k_never_due) student.due_on.clear();
  student.due_what = row.get<std::string>("due_what");
  return student;
}

std::optional<Student> select_student(soci::session& sql, long long number) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << std::string(k_students) + "where number = :number", soci::use(number));
  for (const auto& row : rows) return student_of(row);
  return std::nullopt;
}

Student insert_student(soci::session& sql, const std::string& uid, const std::string& name,
                       const Stamp& stamp) {
  Student student{0, uid, name, stamp, false, std::nullopt, {}, {}};
  sql << "insert into students(uid, name, added_by, added_unix_s) values(:uid, :name, :by, :at) returning "
         "number",
      soci::use(uid), soci::use(name), soci::use(stamp.by), soci::use(stamp.unix_s),
      soci::into(student.number);
  return student;
}

Result<Student> Records::add_student(const std::string& name, const Stamp& stamp) {
  return answer<Student>(*connection_, [&] {
    require_text("a student's name", name);
    require_signed(stamp);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    Student student = insert_student(sql, new_uid(), name, stamp);
    write_down(sql, student.number, "added", "student", student.number, stamp);
    writing.commit();
    return student;
  });
}

std::optional<Error> Records::rename_student(long long student, const std::string& name, const Stamp& stamp) {
  return done_or_error(*connection_, [&] {
    require_text("a student's name", name);
    require_signed(stamp);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    require_student(*connection_, student);
    sql << "update students set name = :name where number = :number", soci::use(name), soci::use(student);
    write_down(sql, student, "renamed", "student", student, stamp);
    writing.commit();
  });
}

Result<std::vector<Student>> Records::students(const StudentsPage& page) {
  return answer<std::vector<Student>>(*connection_, [&] {
    auto& sql = connection_->sql;
    const bool by_due = page.order == StudentsPage::Order::by_due;
    const Last last = page.after == 0 ? Last{} : last_before(sql, page.after);
    const std::string pattern = pattern_of(page.search);
    soci::statement statement(sql);
    std::string query = std::string(k_students) + "where in_trash = 0";
    if (page.instructor) {
      query += " and instructor = :instructor";
      statement.exchange(soci::use(*page.instructor, "instructor"));
    }
    if (page.after != 0) {
      // All columns of the order together, as the index has them: a part further back costs no more than the
      // first.
      query += by_due ? " and (due_on, name, number) > (:due, :name, :after)"
                      : " and (name, number) > (:name, :after)";
      if (by_due) statement.exchange(soci::use(last.due_on, "due"));
      statement.exchange(soci::use(last.name, "name"));
      statement.exchange(soci::use(page.after, "after"));
    }
    if (!page.search.empty()) {
      query += " and lower(name) like lower(:pattern) escape '\\'";
      statement.exchange(soci::use(pattern, "pattern"));
    }
    query += fmt::format(" order by {}name, number limit {}", by_due ? "due_on, " : "", page.at_most);
    soci::row row;
    statement.exchange(soci::into(row));
    statement.alloc();
    statement.prepare(query);
    statement.define_and_bind();
    std::vector<Student> found;
    statement.execute();
    while (statement.fetch()) found.push_back(student_of(row));
    return found;
  });
}

Result<std::vector<Student>> Records::students_in_trash() {
  return answer<std::vector<Student>>(*connection_, [&] {
    return all_of(
        (connection_->sql.prepare << std::string(k_students) + "where in_trash <> 0 order by name, number"));
  });
}

Result<Student> Records::find_student(const std::string& number_or_name) {
  return answer<Student>(*connection_, [&] {
    auto& sql = connection_->sql;
    std::vector<Student> found;
    if (const auto number = read_whole_number(number_or_name))
      found = all_of((sql.prepare << std::string(k_students) + "where number = :number", soci::use(*number)));
    if (found.empty() && number_or_name.find('\0') == std::string::npos)
      found =
          all_of((sql.prepare << std::string(k_students) + "where name = :name", soci::use(number_or_name)));
    std::vector<Student> usable;
    for (const Student& one : found)
      if (!one.in_trash) usable.push_back(one);
    if (usable.size() == 1) return usable.front();
    if (usable.size() > 1)
      throw Refusal(fmt::format("{} students are called \"{}\"; name one by its number, such as {}",
                                usable.size(), number_or_name, usable.front().number));
    if (!found.empty())
      throw Refusal(fmt::format("student {} ({}) is in the trash; `record undo` takes it out again",
                                found.front().number, found.front().name));
    throw Refusal("no student has the name or number \"" + number_or_name + "\"");
  });
}

}  // namespace glidewright

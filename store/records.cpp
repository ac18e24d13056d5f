#include "store/records.hpp"

#include <fmt/format.h>

#include <charconv>
#include <filesystem>

#include "store/connection.hpp"
#include "store/migrations.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_longest_name = 10000;

Student student_of(const soci::row& row) {
  Student student;
  student.number = whole_number(row, "number");
  student.name = row.get<std::string>("name");
  student.added = {row.get<std::string>("added_by"), row.get<double>("added_unix_s")};
  student.in_trash = whole_number(row, "in_trash") != 0;
  return student;
}

constexpr const char* k_students = "select number, name, added_by, added_unix_s, in_trash from students ";

std::optional<long long> number_in(const std::string& text) {
  long long number = 0;
  const auto [end, failed] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (failed != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return number;
}

bool blank(const std::string& text) {
  return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

void set_up(soci::session& sql) {
  std::string mode;
  sql << "pragma journal_mode = wal", soci::into(mode);
  // What was acknowledged outlives a power cut.
  sql << "pragma synchronous = full";
  sql << "pragma foreign_keys = on";
}

}  // namespace

std::optional<Error> unsigned_change(const Stamp& stamp) {
  if (!blank(stamp.by)) return std::nullopt;
  return Error{"a change to the records needs the name of who makes it"};
}

Records::Records(std::unique_ptr<Connection> connection) : connection_(std::move(connection)) {}
Records::Records(Records&&) noexcept = default;
Records& Records::operator=(Records&&) noexcept = default;
Records::~Records() = default;

Result<Records> Records::open(const std::string& file) {
  if (file.find('"') != std::string::npos)
    return Error{file + ": a name without quotation marks was expected"};
  try {
    auto connection = std::make_unique<Connection>();
    connection->file = file;
    connection->sql.open(soci::sqlite3, "db=\"" + file + "\" timeout=10");
    set_up(connection->sql);
    if (const auto failed = migrate(connection->sql, file, newest_form())) return *failed;
    return Records(std::move(connection));
  } catch (const std::exception& error) {
    return database_error(file, error);
  }
}

Result<Student> Records::add_student(const std::string& name, const Stamp& stamp) {
  if (blank(name) || name.size() > k_longest_name)
    return Error{fmt::format("a student's name of 1 to {} bytes was expected", k_longest_name)};
  if (const auto failed = unsigned_change(stamp)) return *failed;
  auto& sql = connection_->sql;
  try {
    Writing writing(sql);
    sql << "insert into students(name, added_by, added_unix_s) values(:name, :by, :at)", soci::use(name),
        soci::use(stamp.by), soci::use(stamp.unix_s);
    Student student;
    student.name = name;
    student.added = stamp;
    sql << "select last_insert_rowid()", soci::into(student.number);
    writing.commit();
    return student;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

Result<std::vector<Student>> Records::students() {
  try {
    std::vector<Student> found;
    const soci::rowset<soci::row> rows =
        (connection_->sql.prepare << std::string(k_students) + "where in_trash = 0 order by name, number");
    for (const auto& row : rows) found.push_back(student_of(row));
    return found;
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

Result<Student> Records::find_student(const std::string& number_or_name) {
  try {
    auto& sql = connection_->sql;
    std::vector<Student> found;
    if (const auto number = number_in(number_or_name)) {
      const soci::rowset<soci::row> rows =
          (sql.prepare << std::string(k_students) + "where number = :number", soci::use(*number));
      for (const auto& row : rows) found.push_back(student_of(row));
    }
    if (found.empty()) {
      const soci::rowset<soci::row> rows =
          (sql.prepare << std::string(k_students) + "where name = :name and in_trash = 0",
           soci::use(number_or_name));
      for (const auto& row : rows) found.push_back(student_of(row));
    }
    if (found.empty()) return Error{"no student has the name or number \"" + number_or_name + "\""};
    if (found.size() > 1)
      return Error{fmt::format("{} students are called \"{}\"; name one by its number, such as {}",
                               found.size(), number_or_name, found.front().number)};
    return found.front();
  } catch (const std::exception& error) {
    return database_error(connection_->file, error);
  }
}

std::optional<Error> Records::back_up(const std::string& file) {
  std::error_code ignored;
  if (std::filesystem::exists(file, ignored)) return Error{file + ": is there already"};
  try {
    connection_->sql << "vacuum into :copy", soci::use(file);
    return std::nullopt;
  } catch (const std::exception& error) {
    return database_error(file, error);
  }
}

}  // namespace glidewright

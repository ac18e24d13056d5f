// How the records answer when a school grows: what a page asks for, at 100, 1,000 and 10,000 students with a
// hundred attempts each, in a file and on a server.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>
#include <random>
#include <thread>

#include "bench/measurement.hpp"
#include "bench/records_at_size.hpp"
#include "bench/server_load.hpp"
#include "store/school.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

using Figures = nlohmann::ordered_json;

double milliseconds(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

double percentile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

StudentsPage part_of_list(const std::string& search, long long after) {
  StudentsPage page;
  page.search = search;
  page.after = after;
  page.at_most = 50;
  return page;
}

/// Queries by the name of the page that asks.
struct Query {
  const char* name;
  std::function<void(Records&, long long student)> ask;
};

const std::vector<Query>& queries() {
  static const std::vector<Query> all = {
      {"students_first_50", [](Records& records, long long) { must(records.students(part_of_list("", 0))); }},
      {"students_50_further_on",
       [](Records& records, long long student) { must(records.students(part_of_list("", student))); }},
      {"students_by_part_of_name",
       [](Records& records, long long student) {
         must(records.students(part_of_list(fmt::format("mo {}", student), 0)));
       }},
      {"student_by_name",
       [](Records& records, long long student) {
         must(records.find_student(fmt::format("Demo {}", student)));
       }},
      {"attempts_of_student",
       [](Records& records, long long student) { must(records.attempts_of(student)); }},
      {"all_of_student", [](Records& records, long long student) { must(records.archive_of(student)); }},
      {"roster_by_due_25",
       [](Records& records, long long student) {
         StudentsPage page = part_of_list("", student);
         page.order = StudentsPage::Order::by_due;
         page.at_most = 25;
         School school(records);
         std::vector<long long> numbers;
         for (const Student& one : must(records.students(page))) numbers.push_back(one.number);
         must(school.latest_attempts_of(numbers, 40));
       }},
      {"history_of_student", [](Records& records, long long student) { must(records.changes_of(student)); }},
      {"fleet_of_40", [](Records& records, long long) { must(records.fleet(FleetKind::airplane)); }},
      {"flown_in_airplane_50",
       [](Records& records, long long student) {
         must(records.latest_attempts_in(fmt::format("{:032x}", student % k_airplanes), 50));
       }},
      {"file_a_flight",
       [](Records& records, long long student) {
         static long long unique = 0;
         must(records.file_flight(student, flight(fmt::format("log {}", ++unique), 1.75e9, 5), k_stamp));
       }},
  };
  return all;
}

/// Reads of whole tables that the server has done: an index is missing where there are any. What the records'
/// connection did is counted when it is next used after a second.
long long whole_reads(soci::session& sql, Records& records) {
  std::this_thread::sleep_for(std::chrono::milliseconds(1200));
  must(records.students_in_trash());
  long long reads = 0;
  sql << "select coalesce(sum(seq_scan), 0) from pg_stat_user_tables where relname in ('attempts', "
         "'assessments', 'notes', 'changes', 'sign_offs', 'logs')",
      soci::into(reads);
  return reads;
}

Figures at_size(bool on_a_server, int students, int asked) {
  const RecordsFixture fixture(on_a_server);
  Records records = fixture.open();
  auto sql = fixture.other_program();
  const double fill_ms = milliseconds([&] { fill_records(sql, on_a_server, students); });
  Figures figures;
  figures["students"] = students;
  figures["attempts"] = students * k_attempts_each;
  figures["filled_in_s"] = std::round(fill_ms / 100.0) / 10.0;
  std::mt19937 random(7);
  std::uniform_int_distribution<long long> any(1, students);
  for (const Query& query : queries()) {
    std::vector<double> took;
    query.ask(records, 1);
    const long long before = on_a_server ? whole_reads(sql, records) : 0;
    for (int i = 0; i < asked; ++i) {
      const long long student = any(random);
      took.push_back(milliseconds([&] { query.ask(records, student); }));
    }
    figures[query.name] = {{"median_ms", std::round(1000.0 * percentile(took, 0.5)) / 1000.0},
                           {"p99_ms", std::round(1000.0 * percentile(took, 0.99)) / 1000.0}};
    if (!on_a_server) continue;
    figures[query.name]["whole_table_reads"] = whole_reads(sql, records) - before;
  }
  figures["server"] = requests_under_load(fixture.where, students);
  return figures;
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  Figures figures;
  for (const bool on_a_server : {false, true}) {
    auto& sizes = figures[on_a_server ? "postgresql" : "sqlite"] = Figures::array();
    for (const int students : {100, 1000, 10000}) {
      std::fprintf(stderr, "%s, %d students\n", on_a_server ? "postgresql" : "sqlite", students);
      sizes.push_back(at_size(on_a_server, students, 400));
    }
  }
  for (const bool on_a_server : {false, true}) {
    auto& queue = figures[on_a_server ? "queue_postgresql" : "queue_sqlite"];
    for (const int servers : {1, 2, 4}) {
      std::fprintf(stderr, "queue, %s, %d servers\n", on_a_server ? "postgresql" : "sqlite", servers);
      const RecordsFixture fixture(on_a_server);
      queue[fmt::format("logs_per_s_{}_servers", servers)] = logs_per_s_by_queue(fixture.where, servers, 120);
    }
  }
  const RecordsFixture fixture(true);
  figures["import_1000_logs_by_2_servers_per_s"] = logs_per_s_by_queue(fixture.where, 2, 1000);
  print_measurement("records", figures);
}

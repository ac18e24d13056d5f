// Whatever people type: it is kept as it is, on both databases, and does nothing.
#include <gmock/gmock.h>

#include <set>

#include "formats/sha256.hpp"
#include "store/archive_zip.hpp"
#include "store/queue.hpp"
#include "store/school.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

class HostileTextTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  HostileTextTest() : RecordsFixture(GetParam() == std::string("server")), records(open()) {}

  /// How many rows each table has, so that nothing was dropped, emptied or doubled behind our back.
  std::vector<long long> rows() const {
    auto sql = other_program();
    std::vector<long long> counts;
    for (const char* table : {"students", "attempts", "assessments", "causes", "notes", "sign_offs", "people",
                              "jobs", "answers", "airplanes", "changes"}) {
      long long count = 0;
      sql << std::string("select count(*) from ") + table, soci::into(count);
      counts.push_back(count);
    }
    return counts;
  }

  Records records;
};

/// SQL in both databases' dialects, markup, a formula, right to left, beyond 16 bits, combined, and long.
std::vector<std::string> hostile() {
  std::vector<std::string> texts = {"'; drop table students; --",
                                    "\"; delete from assessments; --",
                                    "' or '1'='1",
                                    "1); insert into people(name) values ('x'); --",
                                    "$$; drop table notes; $$",
                                    "\\'; select pg_sleep(10); --",
                                    ":student :what %s {} {0} ?1 $1",
                                    "<script>alert(1)</script>",
                                    "=1+1",
                                    "דוגמה אחת",
                                    "\xE2\x80\xAE"
                                    "gpj.exe",
                                    "مثال",
                                    "\xF0\x9F\x9B\xA9\xEF\xB8\x8F",
                                    "e\xCC\x81l\xC3\xA8ve Ñandú 学生",
                                    "two\nlines\tand a tab"};
  std::string long_one;
  while (long_one.size() + 2 <= 10000) long_one += "é";
  texts.push_back(long_one);
  texts.push_back(std::string(9999, 'x') + "'");
  return texts;
}

TEST_P(HostileTextTest, EveryFieldKeepsItAsItIs) {
  School school(records);
  Queue queue(records);
  int number = 0;
  for (const std::string& text : hostile()) {
    SCOPED_TRACE(text.substr(0, 40));
    ++number;
    const Stamp by{text, 1.8e9 + number};
    const auto before = rows();
    const long long student = must(records.add_student("Student " + std::to_string(number), by)).number;
    must(records.rename_student(student, text, by));
    NewFlight one = flight("log " + std::to_string(number), 1.7e9, 1);
    one.log_name = text;
    Assessment& first = one.attempts.front().assessment;
    first.standard_id = text;
    first.circumstances.runway = first.circumstances.airplane = first.circumstances.largest_cause = text;
    first.circumstances.largest_cause_ft = 10.0;
    first.circumstances.causes = {{text, 10.0, 5.0, 15.0}};
    must(records.file_flight(student, one, by));
    const FiledAttempt filed = must(records.attempts_of(student)).at(0);
    Assessment again = filed.assessments.at(0);
    again.reason = text;
    again.stamp = by;
    must(records.assess_again(filed.number, again));
    must(records.add_note(student, filed.number, text, by));
    SignOff sign_off;
    sign_off.what = sign_off.signed_by = text;
    sign_off.signed_on = "2026-05-20";
    must(records.add_sign_off(student, sign_off, by));
    must(school.set_due(student, "2026-05-21", text, by));
    must(school.add({text, "s" + std::to_string(number), Role::instructor, {}}, by));
    KeptAnswer answer;
    answer.uid = sha256_hex(text).substr(0, 32);
    answer.setting = text;
    must(records.add_answers(student, {answer}, by));
    const Job job = must(queue.put(student, text, "bytes", text, by));

    const StudentArchive kept = must(records.archive_of(student));
    EXPECT_EQ(kept.student.name, text);
    EXPECT_EQ(kept.student.due_what, text);
    EXPECT_EQ(kept.attempts.at(0).log_name, text);
    ASSERT_EQ(kept.attempts.at(0).assessments.size(), 2U);
    const Assessment& last = kept.attempts.at(0).assessments.at(1);
    EXPECT_EQ(last.reason, text);
    EXPECT_EQ(last.stamp.by, text);
    EXPECT_EQ(last.standard_id, text);
    EXPECT_EQ(last.circumstances.runway, text);
    EXPECT_EQ(last.circumstances.airplane, text);
    EXPECT_EQ(last.circumstances.largest_cause, text);
    EXPECT_EQ(last.circumstances.causes.at(0).cause, text);
    EXPECT_EQ(kept.notes.at(0).text, text);
    EXPECT_EQ(kept.sign_offs.at(0).what, text);
    EXPECT_EQ(kept.sign_offs.at(0).signed_by, text);
    EXPECT_EQ(kept.answers.at(0).setting, text);
    EXPECT_EQ(must(queue.find(job.number)).log_name, text);
    EXPECT_EQ(must(queue.find(job.number)).asked, text);
    EXPECT_EQ(must(school.find("s" + std::to_string(number))).name, text);
    EXPECT_EQ(must(records.changes_of(student)).back().stamp.by, text);
    EXPECT_EQ(must(records.find_student(text)).number, student);
    StudentsPage searched;
    searched.search = text;
    EXPECT_EQ(must(records.students(searched)).size(), 1U) << "a search finds the text and nothing else";
    EXPECT_FALSE(must(records.fleet_named(FleetKind::airplane, text)));
    EXPECT_FALSE(school.find(text));
    EXPECT_FALSE(school.sign_in(text, text, text, 1.8e9 + 1e6 * number));
    EXPECT_FALSE(records.original(text));
    EXPECT_EQ(must(records.height_unit_told("log " + std::to_string(number), text)), "");
    const auto after = rows();
    //                                students, attempts, assessments, causes, notes, sign-offs, people, jobs,
    //                                answers
    const std::vector<long long> more = {1, 1, 2, 2, 1, 1, 1, 1, 1, 0};
    for (std::size_t i = 0; i < more.size(); ++i) EXPECT_EQ(after[i] - before[i], more[i]) << "table " << i;
  }
}

TEST_P(HostileTextTest, AnArchiveCarriesItAndItsPageRunsNothing) {
  const RecordsFixture elsewhere(GetParam() == std::string("server"));
  Records there = elsewhere.open();
  for (const std::string& text : hostile()) {
    SCOPED_TRACE(text.substr(0, 40));
    const long long student = add(records, text);
    must(records.file_flight(student, flight(text), {text, 1.8e9}));
    must(records.add_note(student, std::nullopt, text, {text, 1.8e9}));
    const Archive archive{{text, 1.8e9}, {must(records.archive_of(student))}, {}};
    const std::string page = archive_index_html(archive);
    EXPECT_EQ(page.find("<script"), std::string::npos);
    const std::string table = attempts_csv(archive.students);
    EXPECT_EQ(table.find("\n="), std::string::npos) << "no formula";
    const auto received = must(read_archive_zip(must(archive_zip(records, archive)), "x.zip"));
    must(there.merge(received.archive.students.at(0), received.logs, k_stamp));
    const auto brought = must(there.archive_of(must(there.find_student(text)).number));
    EXPECT_EQ(brought.notes.at(0).text, text);
    EXPECT_EQ(brought.notes.at(0).stamp.by, text);
    EXPECT_EQ(must(there.original(brought.attempts.at(0).log_sha256)), text);
  }
}

/// What neither database can keep as it is, in every field that takes text.
TEST_P(HostileTextTest, WhatIsNoTextIsRefusedAndNothingIsKept) {
  const long long student = add(records, "Demo Student");
  const auto before = rows();
  School school(records);
  for (const std::string& text : {std::string("a\0b", 3), std::string("\xC3\x28"),
                                  std::string("\xED\xA0\x80"), std::string("\xF4\x90\x80\x80"),
                                  std::string("\xC0\x80"), std::string(10001, 'x'), std::string(" \t\n")}) {
    EXPECT_FALSE(records.add_student(text, k_stamp));
    EXPECT_FALSE(records.add_student("Demo", {text, 1.8e9}));
    EXPECT_TRUE(records.rename_student(student, text, k_stamp));
    EXPECT_FALSE(records.add_note(student, std::nullopt, text, k_stamp));
    SignOff sign_off;
    sign_off.what = text;
    sign_off.signed_by = "C. Examiner";
    sign_off.signed_on = "2026-05-20";
    EXPECT_FALSE(records.add_sign_off(student, sign_off, k_stamp));
    std::swap(sign_off.what, sign_off.signed_by);
    EXPECT_FALSE(records.add_sign_off(student, sign_off, k_stamp));
    EXPECT_FALSE(school.add({text, "s", Role::instructor, {}}, k_stamp));
    EXPECT_FALSE(Queue(records).put(student, text, "bytes", "{}", k_stamp));
    EXPECT_FALSE(Queue(records).put(student, "lesson.gpx", "bytes", text, k_stamp));
    NewFlight one = flight("log");
    one.log_name = text;
    EXPECT_FALSE(records.file_flight(student, one, k_stamp));
  }
  EXPECT_EQ(rows(), before);
}

INSTANTIATE_TEST_SUITE_P(, HostileTextTest, ::testing::Values("file", "server"),
                         [](const auto& given) { return std::string(given.param); });

}  // namespace
}  // namespace glidewright

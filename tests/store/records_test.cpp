#include "store/records.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <random>
#include <thread>

#include "store/migrations.hpp"
#include "store/sql.hpp"
#include "tests/apps/program.hpp"

namespace glidewright {
namespace {

const Stamp k_stamp{"A. Instructor", 1.8e9};

NewFlight flight(const std::string& bytes, double start_unix_s = 1.7e9, int attempts = 2) {
  NewFlight one{"lesson.gpx", bytes, {}};
  for (int i = 1; i <= attempts; ++i) {
    NewAttempt attempt;
    attempt.index = i;
    attempt.time_unix_s = start_unix_s + 600.0 * i;
    attempt.assessment.standard_id = "demo";
    attempt.assessment.rated.probability_met = 0.25 * i;
    one.attempts.push_back(attempt);
  }
  return one;
}

class RecordsTest : public ::testing::Test {
 protected:
  Records open() {
    auto records = Records::open(file);
    if (!records) throw std::runtime_error(records.error().sentence);
    return std::move(*records);
  }
  long long add(Records& records, const std::string& name) {
    const auto student = records.add_student(name, k_stamp);
    if (!student) throw std::runtime_error(student.error().sentence);
    return student->number;
  }
  /// Where it is filed, or why not.
  static std::string refusal(const Result<FiledFlight>& filed) {
    return filed ? std::string() : filed.error().sentence;
  }
  soci::session other_program() { return soci::session(soci::sqlite3, "db=\"" + file + "\""); }

  TemporaryFolder folder;
  std::string file = folder.path() + "/the records.db";
};

TEST_F(RecordsTest, OutliveTheProgram) {
  {
    Records records = open();
    ASSERT_EQ(refusal(records.file_flight(add(records, "Demo Student"), flight("log"), k_stamp)), "");
  }
  Records records = open();
  const auto student = records.find_student("Demo Student");
  ASSERT_TRUE(student);
  EXPECT_EQ(student->added.by, k_stamp.by);
  EXPECT_EQ(student->added.unix_s, k_stamp.unix_s);
  const auto attempts = records.attempts_of(student->number);
  ASSERT_TRUE(attempts);
  ASSERT_EQ(attempts->size(), 2U);
  EXPECT_EQ((*attempts)[1].index, 2);
  EXPECT_EQ((*attempts)[1].assessments.at(0).rated.probability_met, 0.5);
}

TEST_F(RecordsTest, KeepAnyNameAsItIs) {
  Records records = open();
  for (const std::string& name :
       {std::string("'; drop table students; --"), std::string("\" or 1=1"), std::string("Zoë Ñandú"),
        std::string("דוגמה"), std::string("\xF0\x9F\x9B\xA9"), std::string(10000, 'x')}) {
    add(records, name);
    const auto found = records.find_student(name);
    ASSERT_TRUE(found) << found.error().sentence;
    EXPECT_EQ(found->name, name);
  }
  EXPECT_EQ(records.students()->size(), 6U);
  EXPECT_FALSE(records.add_student(" \t", k_stamp));
  EXPECT_FALSE(records.add_student(std::string(10001, 'x'), k_stamp));
  EXPECT_FALSE(records.add_student("Demo", {"", 0.0}));
}

TEST_F(RecordsTest, AskForTheNumberWhereTwoHaveOneName) {
  Records records = open();
  const auto first = add(records, "Demo Student");
  add(records, "Demo Student");
  EXPECT_FALSE(records.find_student("Demo Student"));
  EXPECT_EQ(records.find_student(std::to_string(first))->number, first);
}

TEST_F(RecordsTest, FileALogOnceAndKeepItsBytes) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  const std::string bytes("\0binary\xFF\n", 9);
  const auto first = records.file_flight(student, flight(bytes), k_stamp);
  ASSERT_TRUE(first);
  EXPECT_EQ(first->attempts, 2);
  EXPECT_EQ(records.file_flight(student, flight(bytes), k_stamp)->attempts, 0);
  EXPECT_EQ(records.attempts_of(student)->size(), 2U);
  EXPECT_EQ(*records.original(first->log_sha256), bytes);
  EXPECT_FALSE(records.original("no such log"));
}

TEST_F(RecordsTest, AFlightOfNobodyLeavesNothingBehind) {
  Records records = open();
  EXPECT_FALSE(records.file_flight(77, flight("log"), k_stamp));
  auto sql = other_program();
  int logs = -1;
  sql << "select count(*) from logs", soci::into(logs);
  EXPECT_EQ(logs, 0);
}

TEST_F(RecordsTest, ListAttemptsInTheOrderFlown) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  ASSERT_EQ(refusal(records.file_flight(student, flight("later", 1.75e9), k_stamp)), "");
  ASSERT_EQ(refusal(records.file_flight(student, flight("earlier", 1.65e9), k_stamp)), "");
  const auto attempts = records.attempts_of(student);
  for (std::size_t i = 1; i < attempts->size(); ++i)
    EXPECT_LT((*attempts)[i - 1].time_unix_s, (*attempts)[i].time_unix_s);
}

TEST_F(RecordsTest, ACorrectionStandsAboveWhatItCorrects) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  ASSERT_EQ(refusal(records.file_flight(student, flight("log"), k_stamp)), "");
  const auto before = records.attempts_of(student)->front();
  Assessment second = before.assessments.front();
  second.rated.student_alone = false;
  second.stamp = {"B. Instructor", 1.81e9};
  EXPECT_TRUE(records.assess_again(before.number, second)) << "without a reason";
  second.reason = "prompted at the base turn";
  EXPECT_FALSE(records.assess_again(before.number, second));
  EXPECT_TRUE(records.assess_again(4711, second)) << "no such attempt";
  const auto after = records.attempts_of(student)->front();
  ASSERT_EQ(after.assessments.size(), 2U);
  EXPECT_TRUE(after.assessments[0].rated.student_alone);
  EXPECT_FALSE(after.assessments[1].rated.student_alone);
  EXPECT_EQ(after.assessments[1].stamp.by, "B. Instructor");
}

/// Not by this program nor by another that opens the file.
TEST_F(RecordsTest, AnAssessmentIsNeverChangedOrRemoved) {
  Records records = open();
  ASSERT_EQ(refusal(records.file_flight(add(records, "Demo Student"), flight("log"), k_stamp)), "");
  auto sql = other_program();
  EXPECT_THROW(sql << "update assessments set probability_met = 1", soci::soci_error);
  EXPECT_THROW(sql << "delete from assessments", soci::soci_error);
}

TEST_F(RecordsTest, WhatWasThrownAwayComesBackLastFirst) {
  Records records = open();
  const auto student = add(records, "Demo Student");
  ASSERT_EQ(refusal(records.file_flight(student, flight("log"), k_stamp)), "");
  const auto attempt = records.attempts_of(student)->front().number;
  EXPECT_FALSE(records.throw_attempt_away(attempt, k_stamp));
  EXPECT_TRUE(records.throw_attempt_away(attempt, k_stamp)) << "it is in the trash already";
  EXPECT_FALSE(records.throw_student_away(student, k_stamp));
  EXPECT_TRUE(records.students()->empty());
  EXPECT_FALSE(records.find_student("Demo Student"));
  EXPECT_FALSE(records.undo_last_throwing_away("somebody else", 1.82e9));
  ASSERT_TRUE(records.undo_last_throwing_away(k_stamp.by, 1.82e9));
  EXPECT_EQ(records.students()->size(), 1U);
  EXPECT_TRUE(records.attempts_of(student)->front().in_trash);
  ASSERT_TRUE(records.undo_last_throwing_away(k_stamp.by, 1.82e9));
  EXPECT_FALSE(records.attempts_of(student)->front().in_trash);
  EXPECT_FALSE(records.undo_last_throwing_away(k_stamp.by, 1.82e9));
}

TEST_F(RecordsTest, ABackupMadeWhileOpenIsWhole) {
  Records records = open();
  ASSERT_EQ(refusal(records.file_flight(add(records, "Demo Student"), flight("log"), k_stamp)), "");
  const std::string copy = folder.path() + "/copy.db";
  ASSERT_FALSE(records.back_up(copy));
  EXPECT_TRUE(records.back_up(copy)) << "it must not replace what is there";
  add(records, "After The Copy");
  auto copied = Records::open(copy);
  ASSERT_TRUE(copied);
  ASSERT_EQ(copied->students()->size(), 1U);
  EXPECT_EQ(copied->attempts_of(copied->students()->front().number)->size(), 2U);
}

TEST_F(RecordsTest, OlderRecordsAreBroughtForwardAfterACopy) {
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, file, 1));
    sql << "insert into students(name, added_by, added_unix_s) values('From Before', 'x', 1)";
  }
  Records records = open();
  EXPECT_EQ(records.students()->at(0).name, "From Before");
  EXPECT_FALSE(records.throw_student_away(1, k_stamp));
  soci::session copy(soci::sqlite3, "db=\"" + file + ".before-2\"");
  int form = 0, students = 0;
  copy << "pragma user_version", soci::into(form);
  copy << "select count(*) from students", soci::into(students);
  EXPECT_EQ(form, 1);
  EXPECT_EQ(students, 1);
}

/// So many that a signal finds the program inside a flight, not between two.
constexpr int k_long_flight = 300;

/// Files one flight after another and says so on `told` after each, until it is killed.
[[noreturn]] void file_flights_until_killed(const std::string& file, long long student, int round, int told) {
  auto records = Records::open(file);
  for (int i = 0; records; ++i) {
    if (!records->file_flight(student, flight(fmt::format("log {} {}", round, i), 1.7e9, k_long_flight),
                              k_stamp))
      break;
    const char done = '.';
    if (write(told, &done, 1) != 1) break;
  }
  _exit(1);
}

/// Nothing that was acknowledged is lost, and no flight is half there.
TEST_F(RecordsTest, OutliveAProgramThatIsKilledWhileItWrites) {
  const auto student = [&] {
    Records records = open();
    return add(records, "Demo Student");
  }();
  std::mt19937 random(5);
  std::uniform_int_distribution<int> moment(0, 20000);
  std::size_t acknowledged = 0;
  for (int round = 0; round < 20; ++round) {
    int ends[2];
    ASSERT_EQ(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0) file_flights_until_killed(file, student, round, ends[1]);
    close(ends[1]);
    char done = 0;
    for (int i = 0; i <= round % 5; ++i) ASSERT_EQ(read(ends[0], &done, 1), 1);
    // Anywhere in what it writes next, not always at its beginning.
    std::this_thread::sleep_for(std::chrono::microseconds(moment(random)));
    kill(child, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    EXPECT_TRUE(WIFSIGNALED(status));
    acknowledged += static_cast<std::size_t>(round % 5 + 1);
    while (read(ends[0], &done, 1) == 1) ++acknowledged;
    close(ends[0]);
    Records records = open();
    const auto attempts = records.attempts_of(student);
    ASSERT_TRUE(attempts);
    EXPECT_EQ(attempts->size() % k_long_flight, 0U) << "half a flight";
    EXPECT_GE(attempts->size() / k_long_flight, acknowledged);
    for (std::size_t i = 0; i < attempts->size(); i += k_long_flight)
      EXPECT_TRUE(records.original((*attempts)[i].log_sha256));
  }
}

TEST_F(RecordsTest, RefuseWhatIsNewerOrNoRecords) {
  {
    auto sql = other_program();
    sql << "pragma user_version = 4711";
  }
  const auto newer = Records::open(file);
  ASSERT_FALSE(newer);
  EXPECT_NE(newer.error().sentence.find("newer program"), std::string::npos) << newer.error().sentence;
  EXPECT_FALSE(Records::open(folder.with("text.db", std::string(5000, 'x'))));
  EXPECT_FALSE(Records::open(folder.path() + "/no/such/folder.db"));
}

}  // namespace
}  // namespace glidewright

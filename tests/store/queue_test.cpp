// Logs that wait for their debrief: taken once in effect, whoever is killed meanwhile.
#include "store/queue.hpp"

#include <gmock/gmock.h>
#include <sys/wait.h>

#include <csignal>
#include <random>
#include <thread>

#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

constexpr double k_now = 1.8e9;

class QueueTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  QueueTest()
      : RecordsFixture(GetParam() == std::string("server")),
        records(open()),
        queue(records),
        student(add(records, "Demo Student")) {}
  Job put(const std::string& bytes) { return must(queue.put(student, "lesson.gpx", bytes, "{}", k_stamp)); }

  Records records;
  Queue queue;
  long long student;
};

TEST_P(QueueTest, TheOldestIsTakenWithItsBytesAndFiledWhenItIsFinished) {
  const Job first = put("one"), second = put("two");
  EXPECT_EQ(must(queue.waiting()), 2);
  const auto taken = must(queue.take("worker", k_now));
  ASSERT_TRUE(taken);
  EXPECT_EQ(taken->job.number, first.number);
  EXPECT_EQ(taken->log_bytes, "one");
  EXPECT_TRUE(must(queue.finish(taken->job, "worker", flight("one"), k_now)));
  EXPECT_EQ(must(queue.find(first.number)).state, Job::State::done);
  EXPECT_EQ(must(queue.find(first.number)).attempts, 2);
  EXPECT_EQ(must(records.attempts_of(student)).size(), 2U);
  EXPECT_EQ(must(queue.find(second.number)).state, Job::State::waiting);
  EXPECT_EQ(must(queue.of_student(student)).front().number, second.number);
}

TEST_P(QueueTest, WhatIsTakenIsNobodyElsesUntilItsTimeIsUp) {
  put("one");
  const auto taken = must(queue.take("worker", k_now, 10.0));
  EXPECT_FALSE(must(queue.take("other", k_now + 9.0, 10.0)));
  const auto again = must(queue.take("other", k_now + 11.0, 10.0));
  ASSERT_TRUE(again);
  EXPECT_EQ(again->job.tries, 2);
  EXPECT_FALSE(must(queue.finish(taken->job, "worker", flight("one"), k_now + 12.0))) << "too late";
  EXPECT_TRUE(must(records.attempts_of(student)).empty());
  EXPECT_TRUE(must(queue.finish(again->job, "other", flight("one"), k_now + 12.0)));
  EXPECT_FALSE(must(queue.finish(again->job, "other", flight("one"), k_now + 13.0))) << "a second time";
  EXPECT_EQ(must(records.attempts_of(student)).size(), 2U);
}

TEST_P(QueueTest, ALogThatEndsTheProgramIsTriedThreeTimes) {
  const Job job = put("deadly");
  double now = k_now;
  for (int i = 0; i < 3; ++i, now += 20.0) EXPECT_TRUE(must(queue.take("worker", now, 10.0)));
  EXPECT_FALSE(must(queue.take("worker", now, 10.0)));
  EXPECT_EQ(must(queue.find(job.number)).state, Job::State::failed);
  EXPECT_THAT(must(queue.find(job.number)).said, ::testing::HasSubstr("three times"));
}

TEST_P(QueueTest, AFailedOneKeepsItsBytesForAnotherTry) {
  const Job job = put("far from any runway");
  const auto taken = must(queue.take("worker", k_now));
  EXPECT_TRUE(must(queue.fail(taken->job, "worker", "lesson.gpx: no runway", k_now)));
  EXPECT_EQ(must(queue.find(job.number)).said, "lesson.gpx: no runway");
  must(queue.ask_again(job.number, "{\"runway\": \"XY/27\"}", k_stamp));
  const auto again = must(queue.take("worker", k_now + 1.0));
  ASSERT_TRUE(again);
  EXPECT_EQ(again->job.asked, "{\"runway\": \"XY/27\"}");
  EXPECT_EQ(again->log_bytes, "far from any runway");
  EXPECT_TRUE(queue.dismiss(job.number, k_stamp)) << "it has not failed";
  EXPECT_TRUE(must(queue.fail(again->job, "worker", "no", k_now)));
  must(queue.dismiss(job.number, k_stamp));
  EXPECT_FALSE(queue.find(job.number));
  auto sql = other_program();
  int left = 0;
  sql << "select count(*) from waiting_logs", soci::into(left);
  EXPECT_EQ(left, 0);
}

TEST_P(QueueTest, WhatCannotBeAJobIsRefusedAndNothingIsKept) {
  EXPECT_FALSE(queue.put(student, "lesson.gpx", "", "{}", k_stamp));
  EXPECT_FALSE(queue.put(77, "lesson.gpx", "bytes", "{}", k_stamp));
  EXPECT_FALSE(queue.put(student, "", "bytes", "{}", k_stamp));
  EXPECT_EQ(must(queue.waiting()), 0);
}

TEST_P(QueueTest, AStudentInTheTrashGetsNothingFiled) {
  put("one");
  const auto taken = must(queue.take("worker", k_now));
  must(records.throw_student_away(student, k_stamp));
  EXPECT_THAT(refusal(queue.finish(taken->job, "worker", flight("one"), k_now)),
              ::testing::HasSubstr("trash"));
  EXPECT_EQ(must(queue.find(taken->job.number)).state, Job::State::taken) << "nothing half";
}

constexpr int k_logs = 40;

/// Takes jobs and files them until none is left or it is killed. What is taken from the dead comes again
/// soon.
[[noreturn]] void work(const std::string& where, const std::string& name) {
  auto records = Records::open(where);
  if (!records) _exit(2);
  Queue queue(*records);
  for (;;) {
    const double now = static_cast<double>(time(nullptr));
    const auto taken = queue.take(name, now, 1.0);
    if (!taken) continue;
    if (!*taken) {
      const auto jobs = queue.of_student(1, k_logs);
      bool open = !jobs;
      if (jobs)
        for (const Job& job : *jobs) open = open || job.state != Job::State::done;
      if (!open) _exit(0);
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
      continue;
    }
    (void)queue.finish((*taken)->job, name, flight((*taken)->log_bytes, 1.7e9, 20), now);
  }
}

/// Two programs on one queue, one of them killed over and over: each debrief exactly once in effect.
TEST_P(QueueTest, EachDebriefIsFiledOnceThoughWorkersAreKilled) {
  ASSERT_EQ(student, 1);
  for (int i = 0; i < k_logs; ++i) put(fmt::format("log {}", i));
  const auto begin = [&](const std::string& name) {
    const pid_t child = fork();
    if (child == 0) work(where, name);
    return child;
  };
  const pid_t steady = begin("steady");
  std::mt19937 random(3);
  std::uniform_int_distribution<int> moment(3000, 40000);
  for (int round = 0; round < 6; ++round) {
    const pid_t victim = begin(fmt::format("victim {}", round));
    std::this_thread::sleep_for(std::chrono::microseconds(moment(random)));
    kill(victim, SIGKILL);
    int status = 0;
    ASSERT_EQ(waitpid(victim, &status, 0), victim);
  }
  int status = 0;
  ASSERT_EQ(waitpid(steady, &status, 0), steady);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(must(records.attempts_of(student)).size(), 20U * k_logs);
  for (const FiledAttempt& one : must(records.attempts_of(student))) EXPECT_EQ(one.assessments.size(), 1U);
  for (const Job& job : must(queue.of_student(student, k_logs))) EXPECT_EQ(job.attempts, 20);
}

INSTANTIATE_TEST_SUITE_P(Records, QueueTest, ::testing::Values("file", "server"),
                         [](const auto& where) { return std::string(where.param); });

}  // namespace
}  // namespace glidewright

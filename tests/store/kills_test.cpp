// Programs and servers that are killed in the middle of what they write.
#include <sys/mount.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <thread>

#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

class KillsTest : public RecordsFixture, public ::testing::TestWithParam<const char*> {
 protected:
  KillsTest() : RecordsFixture(GetParam() == std::string("server")) {}
};

/// GLIDEWRIGHT_KILLS=200 for the measurement; 10 at each check.
int kills() {
  const char* asked = std::getenv("GLIDEWRIGHT_KILLS");
  return asked == nullptr ? 10 : std::atoi(asked);
}

/// So many that a signal finds the program inside a flight, not between two.
constexpr int k_long_flight = 60;

/// Files one flight after another and says so on `told` after each, until it is killed or the server is.
[[noreturn]] void file_flights_until_killed(const std::string& where, long long student, int round,
                                            int told) {
  auto records = Records::open(where);
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
TEST_P(KillsTest, LoseNothingThatWasAcknowledged) {
  const auto student = [&] {
    Records records = open();
    return add(records, "Demo Student");
  }();
  std::mt19937 random(5);
  std::uniform_int_distribution<int> moment(0, 20000);
  std::size_t acknowledged = 0;
  for (int round = 0; round < kills(); ++round) {
    int ends[2];
    ASSERT_EQ(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0) file_flights_until_killed(where, student, round, ends[1]);
    close(ends[1]);
    char done = 0;
    for (int i = 0; i <= round % 3; ++i) ASSERT_EQ(read(ends[0], &done, 1), 1);
    // Anywhere in what it writes next, not always at its beginning.
    std::this_thread::sleep_for(std::chrono::microseconds(moment(random)));
    // Of a server every second time: it is killed with all its processes, and the program sees that.
    const bool kill_the_server = server && round % 2 == 1;
    if (kill_the_server) {
      server->kill_all();
    } else {
      kill(child, SIGKILL);
    }
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    EXPECT_EQ(WIFSIGNALED(status), !kill_the_server);
    if (kill_the_server) server->start();
    acknowledged += static_cast<std::size_t>(round % 3 + 1);
    while (read(ends[0], &done, 1) == 1) ++acknowledged;
    close(ends[0]);
    Records records = open();
    const auto attempts = must(records.attempts_of(student));
    EXPECT_EQ(attempts.size() % k_long_flight, 0U) << "half a flight";
    EXPECT_GE(attempts.size() / k_long_flight, acknowledged);
    EXPECT_LE(attempts.size() / k_long_flight, acknowledged + static_cast<std::size_t>(round) + 1);
    for (std::size_t i = 0; i < attempts.size(); i += k_long_flight)
      EXPECT_TRUE(records.original(attempts[i].log_sha256));
  }
}

/// A server that was stopped is an error, and after it is there again the same records go on.
TEST(RecordsOfAServer, GoOnAfterItWasStopped) {
  const RecordsFixture fixture(true);
  {
    Records records = fixture.open();
    fixture.add(records, "Demo Student");
    fixture.server->stop();
    const auto refused = records.add_student("While It Is Away", k_stamp);
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().sentence.find("cannot be used"), std::string::npos);
    EXPECT_FALSE(Records::open(fixture.where));
    fixture.server->start();
    must(records.add_student("Back Again", k_stamp));
  }
  Records records = fixture.open();
  EXPECT_EQ(must(records.students()).size(), 2U);
}

/// Many at once, each with its own connection, on one student: every version has its number.
TEST_P(KillsTest, ManyWritersDoNotLoseEachOthersWork) {
  long long attempt = 0, student = 0;
  {
    Records records = open();
    student = add(records, "Demo Student");
    must(records.file_flight(student, flight("log", 1.7e9, 1), k_stamp));
    attempt = must(records.attempts_of(student)).front().number;
  }
  constexpr int k_writers = 4, k_each = 10;
  std::vector<std::thread> writers;
  std::vector<std::string> failed(k_writers);
  for (int w = 0; w < k_writers; ++w)
    writers.emplace_back([&, w] {
      Records records = open();
      for (int i = 0; i < k_each; ++i) {
        Assessment one = flight("log").attempts.front().assessment;
        one.reason = fmt::format("thought {} of {}", i, w);
        one.stamp = {"Writer", 1.8e9 + 100.0 * w + i};
        if (const auto error = records.assess_again(attempt, one))
          failed[static_cast<std::size_t>(w)] = error->sentence;
      }
    });
  for (auto& writer : writers) writer.join();
  for (const auto& sentence : failed) EXPECT_EQ(sentence, "");
  Records records = open();
  EXPECT_EQ(must(records.attempts_of(student)).front().assessments.size(), 1U + k_writers * k_each);
}

/// A small disk of the test's own, which only root can make.
class SmallDisk {
 public:
  explicit SmallDisk(std::string folder) : folder_(std::move(folder)) {
    there_ = mount("tmpfs", folder_.c_str(), "tmpfs", 0, "size=3m") == 0;
  }
  ~SmallDisk() {
    if (there_) umount(folder_.c_str());
  }
  SmallDisk(const SmallDisk&) = delete;
  SmallDisk& operator=(const SmallDisk&) = delete;
  bool there() const { return there_; }

 private:
  std::string folder_;
  bool there_ = false;
};

TEST(RecordsOnAFullDisk, SayItAndKeepWhatTheyHave) {
  const TemporaryFolder folder;
  const SmallDisk disk(folder.path());
  if (!disk.there()) GTEST_SKIP() << "only root can make a small disk";
  const std::string ballast = folder.with("ballast", std::string(1 << 20, 'x'));
  std::size_t filed = 0;
  long long student = 0;
  {
    Records records = must(Records::open(folder.path() + "/records"));
    student = must(records.add_student("Demo Student", k_stamp)).number;
    std::string sentence;
    while (sentence.empty() && filed < 100) {
      sentence = refusal(records.file_flight(
          student, flight(fmt::format("log {} {}", filed, std::string(100000, 'x'))), k_stamp));
      if (sentence.empty()) ++filed;
    }
    EXPECT_NE(sentence.find("full"), std::string::npos) << sentence;
    EXPECT_GT(filed, 2U);
    EXPECT_EQ(must(records.attempts_of(student)).size(), 2 * filed) << "nothing of the last one";
    std::filesystem::remove(ballast);
    must(records.file_flight(student, flight("there is room again"), k_stamp));
  }
  Records records = must(Records::open(folder.path() + "/records"));
  EXPECT_EQ(must(records.attempts_of(student)).size(), 2 * (filed + 1));
  EXPECT_EQ(must(records.check_whole()), static_cast<int>(filed) + 1);
}

INSTANTIATE_TEST_SUITE_P(, KillsTest, ::testing::Values("file", "server"),
                         [](const auto& given) { return std::string(given.param); });

}  // namespace
}  // namespace glidewright

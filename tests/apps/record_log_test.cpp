// Recording a receiver: a real port and a real serial line, lost and found again, and a program that is
// killed.

#include <arpa/inet.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <poll.h>
#include <sys/socket.h>
#include <termios.h>

#include <chrono>
#include <csignal>
#include <functional>
#include <string>
#include <thread>

#include "tests/apps/program.hpp"
#include "tests/apps/schema.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

using testing::HasSubstr;

/// Waits for what will come, and gives up after a minute.
bool comes(const std::function<bool()>& there) {
  for (int i = 0; i < 3000; ++i) {
    if (there()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return false;
}

/// A receiver at a port of this machine.
class Receiver {
 public:
  Receiver() : listening_(socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
    sockaddr_in where{};
    where.sin_family = AF_INET;
    where.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    socklen_t size = sizeof where;
    if (bind(listening_, reinterpret_cast<sockaddr*>(&where), size) != 0 || listen(listening_, 4) != 0 ||
        getsockname(listening_, reinterpret_cast<sockaddr*>(&where), &size) != 0)
      throw std::runtime_error("no port can be had");
    port_ = ntohs(where.sin_port);
  }
  ~Receiver() {
    hang_up();
    close(listening_);
  }
  Receiver(const Receiver&) = delete;
  Receiver& operator=(const Receiver&) = delete;

  std::string address() const { return "127.0.0.1:" + std::to_string(port_); }
  bool is_listened_to() {
    pollfd waiting{listening_, POLLIN, 0};
    if (poll(&waiting, 1, 60000) != 1) return false;
    line_ = accept4(listening_, nullptr, nullptr, SOCK_CLOEXEC);
    return line_ >= 0;
  }
  void say(const std::string& text) const {
    EXPECT_EQ(send(line_, text.data(), text.size(), MSG_NOSIGNAL), static_cast<ssize_t>(text.size()));
  }
  /// What was sent to it, which must be nothing.
  bool heard_anything() const {
    char one = 0;
    return recv(line_, &one, 1, MSG_DONTWAIT) > 0;
  }
  void hang_up() {
    if (line_ >= 0) close(line_);
    line_ = -1;
  }

 private:
  int listening_;
  int line_ = -1;
  int port_ = 0;
};

/// The program at work, and what it has said.
class Recording {
 public:
  explicit Recording(std::vector<std::string> arguments)
      : output_(std::tmpfile(), &std::fclose), errors_(std::tmpfile(), &std::fclose) {
    arguments.insert(arguments.begin(), "record-log");
    process_ = program::start(arguments, {}, fileno(output_.get()), fileno(errors_.get()));
  }
  ProgramRun end_by(int signal) {
    kill(process_, signal);
    ProgramRun run;
    run.exit_code = program::exit_code_of(process_);
    run.output = program::content_of(output_.get());
    run.errors = program::content_of(errors_.get());
    return run;
  }

 private:
  program::File output_, errors_;
  pid_t process_;
};

const std::string& flown() {
  static const std::string text = test_file("flights/F12/F12.nmea");
  return text;
}
/// The first so many lines of a flight.
std::string first_lines(int count) {
  std::size_t end = 0;
  for (int i = 0; i < count; ++i) end = flown().find('\n', end) + 1;
  return flown().substr(0, end);
}
std::string with_line_ends(std::string text) {
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos; at += 2)
    if (at == 0 || text[at - 1] != '\r')
      text.insert(at, "\r");
    else
      --at;
  return text;
}

TEST(RecordLog, KeepsAFlightAndItIsDebriefedAsItWas) {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/lesson.nmea";
  Receiver receiver;
  Recording recording({file, "--tcp", receiver.address(), "--json"});
  ASSERT_TRUE(receiver.is_listened_to());
  receiver.say(flown());
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == lines_of(flown()).size(); }));
  EXPECT_FALSE(receiver.heard_anything());
  const auto run = recording.end_by(SIGINT);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  const auto report = nlohmann::json::parse(run.output);
  EXPECT_EQ(objections("record-log", report), "");
  EXPECT_EQ(report["sentences"], lines_of(flown()).size());
  EXPECT_EQ(report["places"], lines_of(flown()).size()) << "GGA and RMC alone are in it";
  const auto places = [](const std::string& log) {
    const auto debrief = run_program({"debrief", log, "--json"});
    EXPECT_EQ(debrief.exit_code, 0) << debrief.errors;
    return nlohmann::json::parse(debrief.output)["attempts"];
  };
  EXPECT_EQ(places(file), places("tests/data/flights/F12/F12.nmea"));
}

TEST(RecordLog, LooksAgainForAReceiverThatIsGone) {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/lesson.nmea";
  Receiver receiver;
  Recording recording({file, "--tcp", receiver.address()});
  ASSERT_TRUE(receiver.is_listened_to());
  receiver.say(first_lines(3) + "$GPGGA,1903");
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == 3; }));
  receiver.hang_up();
  ASSERT_TRUE(receiver.is_listened_to());
  receiver.say("noise " + first_lines(2) + "chatter without a sentence\n");
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == 5; }));
  const auto run = recording.end_by(SIGTERM);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_THAT(run.output, HasSubstr("5 sentences kept"));
  EXPECT_EQ(bytes_of(file), with_line_ends(first_lines(3) + first_lines(2))) << "no half sentence, no noise";
}

TEST(RecordLog, KeepsWhatHadComeWhenItIsKilledAndGoesOnWithIt) {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/lesson.nmea";
  Receiver receiver;
  Recording first({file, "--tcp", receiver.address()});
  ASSERT_TRUE(receiver.is_listened_to());
  receiver.say(first_lines(40) + "$GPRMC,19");
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == 40; }));
  EXPECT_EQ(first.end_by(SIGKILL).exit_code, 128 + SIGKILL);
  EXPECT_EQ(bytes_of(file), with_line_ends(first_lines(40)));
  const auto refused = run_program({"record-log", file, "--tcp", receiver.address()});
  EXPECT_EQ(refused.exit_code, 1);
  EXPECT_THAT(refused.errors, HasSubstr("is there already; --append"));
  receiver.hang_up();
  ASSERT_TRUE(receiver.is_listened_to()) << "the one that was refused";
  receiver.hang_up();
  Recording second({file, "--tcp", receiver.address(), "--append"});
  ASSERT_TRUE(receiver.is_listened_to());
  receiver.say(first_lines(2));
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == 42; }));
  EXPECT_THAT(second.end_by(SIGINT).output, HasSubstr("2 sentences kept"));
}

TEST(RecordLog, ListensToASerialLineAsItComes) {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/lesson.nmea";
  const int receiver = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  ASSERT_TRUE(receiver >= 0 && grantpt(receiver) == 0 && unlockpt(receiver) == 0);
  const std::string device = ptsname(receiver);
  Recording recording({file, "--device", device, "--baud", "4800"});
  // Raw: no echo comes back to the receiver, and line ends are as it sent them.
  const auto is_raw = [&] {
    termios line{};
    return tcgetattr(receiver, &line) == 0 && (line.c_lflag & (ECHO | ICANON)) == 0;
  };
  ASSERT_TRUE(comes(is_raw));
  const std::string said = with_line_ends(first_lines(6));
  EXPECT_EQ(write(receiver, said.data(), said.size()), static_cast<ssize_t>(said.size()));
  ASSERT_TRUE(comes([&] { return lines_of(bytes_of(file)).size() == 6; }));
  const auto run = recording.end_by(SIGINT);
  EXPECT_EQ(run.exit_code, 0) << run.errors;
  EXPECT_EQ(bytes_of(file), said);
  pollfd heard{receiver, POLLIN, 0};
  EXPECT_EQ(poll(&heard, 1, 0) > 0 && (heard.revents & POLLIN) != 0, false)
      << "nothing is sent to a receiver";
  close(receiver);
}

TEST(RecordLog, RefusesOtherMachinesAndWhatIsNotThere) {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/lesson.nmea";
  for (const auto& [arguments, why] :
       {std::pair<std::vector<std::string>, std::string>{{"--tcp", "192.0.2.1:10110"},
                                                         "only a port of this machine"},
        {{"--tcp", "127.0.0.1"}, "only a port of this machine"},
        {{"--tcp", "127.0.0.1:70000"}, "a port from 1 to 65535"},
        {{"--tcp", "127.0.0.1:x"}, "a port from 1 to 65535"},
        {{"--device", "/dev/glidewright-is-not-there"}, "No such file"},
        {{"--device", "/dev/null", "--baud", "1234"}, "4800, 9600"},
        {{"--device", "/dev/null"}, "ioctl"},
        {{"--tcp", "127.0.0.1:9", "--baud", "9600"}, "--baud goes with --device"},
        {{}, "name one place"}}) {
    std::vector<std::string> all = {"record-log", file};
    all.insert(all.end(), arguments.begin(), arguments.end());
    const auto run = run_program(all);
    EXPECT_EQ(run.exit_code, 1) << why;
    EXPECT_THAT(run.errors, HasSubstr(why));
    EXPECT_FALSE(std::filesystem::exists(file)) << "nothing is begun";
  }
}

}  // namespace
}  // namespace glidewright

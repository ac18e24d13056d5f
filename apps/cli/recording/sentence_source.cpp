#include "apps/cli/recording/sentence_source.hpp"

#include <arpa/inet.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <utility>

namespace glidewright {
namespace {

struct Speed {
  int baud;
  speed_t code;
};
constexpr Speed k_speeds[] = {{4800, B4800},   {9600, B9600},   {19200, B19200},
                              {38400, B38400}, {57600, B57600}, {115200, B115200}};

std::optional<speed_t> code_of(int baud) {
  for (const Speed& one : k_speeds)
    if (one.baud == baud) return one.code;
  return std::nullopt;
}

Error failed(const SourceAddress& address) {
  return {address.words() + ": " + std::strerror(errno)};
}

int open_socket(const SourceAddress& address) {
  const bool six = address.host == "::1";
  const int file = socket(six ? AF_INET6 : AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
  if (file < 0) return -1;
  sockaddr_in four{};
  four.sin_family = AF_INET;
  four.sin_port = htons(static_cast<std::uint16_t>(address.port));
  four.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  sockaddr_in6 long_one{};
  long_one.sin6_family = AF_INET6;
  long_one.sin6_port = four.sin_port;
  long_one.sin6_addr = in6addr_loopback;
  const int refused = six ? connect(file, reinterpret_cast<const sockaddr*>(&long_one), sizeof long_one)
                          : connect(file, reinterpret_cast<const sockaddr*>(&four), sizeof four);
  if (refused == 0) return file;
  const int why = errno;
  close(file);
  errno = why;
  return -1;
}

/// Bytes as they come, at the receiver's speed; nothing is ever sent.
int open_device(const SourceAddress& address) {
  const int file = ::open(address.device.c_str(), O_RDONLY | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
  if (file < 0) return -1;
  termios line{};
  if (tcgetattr(file, &line) == 0) {
    cfmakeraw(&line);
    line.c_cflag |= CLOCAL | CREAD;
    const speed_t speed = code_of(address.baud).value_or(B9600);
    if (cfsetispeed(&line, speed) == 0 && cfsetospeed(&line, speed) == 0 &&
        tcsetattr(file, TCSANOW, &line) == 0)
      return file;
  }
  const int why = errno;
  close(file);
  errno = why;
  return -1;
}

}  // namespace

std::string SourceAddress::words() const {
  return device.empty() ? fmt::format("{}:{}", host, port) : device;
}

Result<SourceAddress> read_tcp_address(const std::string& text) {
  const auto colon = text.rfind(':');
  SourceAddress address;
  if (colon != std::string::npos) address.host = text.substr(0, colon);
  if (address.host == "[::1]") address.host = "::1";
  if (address.host != "127.0.0.1" && address.host != "::1" && address.host != "localhost")
    return Error{
        "--tcp " + text +
        ": only a port of this machine is listened to; 127.0.0.1:PORT was expected, such as 127.0.0.1:10110"};
  const char *begin = text.data() + colon + 1, *end = text.data() + text.size();
  const auto read = std::from_chars(begin, end, address.port);
  if (read.ec != std::errc{} || read.ptr != end || address.port < 1 || address.port > 65535)
    return Error{"--tcp " + text + ": a port from 1 to 65535 was expected after the colon"};
  return address;
}

Result<SourceAddress> read_device_address(const std::string& device, int baud) {
  if (!code_of(baud))
    return Error{fmt::format("--baud {}: 4800, 9600, 19200, 38400, 57600 or 115200 was expected", baud)};
  SourceAddress address;
  address.device = device;
  address.baud = baud;
  return address;
}

Result<SentenceSource> SentenceSource::open(const SourceAddress& address) {
  const int file = address.device.empty() ? open_socket(address) : open_device(address);
  if (file < 0) return failed(address);
  return SentenceSource(file);
}

SentenceSource::SentenceSource(SentenceSource&& other) noexcept : file_(std::exchange(other.file_, -1)) {}

SentenceSource::~SentenceSource() {
  if (file_ >= 0) close(file_);
}

std::optional<std::string> SentenceSource::read(int wait_ms) {
  pollfd waiting{file_, POLLIN, 0};
  const int ready = poll(&waiting, 1, wait_ms);
  if (ready == 0 || (ready < 0 && errno == EINTR)) return std::string();
  if (ready < 0) return std::nullopt;
  std::array<char, 4096> bytes;
  const auto count = ::read(file_, bytes.data(), bytes.size());
  if (count > 0) return std::string(bytes.data(), static_cast<std::size_t>(count));
  if (count < 0 && (errno == EINTR || errno == EAGAIN)) return std::string();
  return std::nullopt;
}

}  // namespace glidewright

#pragma once
// Where a receiver's sentences come from: a port on this machine, or a serial device. Only ever read.

#include <optional>
#include <string>

#include "formats/result.hpp"

namespace glidewright {

/// What to listen to; one of the two.
struct SourceAddress {
  std::string host;  ///< 127.0.0.1, ::1 or localhost
  int port = 0;
  std::string device;  ///< "/dev/ttyUSB0"
  int baud = 9600;     ///< of the device; 4800 to 115200

  std::string words() const;  ///< for people
};

/// "HOST:PORT" of this machine; an error for any other, and for what is no port.
Result<SourceAddress> read_tcp_address(const std::string& text);
/// A device and its speed; an error where that speed is none that receivers have.
Result<SourceAddress> read_device_address(const std::string& device, int baud);

/// An open source. Closed when the value goes.
class SentenceSource {
 public:
  /// Error with the system's reason where it cannot be opened now.
  static Result<SentenceSource> open(const SourceAddress& address);
  SentenceSource(SentenceSource&& other) noexcept;
  SentenceSource& operator=(SentenceSource&&) = delete;
  ~SentenceSource();

  /// What has come, waiting up to `wait_ms` for something: empty where nothing came, none where the other end
  /// is gone.
  std::optional<std::string> read(int wait_ms);

 private:
  explicit SentenceSource(int file) : file_(file) {}
  int file_;
};

}  // namespace glidewright

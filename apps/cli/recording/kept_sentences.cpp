#include "apps/cli/recording/kept_sentences.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "formats/nmea.hpp"

namespace glidewright {
namespace {

/// A sentence has 82 characters by the standard; some receivers write more. A line that never ends is none.
constexpr std::size_t k_longest_line = 1024;

Error failed(const std::string& file) {
  return {file + ": " + std::strerror(errno)};
}

bool ends_in_a_line(int handle) {
  struct stat about {};
  char last = '\n';
  if (fstat(handle, &about) != 0 || about.st_size == 0) return true;
  return pread(handle, &last, 1, about.st_size - 1) != 1 || last == '\n';
}

}  // namespace

Result<KeptSentences> KeptSentences::open(const std::string& file, bool append) {
  const int how = append ? O_RDWR | O_APPEND : O_WRONLY | O_CREAT | O_EXCL | O_APPEND;
  const int handle = ::open(file.c_str(), how | O_CLOEXEC, 0644);
  if (handle < 0 && errno == EEXIST)
    return Error{file + ": is there already; --append goes on with it, another name begins anew"};
  if (handle < 0 && append && errno == ENOENT)
    return Error{file + ": is not there; without --append it is begun"};
  if (handle < 0) return failed(file);
  KeptSentences kept(handle, file);
  // A line that a power cut tore stays by itself.
  if (append && !ends_in_a_line(handle) && ::write(handle, "\n", 1) != 1) return failed(file);
  return kept;
}

KeptSentences::KeptSentences(KeptSentences&& other) noexcept
    : handle_(std::exchange(other.handle_, -1)), file_(std::move(other.file_)) {}

KeptSentences::~KeptSentences() {
  if (handle_ < 0) return;
  fsync(handle_);
  close(handle_);
}

std::optional<Error> KeptSentences::keep(std::string_view line) {
  while (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  const auto begins = line.find_first_of("$!");
  if (begins == std::string_view::npos) return std::nullopt;
  const std::string whole = std::string(line.substr(begins)) + "\r\n";
  for (std::size_t done = 0; done < whole.size();) {
    const auto count = ::write(handle_, whole.data() + done, whole.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return failed(file_);
    done += static_cast<std::size_t>(count);
  }
  ++sentences_;
  places_ += tells_a_place(whole);
  return std::nullopt;
}

std::optional<Error> KeptSentences::add(std::string_view bytes) {
  for (const char one : bytes) {
    if (one == '\n') {
      const std::string line = std::exchange(line_, {});
      if (const auto error = keep(line)) return error;
    } else if (line_.size() < k_longest_line) {
      line_ += one;
    }
  }
  return std::nullopt;
}

}  // namespace glidewright

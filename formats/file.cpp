#include "formats/file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

namespace glidewright {
namespace {

/// A file descriptor that closes itself.
class OpenFile {
 public:
  OpenFile(const std::string& path, int flags) : descriptor_(::open(path.c_str(), flags | O_CLOEXEC, 0666)) {}
  ~OpenFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;

  bool is_open() const { return descriptor_ >= 0; }
  int descriptor() const { return descriptor_; }

 private:
  int descriptor_;
};

Error failed(const std::string& path, int error_number) {
  if (error_number == ENOENT) return Error{fmt::format("{}: no such file or folder", path)};
  if (error_number == EISDIR) return Error{fmt::format("{}: is a folder; expected a file", path)};
  if (error_number == EACCES) return Error{fmt::format("{}: permission denied", path)};
  if (error_number == EEXIST) return Error{fmt::format("{}: is there already", path)};
  return Error{fmt::format("{}: {}", path, std::strerror(error_number))};
}

/// 0, or the error number.
int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const auto written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return errno;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  // Without this a crash of the machine after the rename could leave an empty file under the good name.
  return ::fsync(descriptor) == 0 ? 0 : errno;
}

std::string temporary_beside(const std::string& path) {
  return fmt::format("{}.{}.new", path, ::getpid());
}

/// 0, or the error number.
int write_whole_file(const std::string& path, std::string_view bytes) {
  const OpenFile file(path, O_WRONLY | O_CREAT | O_TRUNC);
  return file.is_open() ? write_all(file.descriptor(), bytes) : errno;
}

}  // namespace

std::optional<Error> read_file_in_pieces(const std::string& path,
                                         const std::function<std::optional<Error>(std::string_view)>& take) {
  const OpenFile file(path, O_RDONLY);
  if (!file.is_open()) return failed(path, errno);
  std::string piece(std::size_t{1} << 20, '\0');
  for (;;) {
    const auto got = ::read(file.descriptor(), piece.data(), piece.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return failed(path, errno);
    if (got == 0) return std::nullopt;
    if (auto wrong = take(std::string_view(piece).substr(0, static_cast<std::size_t>(got)))) return wrong;
  }
}

Result<std::string> read_file(const std::string& path) {
  const OpenFile file(path, O_RDONLY);
  if (!file.is_open()) return failed(path, errno);
  struct stat about {};
  std::string bytes;
  if (::fstat(file.descriptor(), &about) == 0 && S_ISREG(about.st_mode)) {
    bytes.reserve(static_cast<std::size_t>(about.st_size) + 1);
  }
  constexpr std::size_t k_piece = 1 << 18;
  for (;;) {
    const auto before = bytes.size();
    bytes.resize(before + k_piece);
    const auto got = ::read(file.descriptor(), bytes.data() + before, k_piece);
    bytes.resize(before + static_cast<std::size_t>(got > 0 ? got : 0));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return failed(path, errno);
    if (got == 0) return bytes;
  }
}

std::optional<Error> write_file_atomically(const std::string& path, std::string_view bytes) {
  const auto temporary = temporary_beside(path);
  int problem = write_whole_file(temporary, bytes);
  if (problem == 0 && std::rename(temporary.c_str(), path.c_str()) != 0) problem = errno;
  if (problem == 0) return std::nullopt;
  ::unlink(temporary.c_str());
  return failed(path, problem);
}

std::optional<Error> write_new_file_atomically(const std::string& path, std::string_view bytes) {
  const auto temporary = temporary_beside(path);
  int problem = write_whole_file(temporary, bytes);
  // Unlike a rename, a link never takes the place of a file that came in the meantime.
  if (problem == 0 && ::link(temporary.c_str(), path.c_str()) != 0) problem = errno;
  ::unlink(temporary.c_str());
  return problem == 0 ? std::nullopt : std::optional(failed(path, problem));
}

}  // namespace glidewright

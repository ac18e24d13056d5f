#include "formats/unpack.hpp"

#include <fmt/format.h>
#include <zip.h>
#include <zlib.h>

#include <algorithm>
#include <array>
#include <limits>
#include <memory>
#include <optional>

#include "formats/shown.hpp"

namespace glidewright {
namespace {

using namespace std::string_view_literals;

constexpr auto k_gzip_mark = "\x1F\x8B"sv;
constexpr auto k_zip_mark = "PK\x03\x04"sv;
constexpr std::size_t k_piece = 1 << 16;

bool starts_with(std::string_view bytes, std::string_view token) {
  return bytes.substr(0, token.size()) == token;
}

/// Why so many bytes may not come out of so few; empty where they may.
std::string too_much(std::size_t out, std::size_t in, const UnpackLimits& limits) {
  if (out > limits.largest_bytes)
    return fmt::format("unpacks to more than {} MB; expected a track log", limits.largest_bytes >> 20);
  if (out > limits.ratio_counts_from_bytes && out / limits.largest_ratio > in)
    return fmt::format("unpacks to more than {} times its size, which no track log does",
                       limits.largest_ratio);
  return {};
}

/// zlib's state, given back whatever happens.
class Inflater {
 public:
  explicit Inflater(std::string_view bytes) : left_(bytes) {
    constexpr int k_gzip_only = 16 + MAX_WBITS;
    ready_ = inflateInit2(&stream_, k_gzip_only) == Z_OK;
  }
  ~Inflater() {
    if (ready_) inflateEnd(&stream_);
  }
  Inflater(const Inflater&) = delete;
  Inflater& operator=(const Inflater&) = delete;

  bool ready() const { return ready_; }
  void start_next_member() { inflateReset(&stream_); }
  std::string_view left() const { return left_; }

  /// The next piece; `code` is zlib's.
  std::string_view next(int& code) {
    const auto given = std::min<std::size_t>(left_.size(), std::numeric_limits<uInt>::max());
    // zlib's interface lacks a const; it does not write there.
    stream_.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(left_.data()));
    stream_.avail_in = static_cast<uInt>(given);
    stream_.next_out = reinterpret_cast<Bytef*>(piece_.data());
    stream_.avail_out = static_cast<uInt>(piece_.size());
    code = inflate(&stream_, Z_NO_FLUSH);
    left_.remove_prefix(given - stream_.avail_in);
    return {piece_.data(), piece_.size() - stream_.avail_out};
  }

 private:
  z_stream stream_{};
  std::string_view left_;
  std::array<char, k_piece> piece_{};
  bool ready_ = false;
};

Result<Unpacked> unpack_gzip(std::string_view bytes, std::string_view name, const UnpackLimits& limits) {
  const auto damaged = [&](std::string_view what) {
    return Error{fmt::format("{}: gzip {}; expected the file as it was packed", name, what)};
  };
  const auto inflater = std::make_unique<Inflater>(bytes);
  if (!inflater->ready()) return Error{fmt::format("{}: cannot be unpacked, out of memory", name)};
  Unpacked out{{}, std::string(name), {}};
  for (;;) {
    int code = Z_OK;
    out.bytes += inflater->next(code);
    if (const auto why = too_much(out.bytes.size(), bytes.size(), limits); !why.empty())
      return Error{fmt::format("{}: {}", name, why)};
    if (code == Z_STREAM_END) {
      if (!starts_with(inflater->left(), k_gzip_mark)) break;
      inflater->start_next_member();
    } else if (code == Z_BUF_ERROR && inflater->left().empty()) {
      if (out.bytes.empty()) return damaged("ends before anything could be unpacked");
      out.notes.push_back(fmt::format("gzip ends early; the {} bytes before it are read", out.bytes.size()));
      break;
    } else if (code != Z_OK) {
      return damaged(fmt::format("is damaged near byte {}", bytes.size() - inflater->left().size()));
    }
  }
  // Tapes and some programs fill up with zeros.
  if (inflater->left().find_first_not_of('\0') != std::string_view::npos)
    out.notes.push_back(fmt::format("{} bytes after the end of gzip passed over", inflater->left().size()));
  return out;
}

struct CloseArchive {
  void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct CloseEntry {
  void operator()(zip_file_t* entry) const { zip_fclose(entry); }
};

std::unique_ptr<zip_t, CloseArchive> open_archive(std::string_view bytes) {
  zip_error_t ignored;
  zip_error_init(&ignored);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &ignored);
  zip_t* archive = source == nullptr ? nullptr : zip_open_from_source(source, ZIP_RDONLY, &ignored);
  if (archive == nullptr && source != nullptr) zip_source_free(source);
  zip_error_fini(&ignored);
  return std::unique_ptr<zip_t, CloseArchive>(archive);
}

bool ends_with_any_case(std::string_view text, std::string_view lower_case_end) {
  if (text.size() < lower_case_end.size()) return false;
  const auto tail = text.substr(text.size() - lower_case_end.size());
  return std::equal(tail.begin(), tail.end(), lower_case_end.begin(), [](char c, char expected) {
    return expected == (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  });
}

struct Choice {
  std::optional<zip_uint64_t> entry;
  std::size_t files = 0;
};

Choice choose(zip_t* archive) {
  Choice choice;
  std::optional<zip_uint64_t> only, first_kml;
  const auto count = static_cast<zip_uint64_t>(std::max<zip_int64_t>(zip_get_num_entries(archive, 0), 0));
  for (zip_uint64_t i = 0; i < count; ++i) {
    const char* written = zip_get_name(archive, i, 0);
    const std::string_view entry = written == nullptr ? std::string_view() : written;
    if (entry.empty() || entry.back() == '/') continue;
    ++choice.files;
    only = i;
    if (entry == "doc.kml") {
      choice.entry = i;
      return choice;
    }
    if (!first_kml && ends_with_any_case(entry, ".kml")) first_kml = i;
  }
  choice.entry = first_kml ? first_kml : choice.files == 1 ? only : std::nullopt;
  return choice;
}

Result<Unpacked> unpack_zip(std::string_view bytes, std::string_view name, const UnpackLimits& limits) {
  const auto archive = open_archive(bytes);
  if (!archive) return Error{fmt::format("{}: zip archive is damaged; expected it as it was packed", name)};
  const auto choice = choose(archive.get());
  if (choice.files == 0)
    return Error{fmt::format("{}: zip archive without files; expected a log in it", name)};
  if (!choice.entry) {
    return Error{
        fmt::format("{}: zip archive of {} files; expected one log, or KML (a .kmz); unpack it first", name,
                    choice.files)};
  }
  const std::string inside = shown(zip_get_name(archive.get(), *choice.entry, 0));
  const std::unique_ptr<zip_file_t, CloseEntry> entry(zip_fopen_index(archive.get(), *choice.entry, 0));
  if (!entry) {
    const int code = zip_error_code_zip(zip_get_error(archive.get()));
    const bool locked = code == ZIP_ER_NOPASSWD || code == ZIP_ER_ENCRNOTSUPP;
    return Error{fmt::format("{}: {} in the zip archive {}", name, inside,
                             locked ? "is locked with a password; expected it without"
                                    : "cannot be read; expected it stored or deflated")};
  }
  Unpacked out{{}, fmt::format("{}/{}", name, inside), {}};
  const auto piece = std::make_unique<std::array<char, k_piece>>();
  for (;;) {
    const auto got = zip_fread(entry.get(), piece->data(), piece->size());
    if (got < 0)
      return Error{
          fmt::format("{}: {} in the zip archive is damaged; expected it as it was packed", name, inside)};
    if (got == 0) return out;
    out.bytes.append(piece->data(), static_cast<std::size_t>(got));
    if (const auto why = too_much(out.bytes.size(), bytes.size(), limits); !why.empty())
      return Error{fmt::format("{}: {} in the zip archive {}", name, inside, why)};
  }
}

}  // namespace

bool is_packed(std::string_view bytes) {
  return starts_with(bytes, k_gzip_mark) || starts_with(bytes, k_zip_mark);
}

Result<Unpacked> unpack(std::string_view bytes, std::string_view name, const UnpackLimits& limits) {
  return starts_with(bytes, k_zip_mark) ? unpack_zip(bytes, name, limits) : unpack_gzip(bytes, name, limits);
}

Result<Unpacked> unpack_where_packed(std::string bytes, std::string_view name) {
  if (is_packed(bytes)) return unpack(bytes, name);
  return Unpacked{std::move(bytes), std::string(name), {}};
}

}  // namespace glidewright

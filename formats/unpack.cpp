#include "formats/unpack.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "formats/gzip_members.hpp"
#include "formats/shown.hpp"
#include "formats/zip_entries.hpp"

namespace glidewright {
namespace {

using namespace std::string_view_literals;

constexpr auto k_gzip_mark = "\x1F\x8B"sv;
constexpr auto k_zip_mark = "PK\x03\x04"sv;

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

Result<Unpacked> unpack_gzip(std::string_view bytes, std::string_view name, const UnpackLimits& limits) {
  const auto damaged = [&](std::string_view what) {
    return Error{fmt::format("{}: gzip {}; expected the file as it was packed", name, what)};
  };
  GzipMembers members(bytes);
  Unpacked out{{}, std::string(name), {}};
  for (;;) {
    Inflated state = Inflated::more;
    out.bytes += members.next(state);
    if (const auto why = too_much(out.bytes.size(), bytes.size(), limits); !why.empty())
      return Error{fmt::format("{}: {}", name, why)};
    if (state == Inflated::member_ends) {
      if (!starts_with(members.left(), k_gzip_mark)) break;
      members.start_next_member();
    } else if (state == Inflated::input_ends) {
      if (out.bytes.empty()) return damaged("ends before anything could be unpacked");
      out.notes.push_back(fmt::format("gzip ends early; the {} bytes before it are read", out.bytes.size()));
      break;
    } else if (state == Inflated::no_memory) {
      return Error{fmt::format("{}: cannot be unpacked, out of memory", name)};
    } else if (state == Inflated::damaged) {
      return damaged(fmt::format("is damaged near byte {}", bytes.size() - members.left().size()));
    }
  }
  // Tapes and some programs fill up with zeros.
  if (members.left().find_first_not_of('\0') != std::string_view::npos)
    out.notes.push_back(fmt::format("{} bytes after the end of gzip passed over", members.left().size()));
  return out;
}

bool ends_with_any_case(std::string_view text, std::string_view lower_case_end) {
  if (text.size() < lower_case_end.size()) return false;
  const auto tail = text.substr(text.size() - lower_case_end.size());
  return std::equal(tail.begin(), tail.end(), lower_case_end.begin(), [](char c, char expected) {
    return expected == (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  });
}

struct Choice {
  std::optional<std::size_t> entry;
  std::size_t files = 0;
};

Choice choose(const std::vector<std::string>& names) {
  Choice choice;
  std::optional<std::size_t> only, first_kml;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const std::string& entry = names[i];
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
  ZipEntries entries(bytes);
  if (!entries.names())
    return Error{fmt::format("{}: zip archive is damaged; expected it as it was packed", name)};
  const auto choice = choose(*entries.names());
  if (choice.files == 0)
    return Error{fmt::format("{}: zip archive without files; expected a log in it", name)};
  if (!choice.entry) {
    return Error{
        fmt::format("{}: zip archive of {} files; expected one log, or KML (a .kmz); unpack it first", name,
                    choice.files)};
  }
  const std::string inside = shown((*entries.names())[*choice.entry]);
  const auto opened = entries.open(*choice.entry);
  if (opened != ZipEntries::Opened::yes) {
    return Error{fmt::format("{}: {} in the zip archive {}", name, inside,
                             opened == ZipEntries::Opened::locked
                                 ? "is locked with a password; expected it without"
                                 : "cannot be read; expected it stored or deflated")};
  }
  Unpacked out{{}, fmt::format("{}/{}", name, inside), {}};
  for (;;) {
    const auto piece = entries.next();
    if (!piece)
      return Error{
          fmt::format("{}: {} in the zip archive is damaged; expected it as it was packed", name, inside)};
    if (piece->empty()) return out;
    out.bytes += *piece;
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

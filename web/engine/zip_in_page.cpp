// Zip archives in the page, stored or deflated, to the same answers as the program's libzip. Source: the ZIP
// file format's public specification, APPNOTE 6.3.3, zip64 (4.3.14, 4.3.15, 4.5.3) with it: some programs write
// it whatever the size.

#include "formats/zip_entries.hpp"
#include "web/engine/inflate_in_page.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_end_size = 22, k_longest_comment = 65535, k_entry_size = 46, k_local_size = 30;
constexpr std::size_t k_end64_size = 56, k_end64_place_size = 20, k_extra_head_size = 4;
constexpr std::uint32_t k_in_extra = 0xFFFFFFFF, k_zip64_extra = 1;
constexpr std::size_t k_piece = 1 << 16;
constexpr unsigned k_locked = 1, k_stored = 0, k_deflated = 8;

/// As 64 bits, whatever the page's own numbers have.
struct Entry {
  std::uint64_t local_at = 0, packed_size = 0, size = 0;
  std::uint32_t checksum = 0;
  unsigned flags = 0, method = 0;
};

/// The table of contents' last record, searched from the end.
std::optional<std::size_t> find_end(std::string_view bytes) {
  if (bytes.size() < k_end_size) return std::nullopt;
  const auto at = bytes.rfind("PK\x05\x06", bytes.size() - k_end_size);
  if (at == std::string_view::npos || bytes.size() - at > k_end_size + k_longest_comment) return std::nullopt;
  return at;
}

/// Eight bytes of zip64; the bytes must be there.
std::uint64_t long_at(std::string_view bytes, std::size_t at) {
  return number_at(bytes, at, 4) | static_cast<std::uint64_t>(number_at(bytes, at + 4, 4)) << 32;
}

/// Where the entries stand, and how many of them.
struct Contents {
  std::uint64_t count = 0, at = 0;
};

/// Of zip64, which stands before the last record; none where it contradicts itself.
std::optional<Contents> contents64(std::string_view bytes, std::size_t place) {
  const std::uint64_t at = long_at(bytes, place + 8);
  if (at > place || place - at < k_end64_size) return std::nullopt;
  const std::string_view end = bytes.substr(static_cast<std::size_t>(at));
  if (end.substr(0, 4) != "PK\x06\x06") return std::nullopt;
  const Contents contents{long_at(end, 32), long_at(end, 48)};
  const std::uint64_t size = long_at(end, 40);
  // One archive in one file.
  if (number_at(end, 16, 4) != 0 || number_at(end, 20, 4) != 0 || long_at(end, 24) != contents.count)
    return std::nullopt;
  if (contents.at > at || size > at - contents.at || contents.count > size / k_entry_size)
    return std::nullopt;
  return contents;
}

std::optional<Contents> find_contents(std::string_view bytes, std::size_t end) {
  const bool zip64 = end >= k_end64_place_size && bytes.substr(end - k_end64_place_size, 4) == "PK\x06\x07";
  if (zip64) return contents64(bytes, end - k_end64_place_size);
  return Contents{number_at(bytes, end + 10, 2), number_at(bytes, end + 16, 4)};
}

/// Fills in what does not fit into 32 bits; false where it is not there.
bool complete_from_extra(std::string_view extra, Entry& entry) {
  std::vector<std::uint64_t*> wanted;
  for (auto* one : {&entry.size, &entry.packed_size, &entry.local_at})
    if (*one == k_in_extra) wanted.push_back(one);
  if (wanted.empty()) return true;
  while (extra.size() >= k_extra_head_size) {
    const std::size_t size = number_at(extra, 2, 2);
    if (extra.size() - k_extra_head_size < size) return false;
    const std::string_view inside = extra.substr(k_extra_head_size, size);
    if (number_at(extra, 0, 2) == k_zip64_extra) {
      if (inside.size() < 8 * wanted.size()) return false;
      for (std::size_t i = 0; i < wanted.size(); ++i) *wanted[i] = long_at(inside, 8 * i);
      return true;
    }
    extra.remove_prefix(k_extra_head_size + size);
  }
  return false;
}

}  // namespace

struct ZipEntries::State {
  std::string_view bytes;
  std::optional<std::vector<std::string>> names;
  std::vector<Entry> entries;
  InflateInPage stream;
  Entry now;
  std::string_view stored_left;
  bool at_end = false;

  bool read_contents();
  std::optional<std::string_view> next_stored();
  std::optional<std::string_view> next_inflated();
};

bool ZipEntries::State::read_contents() {
  const auto end = find_end(bytes);
  if (!end) return false;
  const auto contents = find_contents(bytes, *end);
  if (!contents || contents->at > *end) return false;
  std::size_t at = static_cast<std::size_t>(contents->at);
  names.emplace();
  for (std::uint64_t i = 0; i < contents->count; ++i) {
    if (at > *end || *end - at < k_entry_size || bytes.substr(at, 4) != "PK\x01\x02") return false;
    const std::size_t name_size = number_at(bytes, at + 28, 2);
    const std::size_t extra_size = number_at(bytes, at + 30, 2);
    const std::size_t whole = k_entry_size + name_size + extra_size + number_at(bytes, at + 32, 2);
    if (*end - at < whole) return false;
    names->emplace_back(bytes.substr(at + k_entry_size, name_size));
    Entry entry{number_at(bytes, at + 42, 4), number_at(bytes, at + 20, 4), number_at(bytes, at + 24, 4),
                number_at(bytes, at + 16, 4), number_at(bytes, at + 8, 2),  number_at(bytes, at + 10, 2)};
    if (!complete_from_extra(bytes.substr(at + k_entry_size + name_size, extra_size), entry)) return false;
    entries.push_back(entry);
    at += whole;
  }
  return true;
}

ZipEntries::ZipEntries(std::string_view bytes) : state_(std::make_unique<State>()) {
  state_->bytes = bytes;
  if (!state_->read_contents()) state_->names.reset();
}

ZipEntries::~ZipEntries() = default;

const std::optional<std::vector<std::string>>& ZipEntries::names() const {
  return state_->names;
}

ZipEntries::Opened ZipEntries::open(std::size_t index) {
  const auto& bytes = state_->bytes;
  const Entry& entry = state_->now = state_->entries[index];
  if ((entry.flags & k_locked) != 0) return Opened::locked;
  if (entry.method != k_stored && entry.method != k_deflated) return Opened::unreadable;
  if (entry.local_at > bytes.size()) return Opened::unreadable;
  const auto at = static_cast<std::size_t>(entry.local_at);
  if (bytes.size() - at < k_local_size || bytes.substr(at, 4) != "PK\x03\x04") return Opened::unreadable;
  const std::size_t data = at + k_local_size + number_at(bytes, at + 26, 2) + number_at(bytes, at + 28, 2);
  if (data > bytes.size() || bytes.size() - data < entry.packed_size) return Opened::unreadable;
  state_->stored_left = bytes.substr(data, static_cast<std::size_t>(entry.packed_size));
  state_->stream.start(state_->stored_left);
  state_->at_end = false;
  return Opened::yes;
}

std::optional<std::string_view> ZipEntries::State::next_stored() {
  if (stored_left.empty()) {
    boost::crc_32_type checksum;
    const auto size = static_cast<std::size_t>(now.packed_size);
    checksum.process_bytes(stored_left.data() - size, size);
    if (now.packed_size != now.size || checksum.checksum() != now.checksum) return std::nullopt;
    return stored_left;
  }
  const auto piece = stored_left.substr(0, k_piece);
  stored_left.remove_prefix(piece.size());
  return piece;
}

std::optional<std::string_view> ZipEntries::State::next_inflated() {
  while (!at_end) {
    auto step = InflateInPage::Step::more;
    const auto out = stream.next(step);
    if (step != InflateInPage::Step::more && step != InflateInPage::Step::ends) return std::nullopt;
    at_end = step == InflateInPage::Step::ends;
    if (!out.empty()) return out;
  }
  if (stream.checksum() != now.checksum || stream.size() != now.size) return std::nullopt;
  return std::string_view();
}

std::optional<std::string_view> ZipEntries::next() {
  return state_->now.method == k_stored ? state_->next_stored() : state_->next_inflated();
}

}  // namespace glidewright

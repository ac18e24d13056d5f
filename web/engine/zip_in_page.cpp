// Zip archives in the page, stored or deflated, to the same answers as the program's libzip. Source: the ZIP
// file format's public specification, APPNOTE 6.3.3. Archives beyond 4 GB are no track logs and count as
// damaged.

#include "formats/zip_entries.hpp"
#include "web/engine/inflate_in_page.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_end_size = 22, k_longest_comment = 65535, k_entry_size = 46, k_local_size = 30;
constexpr std::size_t k_piece = 1 << 16;
constexpr unsigned k_locked = 1, k_stored = 0, k_deflated = 8;

struct Entry {
  std::size_t local_at = 0, packed_size = 0, size = 0;
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
  const std::size_t count = number_at(bytes, *end + 10, 2);
  std::size_t at = number_at(bytes, *end + 16, 4);
  names.emplace();
  for (std::size_t i = 0; i < count; ++i) {
    if (at > *end || *end - at < k_entry_size || bytes.substr(at, 4) != "PK\x01\x02") return false;
    const std::size_t name_size = number_at(bytes, at + 28, 2);
    const std::size_t whole =
        k_entry_size + name_size + number_at(bytes, at + 30, 2) + number_at(bytes, at + 32, 2);
    if (*end - at < whole) return false;
    names->emplace_back(bytes.substr(at + k_entry_size, name_size));
    entries.push_back({number_at(bytes, at + 42, 4), number_at(bytes, at + 20, 4),
                       number_at(bytes, at + 24, 4), number_at(bytes, at + 16, 4),
                       number_at(bytes, at + 8, 2), number_at(bytes, at + 10, 2)});
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
  const std::size_t at = entry.local_at;
  if (at > bytes.size() || bytes.size() - at < k_local_size || bytes.substr(at, 4) != "PK\x03\x04")
    return Opened::unreadable;
  const std::size_t data = at + k_local_size + number_at(bytes, at + 26, 2) + number_at(bytes, at + 28, 2);
  if (data > bytes.size() || bytes.size() - data < entry.packed_size) return Opened::unreadable;
  state_->stored_left = bytes.substr(data, entry.packed_size);
  state_->stream.start(state_->stored_left);
  state_->at_end = false;
  return Opened::yes;
}

std::optional<std::string_view> ZipEntries::State::next_stored() {
  if (stored_left.empty()) {
    boost::crc_32_type checksum;
    checksum.process_bytes(bytes.data() + (stored_left.data() - bytes.data()) - now.packed_size,
                           now.packed_size);
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

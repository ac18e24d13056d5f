// Gzip in the page, to the same answers as the program's zlib. Source: RFC 1952.

#include "formats/gzip_members.hpp"
#include "web/engine/inflate_in_page.hpp"

namespace glidewright {
namespace {

constexpr std::size_t k_fixed = 10;  // mark, method, flags, time, extra flags, system
constexpr std::size_t k_trailer = 8;
constexpr unsigned k_header_checksum = 2, k_extra = 4, k_name = 8, k_comment = 16, k_reserved = 0xE0;

/// Where the stream begins; `state` is not `more` where there is no whole header.
std::size_t header_size(std::string_view bytes, Inflated& state) {
  state = Inflated::input_ends;
  if (bytes.size() >= 2 && bytes.substr(0, 2) != "\x1F\x8B") state = Inflated::damaged;
  if (bytes.size() >= 3 && bytes[2] != 8) state = Inflated::damaged;
  if (bytes.size() >= 4 && (number_at(bytes, 3, 1) & k_reserved) != 0) state = Inflated::damaged;
  if (state == Inflated::damaged || bytes.size() < k_fixed) return 0;
  const unsigned flags = number_at(bytes, 3, 1);
  std::size_t at = k_fixed;
  if ((flags & k_extra) != 0) {
    if (bytes.size() < at + 2) return 0;
    at += 2 + number_at(bytes, at, 2);
  }
  for (const unsigned text : {k_name, k_comment}) {
    if ((flags & text) == 0) continue;
    const auto end = bytes.find('\0', at);
    if (end == std::string_view::npos) return 0;
    at = end + 1;
  }
  if ((flags & k_header_checksum) != 0) {
    if (bytes.size() < at + 2) return 0;
    boost::crc_32_type checksum;
    checksum.process_bytes(bytes.data(), at);
    if ((checksum.checksum() & 0xFFFF) != number_at(bytes, at, 2)) state = Inflated::damaged;
    if (state == Inflated::damaged) return 0;
    at += 2;
  }
  if (bytes.size() < at) return 0;
  state = Inflated::more;
  return at;
}

}  // namespace

struct GzipMembers::State {
  InflateInPage stream;
  std::string_view left;
  bool in_member = false;
};

GzipMembers::GzipMembers(std::string_view bytes) : state_(std::make_unique<State>()) {
  state_->left = bytes;
}

GzipMembers::~GzipMembers() = default;

std::string_view GzipMembers::next(Inflated& state) {
  auto& [stream, left, in_member] = *state_;
  if (!in_member) {
    const std::size_t header = header_size(left, state);
    if (state != Inflated::more) return {};
    left.remove_prefix(header);
    stream.start(left);
    in_member = true;
  }
  auto step = InflateInPage::Step::more;
  const auto out = stream.next(step);
  left = stream.left();
  state = step == InflateInPage::Step::more         ? Inflated::more
          : step == InflateInPage::Step::input_ends ? Inflated::input_ends
                                                    : Inflated::damaged;
  if (step != InflateInPage::Step::ends) return out;
  if (left.size() < k_trailer) {
    left = {};
    state = Inflated::input_ends;
    return out;
  }
  const bool same_bytes = number_at(left, 0, 4) == stream.checksum();
  const bool same_size = number_at(left, 4, 4) == static_cast<std::uint32_t>(stream.size());
  left.remove_prefix(same_bytes ? k_trailer : k_trailer / 2);
  state = same_bytes && same_size ? Inflated::member_ends : Inflated::damaged;
  return out;
}

void GzipMembers::start_next_member() {
  state_->in_member = false;
}

std::string_view GzipMembers::left() const {
  return state_->left;
}

}  // namespace glidewright

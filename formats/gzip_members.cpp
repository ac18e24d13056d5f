#include "formats/gzip_members.hpp"

#include <zlib.h>

#include <algorithm>
#include <array>
#include <limits>

namespace glidewright {
namespace {

constexpr std::size_t k_piece = 1 << 16;

}  // namespace

struct GzipMembers::State {
  z_stream stream{};
  std::string_view left;
  std::array<char, k_piece> piece{};
  bool ready = false;
};

GzipMembers::GzipMembers(std::string_view bytes) : state_(std::make_unique<State>()) {
  constexpr int k_gzip_only = 16 + MAX_WBITS;
  state_->left = bytes;
  state_->ready = inflateInit2(&state_->stream, k_gzip_only) == Z_OK;
}

GzipMembers::~GzipMembers() {
  if (state_->ready) inflateEnd(&state_->stream);
}

std::string_view GzipMembers::next(Inflated& state) {
  state = Inflated::no_memory;
  if (!state_->ready) return {};
  auto& stream = state_->stream;
  auto& left = state_->left;
  const auto given = std::min<std::size_t>(left.size(), std::numeric_limits<uInt>::max());
  // zlib's interface lacks a const; it does not write there.
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(left.data()));
  stream.avail_in = static_cast<uInt>(given);
  stream.next_out = reinterpret_cast<Bytef*>(state_->piece.data());
  stream.avail_out = static_cast<uInt>(k_piece);
  const int code = inflate(&stream, Z_NO_FLUSH);
  left.remove_prefix(given - stream.avail_in);
  if (code == Z_STREAM_END) {
    state = Inflated::member_ends;
  } else if (code == Z_BUF_ERROR && left.empty()) {
    state = Inflated::input_ends;
  } else {
    state = code == Z_OK ? Inflated::more : Inflated::damaged;
  }
  return {state_->piece.data(), k_piece - stream.avail_out};
}

void GzipMembers::start_next_member() {
  inflateReset(&state_->stream);
}

std::string_view GzipMembers::left() const {
  return state_->left;
}

}  // namespace glidewright

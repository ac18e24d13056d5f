#pragma once
// DEFLATE in the page, which has neither zlib nor libzip: Boost.Beast's, a header-only port of zlib's own.

#include <array>
#include <boost/beast/zlib/inflate_stream.hpp>
#include <boost/crc.hpp>
#include <cstdint>
#include <string_view>

namespace glidewright {

/// One raw stream at a time (RFC 1951), with the checksum of what came out.
class InflateInPage {
 public:
  enum class Step { more, ends, input_ends, damaged };

  void start(std::string_view bytes) {
    stream_.reset();
    left_ = bytes;
    checksum_.reset();
    size_ = 0;
  }

  /// The next bytes out, good until the next call.
  std::string_view next(Step& step) {
    boost::beast::zlib::z_params now;
    now.next_in = left_.data();
    now.avail_in = left_.size();
    now.next_out = piece_.data();
    now.avail_out = piece_.size();
    boost::beast::error_code code;
    stream_.write(now, boost::beast::zlib::Flush::none, code);
    left_.remove_prefix(left_.size() - now.avail_in);
    const std::string_view out(piece_.data(), piece_.size() - now.avail_out);
    checksum_.process_bytes(out.data(), out.size());
    size_ += out.size();
    if (code == boost::beast::zlib::error::end_of_stream) {
      step = Step::ends;
    } else if (code == boost::beast::zlib::error::need_buffers && left_.empty()) {
      step = Step::input_ends;
    } else {
      step = code ? Step::damaged : Step::more;
    }
    return out;
  }

  std::string_view left() const { return left_; }
  std::uint32_t checksum() const { return checksum_.checksum(); }
  std::uint64_t size() const { return size_; }

 private:
  boost::beast::zlib::inflate_stream stream_;
  boost::crc_32_type checksum_;
  std::string_view left_;
  std::uint64_t size_ = 0;
  std::array<char, 1 << 16> piece_{};
};

/// Little endian, as gzip and zip write numbers; the bytes must be there.
inline std::uint32_t number_at(std::string_view bytes, std::size_t at, unsigned width) {
  std::uint32_t value = 0;
  for (unsigned i = 0; i < width; ++i)
    value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
  return value;
}

}  // namespace glidewright

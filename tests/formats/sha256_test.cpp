#include "formats/sha256.hpp"

#include <gtest/gtest.h>

namespace glidewright {
namespace {

// Source: NIST, examples with intermediate values for FIPS 180-4, SHA-256; and FIPS 180-2, appendix B.
TEST(Sha256, PublishedExamples) {
  EXPECT_EQ(sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256_hex(std::string(1000000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Sha256, EveryByteCountsAtEveryLengthAroundABlock) {
  for (std::size_t length = 1; length <= 130; ++length) {
    std::string bytes(length, '\xA5');
    const auto before = sha256_hex(bytes);
    bytes.back() ^= 1;
    EXPECT_NE(sha256_hex(bytes), before) << length;
  }
}

}  // namespace
}  // namespace glidewright

#include "engine/batch/draws.hpp"

#include <gtest/gtest.h>

#include "engine/lanes/philox.hpp"

namespace glidewright {
namespace {

// Known answers of Philox4x32-10 as published with Random123 (Salmon et al., SC11): all bits zero, all bits
// one, and the digits of pi.
TEST(Philox, KnownAnswers) {
  const struct {
    FourRandomWords counter;
    std::uint64_t key;
    FourRandomWords expected;
  } rows[] = {
      {{{0, 0, 0, 0}}, 0, {{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}}},
      {{{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}},
       0xffffffffffffffffULL,
       {{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}}},
      {{{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}},
       0x299f31d0a4093822ULL,
       {{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}}},
  };
  for (const auto& row : rows) {
    const auto found = philox(row.counter, row.key);
    for (int i = 0; i < 4; ++i) EXPECT_EQ(found.word[i], row.expected.word[i]);
  }
}

TEST(Draws, DependOnSeedFlightAndChannelOnly) {
  const double first = standard_normal(3, 1000, 4);
  standard_normal(9, 2, 1);
  EXPECT_EQ(standard_normal(3, 1000, 4), first);
  EXPECT_NE(standard_normal(4, 1000, 4), first);
  EXPECT_NE(standard_normal(3, 1001, 4), first);
  EXPECT_NE(standard_normal(3, 1000, 5), first);
  EXPECT_NE(standard_normal(3, 1000 + (std::uint64_t{1} << 32), 4), first);
}

TEST(Draws, ADeviationUsesTheChannelsInOrder) {
  Scatter scatter;
  const auto deviation = draw_deviation(scatter, 0.0, 7, 11);
  EXPECT_EQ(deviation.idle_s, 0.0);
  EXPECT_EQ(deviation.cue_s, scatter.cue_s * standard_normal(7, 11, 0));
  EXPECT_EQ(deviation.height_ft, scatter.height_ft * standard_normal(7, 11, 5));
  EXPECT_EQ(deviation.touchdown_speed_kt, scatter.touchdown_speed_kt * standard_normal(7, 11, 10));
}

}  // namespace
}  // namespace glidewright

#include "engine/debrief/shapley.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numeric>
#include <vector>

namespace glidewright {
namespace {

/// Feet for every coalition, drawn at random: causes that interact in any way at all.
std::vector<double> any_values(int count) {
  return *rc::gen::container<std::vector<double>>(
      1u << count,
      rc::gen::map(rc::gen::inRange(-200000, 200000), [](int tenths) { return tenths / 100.0; }));
}

// Shapley 1953, efficiency: the shares and nothing else make up the whole. 1e-9 ft: rounding of 2,000 ft.
RC_GTEST_PROP(Shapley, SharesSumToTheWholeMiss, ()) {
  const int count = *rc::gen::inRange(1, 8);
  const auto values = any_values(count);
  const auto shares = shapley_shares(count, values);
  RC_ASSERT(shares.size() == static_cast<std::size_t>(count));
  const double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
  RC_ASSERT(std::abs(sum - (values.back() - values.front())) < 1e-9);
}

// Shapley 1953, symmetry: what the causes are called changes no share.
RC_GTEST_PROP(Shapley, OrderOfTheCausesDoesNotMatter, ()) {
  const int count = *rc::gen::inRange(2, 7);
  const auto values = any_values(count);
  const auto reversed = [&](Coalition flown) {
    Coalition other = 0;
    for (int i = 0; i < count; ++i) {
      if (flown >> i & 1u) other |= 1u << (count - 1 - i);
    }
    return other;
  };
  const auto shares = shapley_shares(count, values);
  std::vector<double> values_turned;
  for (const Coalition flown : all_sets(count)) values_turned.push_back(values.at(reversed(flown)));
  const auto turned = shapley_shares(count, values_turned);
  for (std::size_t i = 0; i < shares.size(); ++i) {
    RC_ASSERT(std::abs(shares[i] - turned[shares.size() - 1 - i]) < 1e-9);
  }
}

// The glove game, a textbook closed form: one left glove and two right ones, a pair is worth 1: 2/3, 1/6,
// 1/6.
TEST(Shapley, GloveGame) {
  std::vector<double> worth;
  for (const Coalition owners : all_sets(3))
    worth.push_back((owners & 1u) != 0 && (owners & 6u) != 0 ? 1.0 : 0.0);
  const auto shares = shapley_shares(3, worth);
  EXPECT_NEAR(shares.at(0), 2.0 / 3.0, 1e-12);
  EXPECT_NEAR(shares.at(1), 1.0 / 6.0, 1e-12);
  EXPECT_NEAR(shares.at(2), 1.0 / 6.0, 1e-12);
}

TEST(Shapley, LooksAtEachCoalitionOnce) {
  const auto sets = all_sets(5);
  ASSERT_EQ(sets.size(), 32u);
  for (Coalition set = 0; set < 32; ++set) EXPECT_EQ(sets.at(set), set);
  EXPECT_EQ(first_and_last_sets(3),
            (std::vector<Coalition>{0b000, 0b001, 0b010, 0b100, 0b110, 0b101, 0b011, 0b111}));
}

// With causes that interact in pairs only, half of each pair's part goes to either: first and last average to
// that.
TEST(Shapley, FirstAndLastIsExactForPairs) {
  const auto value = [](Coalition flown) {
    const auto is_flown = [&](int cause) { return static_cast<double>(flown >> cause & 1u); };
    return 100.0 * is_flown(0) - 60.0 * is_flown(1) + 30.0 * is_flown(2) + 40.0 * is_flown(0) * is_flown(1) -
           8.0 * is_flown(1) * is_flown(2);
  };
  const auto of = [&](const std::vector<Coalition>& sets) {
    std::vector<double> values;
    for (const Coalition set : sets) values.push_back(value(set));
    return values;
  };
  const auto exact = shapley_shares(3, of(all_sets(3)));
  const auto cheap = first_and_last_shares(3, of(first_and_last_sets(3)));
  const double by_hand[] = {120.0, -44.0, 26.0};
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(exact.at(i), by_hand[i], 1e-9);
    EXPECT_NEAR(cheap.at(i), by_hand[i], 1e-9);
  }
}

}  // namespace
}  // namespace glidewright

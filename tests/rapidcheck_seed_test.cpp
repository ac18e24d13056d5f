// Property tests draw the same cases on every run. RC_PARAMS in the environment still overrides the seed.

#include <gtest/gtest.h>

#include <cstdlib>

namespace glidewright {
namespace {

[[maybe_unused]] const int k_seed_is_set = setenv("RC_PARAMS", "seed=20260514", 0);

TEST(RapidCheckSeed, IsFixed) {
  EXPECT_NE(std::getenv("RC_PARAMS"), nullptr);
}

}  // namespace
}  // namespace glidewright

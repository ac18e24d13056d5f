#include "apps/cli/words/readiness_text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

namespace glidewright {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

/// What is printed of so many landings that met the standard and so many that did not, the last ones last.
std::string told(int met, int missed) {
  ReadinessOfLogs result;
  result.standard_id = result.standard_name = "demo";
  for (int i = 0; i < met + missed; ++i) {
    CountedAttempt one;
    one.time_unix_s = 1.78e9 + 600.0 * i;
    one.rated.probability_met = one.rated.probability_in_box = i < missed ? 0.0 : 1.0;
    result.attempts.push_back(one);
  }
  complete_readiness(result);
  return std::regex_replace(readiness_text(result, {}), std::regex("\\s+"), " ");
}

/// 0.1^(1/3) = 0.4642 (one-sided bound of n of n, exact binomial): 9.28 in 20, rounded down. 0.8^n <= 0.1
/// first at n = 11, so eight are left.
TEST(ReadinessWords, ThreeOfThreeProveNearlyNothing) {
  const std::string text = told(3, 0);
  EXPECT_THAT(text, HasSubstr("At least 9 in 20, nine in ten sure: 3 of 3 met the standard."));
  EXPECT_THAT(text, HasSubstr("Fewer than five attempts: no rate and no trend can be read from them."));
  EXPECT_THAT(text, HasSubstr("8 more without a miss would prove 16 in 20."));
  EXPECT_THAT(text, HasSubstr("stopping when a run looks good proves nothing"));
  EXPECT_THAT(text, Not(HasSubstr("The next attempt"))) << "nothing that three could tell";
  EXPECT_THAT(text, Not(HasSubstr("%"))) << "no precision that is not there";
}

/// 0.1^(1/11) = 0.8111: 16.2 in 20. The next: Jeffreys' prior, mean 11.5 / 12 = 0.958, 19 in 20.
TEST(ReadinessWords, ElevenOfElevenAreWhatIsAskedFor) {
  const std::string text = told(11, 0);
  EXPECT_THAT(text, HasSubstr("At least 16 in 20, nine in ten sure: 11 of 11 met the standard."));
  EXPECT_THAT(text, HasSubstr("That is the 16 in 20 asked for."));
  EXPECT_THAT(text, HasSubstr("The next attempt: 19 in 20"));
  EXPECT_THAT(text, Not(HasSubstr("more without a miss")));
  EXPECT_THAT(text, HasSubstr("A human signs a student off, never a number."));
}

/// P(3 or more of 20) is 0.0755 at 1 in 20 and 0.3231 at 2 in 20 (binomial tables), so the bound, where it is
/// 0.1, lies between: 1 in 20, rounded down. The next: (3 + 1/2) / 21 = 0.167, 3 in 20.
TEST(ReadinessWords, ThreeOfTwentyAreSaidWithoutMercyAndWithoutScorn) {
  const std::string text = told(3, 17);
  EXPECT_THAT(text, HasSubstr("At least 1 in 20, nine in ten sure: 3 of 20 met the standard."));
  EXPECT_THAT(text, HasSubstr("The next attempt: 3 in 20"));
  EXPECT_THAT(text, HasSubstr("more without a miss would prove 16 in 20"));
}

TEST(ReadinessWords, WithoutASuccessNothingIsProved) {
  EXPECT_THAT(told(0, 5), HasSubstr("Nothing yet: 0 of 5 met the standard."));
  EXPECT_THAT(told(0, 0), HasSubstr("No attempt counts yet, so nothing is proved."));
}

/// Ten of ten prove 0.1^(1/10) = 0.794: not yet 0.8, and not said as such.
TEST(ReadinessWords, ABoundIsNeverSaidLargerThanItIs) {
  EXPECT_THAT(told(10, 0), HasSubstr("At least 15 in 20"));
  EXPECT_THAT(told(10, 0), HasSubstr("1 more without a miss"));
}

TEST(ReadinessWords, SayWhoFlewWhatDoesNotCount) {
  ReadinessOfLogs result;
  for (const FlownBy flown_by :
       {FlownBy::student, FlownBy::student_prompted, FlownBy::controls_taken, FlownBy::controls_taken}) {
    CountedAttempt one;
    one.time_unix_s = 1.78e9;
    one.rated.probability_met = 1.0;
    one.rated.flown_by = flown_by;
    result.attempts.push_back(one);
  }
  complete_readiness(result);
  const std::string text = std::regex_replace(readiness_text(result, {}), std::regex("\\s+"), " ");
  EXPECT_THAT(text, HasSubstr("met, flown by the student with prompts: not counted"));
  EXPECT_THAT(text, HasSubstr("met, the instructor took the controls: not counted"));
  EXPECT_THAT(text, HasSubstr("Left out: 3 not flown alone (1 with prompts, 2 with the controls taken)"));
}

}  // namespace
}  // namespace glidewright

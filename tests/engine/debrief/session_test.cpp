#include "engine/debrief/session.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace glidewright {
namespace {

using testing::HasSubstr;
using testing::Not;

Cause cause(const std::string& name, double effect_ft, double half_width_ft) {
  return {name, effect_ft, effect_ft - half_width_ft, effect_ft + half_width_ft, ""};
}

AttemptDebrief attempt(int index, double along_ft, std::vector<Cause> causes) {
  AttemptDebrief one;
  one.attempt.index = index;
  one.touchdown = Touchdown{};
  one.touchdown->along_ft = along_ft;
  one.causes.causes = std::move(causes);
  return one;
}

TEST(Session, PractisesTheDecisionThatLeansMost) {
  const auto session =
      session_of({attempt(1, 500, {cause("base turn", -300, 100), cause("flaps", 120, 60)}),
                  attempt(2, 300, {cause("base turn", -200, 100), cause("flaps", 140, 60)})});
  ASSERT_TRUE(session);
  EXPECT_EQ(session->cause, "base turn");
  EXPECT_EQ(session->attempts, 2);
  EXPECT_DOUBLE_EQ(session->mean_ft, -250.0);
  EXPECT_DOUBLE_EQ(session->low95_ft, -350.0) << "the errors are shared: a mean is no surer";
  EXPECT_THAT(session->recommendation, HasSubstr("turn base sooner"));
  EXPECT_THAT(session->recommendation, HasSubstr("Base turn here: −300 and −200 ft"));
}

TEST(Session, DoesNotPractiseWhatNobodyDecides) {
  const auto session = session_of({attempt(1, 500, {cause("wind and airplane together", 900, 100)}),
                                   attempt(2, 300, {cause("wind and airplane together", 800, 100)})});
  ASSERT_TRUE(session);
  EXPECT_EQ(session->cause, "");
  EXPECT_THAT(session->recommendation, HasSubstr("No decision"));
}

TEST(Session, NamesNothingThatIsWithinItsError) {
  const auto session = session_of(
      {attempt(1, 500, {cause("base turn", -300, 400)}), attempt(2, 300, {cause("base turn", -200, 400)})});
  ASSERT_TRUE(session);
  EXPECT_EQ(session->cause, "");
  // And what is once long and once short leans no way.
  const auto scatter = session_of(
      {attempt(1, 500, {cause("base turn", -300, 100)}), attempt(2, 300, {cause("base turn", 280, 100)})});
  EXPECT_EQ(scatter->cause, "");
}

TEST(Session, SaysHowTheCostliestWasAnswered) {
  const auto next = [](double effect_ft) {
    const auto session = session_of({attempt(1, 500, {cause("base turn", -300, 100)}),
                                     attempt(3, 40, {cause("base turn", effect_ft, 100)})});
    return session->changes.at(0);
  };
  EXPECT_THAT(next(-280.0), HasSubstr("Attempt 1 to 3: +500 to +40 ft; "));
  EXPECT_THAT(next(-280.0), HasSubstr("base turn −300 to −280 ft, not answered yet"));
  EXPECT_THAT(next(-120.0), HasSubstr(", answered."));
  EXPECT_THAT(next(250.0), HasSubstr(", answered too far."));
}

TEST(Session, NeedsTwoThatAreExplained) {
  EXPECT_FALSE(session_of({}));
  EXPECT_FALSE(session_of({attempt(1, 500, {cause("base turn", -300, 100)}), attempt(2, 100, {})}));
  AttemptDebrief around = attempt(2, 0, {cause("base turn", -300, 100)});
  around.touchdown.reset();
  EXPECT_FALSE(session_of({attempt(1, 500, {cause("base turn", -300, 100)}), around}));
}

}  // namespace
}  // namespace glidewright

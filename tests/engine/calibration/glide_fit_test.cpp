#include "engine/calibration/glide_fit.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "engine/calibration/fitted_profile.hpp"
#include "engine/calibration/glide_estimates.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/engine/calibration/simulated_glides.hpp"

namespace glidewright {
namespace {

using test::drawn_numbers;
using test::logged;

const GlideNumber& number_of(const GlideBelief& belief, const std::string& field) {
  for (const auto& number : belief.numbers) {
    if (number.field == field) return number;
  }
  throw std::runtime_error("no number " + field);
}

/// In how many of `tries` an interval of 95 % must hold the truth: 99.9 in 100 of right programs do.
/// Normal approximation of the binomial, 3.29 standard deviations, a half for the count being whole.
void expect_covers(int held, int tries) {
  const double reach = 3.29 * std::sqrt(0.95 * 0.05 * tries) + 0.5;
  EXPECT_GE(held, 0.95 * tries - reach) << "of " << tries;
  EXPECT_LE(held, 0.95 * tries + reach) << "of " << tries;
}

TEST(GlideBelief, OfTheHandbookIsItsNumbersAndTheirSpread) {
  const auto belief = belief_from_handbook(trainer_handbook());
  EXPECT_EQ(number_of(belief, "best_glide_ratio").value, 9.0);
  EXPECT_EQ(number_of(belief, "best_glide_ratio").sd, 0.3);
  EXPECT_EQ(number_of(belief, "flaps[2].glide_ratio").value, 6.6);
  EXPECT_EQ(number_of(belief, "idle_propeller").value, 0.0);
  for (const auto& number : belief.numbers) {
    EXPECT_GT(number.sd, 0.0) << number.field;
    EXPECT_FALSE(number.source.empty()) << number.field;
  }
}

TEST(GlideBelief, MeanIsTheAirplaneOfTheHandbook) {
  const Handbook book = trainer_handbook();
  const auto belief = belief_from_handbook(book);
  const Polar fitted = fit_airplane(book).polar, mean = airplane_with(belief, belief.mean()).polar;
  for (std::size_t i = 0; i < fitted.flaps.size(); ++i) {
    EXPECT_NEAR(mean.flaps[i].parasite, fitted.flaps[i].parasite, 1e-12);
    EXPECT_NEAR(mean.flaps[i].induced, fitted.flaps[i].induced, 1e-12);
  }
  EXPECT_NEAR(mean.slip_parasite, fitted.slip_parasite, 1e-12);
}

TEST(GlideBelief, SilenceOfTheHandbookIsAClassDefaultWithAWiderSpread) {
  Handbook book = trainer_handbook();
  book.flaps[1].glide_ratio.reset();
  book.slip_drag_ratio.reset();
  const auto belief = belief_from_handbook(book);
  EXPECT_THAT(number_of(belief, "flaps[1].glide_ratio").source, testing::HasSubstr("no source"));
  EXPECT_THAT(number_of(belief, "slip_drag_ratio").source, testing::HasSubstr("no source"));
  const auto given = belief_from_handbook(trainer_handbook());
  EXPECT_GT(number_of(belief, "flaps[1].glide_ratio").sd, number_of(given, "flaps[1].glide_ratio").sd);
}

/// Spreading the propeller over the glide ratios is another way to say the same.
TEST(GlideBelief, IdlingSaysTheSameOfEveryGlide) {
  const auto belief = belief_from_handbook(trainer_handbook());
  const auto idling = with_propeller_idling(belief);
  EXPECT_EQ(idling.numbers.size() + 1, belief.numbers.size());
  for (const double flap : {0.0, 10.0, 30.0}) {
    const auto one = sink_fpm(belief, Knots{66.0}, Pounds{2200.0}, Degrees{flap});
    const auto other = sink_fpm(idling, Knots{66.0}, Pounds{2200.0}, Degrees{flap});
    EXPECT_NEAR(one.value, other.value, 1e-6);
    // Derivatives by steps of a twentieth of the spread: 1 % of the width.
    EXPECT_NEAR(one.high95 - one.low95, other.high95 - other.low95, 0.01 * (one.high95 - one.low95));
  }
}

TEST(FitGlides, WithoutGlidesNothingChanges) {
  const auto belief = belief_from_handbook(trainer_handbook());
  const auto fit = fit_glides(belief, {});
  EXPECT_EQ(fit.after.mean(), belief.mean());
  EXPECT_EQ(fit.after.covariance, belief.covariance);
}

/// Many glides without errors leave the airplane that flew them. 0.3 %: the readings count as no surer than
/// 3 %, so that 400 of them still weigh little less than the handbook's 3 %.
TEST(FitGlides, RecoversTheAirplaneFromExactGlides) {
  std::mt19937 random(7);
  const auto belief = belief_from_handbook(trainer_handbook());
  const Airplane flown = airplane_with(belief, drawn_numbers(belief, random));
  const auto log = logged(flown, {.glides = 400, .reading_errors = 0.0, .shared_errors = 0.0}, random);
  const auto fit = fit_glides(belief, {log});
  const Polar found = airplane_with(fit.after, fit.after.mean()).polar;
  for (const double flap : {0.0, 10.0, 30.0}) {
    for (const double speed : {64.0, 70.0, 78.0}) {
      const auto glide = [&](const Polar& polar) {
        return steady_glide(polar, Knots{speed}, Pounds{2200.0}, Degrees{flap}, 0.0, 1.0).glide_ratio;
      };
      EXPECT_NEAR(glide(found) / glide(flown.polar), 1.0, 0.003) << flap << " " << speed;
    }
  }
  EXPECT_LT(fit.noise_scale, 0.3);
}

TEST(FitGlides, NarrowsWhatTheGlidesTellOfAndNothingElse) {
  std::mt19937 random(3);
  const auto belief = belief_from_handbook(trainer_handbook());
  const auto fit = fit_glides(belief, {logged(airplane_with(belief, belief.mean()), {.glides = 30}, random)});
  EXPECT_LT(number_of(fit.after, "flaps[2].glide_ratio").sd,
            0.8 * number_of(belief, "flaps[2].glide_ratio").sd);
  // No glide turned or slipped.
  EXPECT_NEAR(number_of(fit.after, "turn_drag").sd, number_of(belief, "turn_drag").sd, 1e-6);
  EXPECT_NEAR(number_of(fit.after, "slip_drag_ratio").sd, number_of(belief, "slip_drag_ratio").sd, 1e-6);
  EXPECT_LT(drag_sd(fit.after), 0.7 * drag_sd(belief));
}

TEST(FitGlides, TurnsTellOfTheDragInTurns) {
  std::mt19937 random(4);
  const auto belief = belief_from_handbook(trainer_handbook());
  Eigen::VectorXd numbers = belief.mean();
  for (std::size_t i = 0; i < belief.numbers.size(); ++i) {
    if (belief.numbers[i].field == "turn_drag") numbers[static_cast<Eigen::Index>(i)] = 0.4;
  }
  const auto log = logged(airplane_with(belief, numbers), {.glides = 80, .turning = true}, random);
  const auto after = fit_glides(belief, {log}).after;
  const auto& found = number_of(after, "turn_drag");
  EXPECT_NEAR(found.value, 0.4, 3.0 * found.sd);
  EXPECT_LT(found.sd, 0.5 * number_of(belief, "turn_drag").sd);
}

/// 200 airplanes drawn from the belief, each with a log drawn with the errors it admits to.
TEST(FitGlides, IntervalsHoldTheTruthOfDrawnAirplanes) {
  const auto belief = belief_from_handbook(trainer_handbook());
  constexpr int tries = 200;
  int sink_held = 0, ratio_held = 0, speed_held = 0;
  for (unsigned seed = 1; seed <= tries; ++seed) {
    std::mt19937 random(seed);
    const Airplane flown = airplane_with(belief, drawn_numbers(belief, random));
    auto after = fit_glides(belief, {logged(flown, {.glides = 15}, random)}).after;
    // The airplanes drawn are polars of this shape, so the interval must hold them without the misfit.
    after.polar_misfit = 0.0;
    const auto holds = [](const Estimate& estimate, double truth) {
      return truth >= estimate.low95 && truth <= estimate.high95 ? 1 : 0;
    };
    const Pounds weight{2400.0};
    sink_held += holds(sink_fpm(after, Knots{64.0}, weight, Degrees{30.0}),
                       steady_glide(flown.polar, Knots{64.0}, weight, Degrees{30.0}, 0.0, 1.0).sink_fpm);
    const Knots flattest = best_glide_speed(flown.polar, weight, Degrees{0.0});
    ratio_held += holds(best_glide_ratio(after),
                        steady_glide(flown.polar, flattest, weight, Degrees{0.0}, 0.0, 1.0).glide_ratio);
    speed_held += holds(flattest_glide_speed_kcas(after, weight), flattest.value);
  }
  expect_covers(sink_held, tries);
  expect_covers(ratio_held, tries);
  expect_covers(speed_held, tries);
}

/// Of logs in which one glide in twenty is wrong six times as far as the others, the interval holds 95 % of
/// the glides that were held back, wrong ones included.
TEST(FitGlides, PredictsHeldBackGlides) {
  const auto belief = belief_from_handbook(trainer_handbook());
  int held = 0, tries = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    std::mt19937 random(seed);
    const Airplane flown = airplane_with(belief, drawn_numbers(belief, random));
    GlideLog log = logged(flown, {.glides = 30, .wrong_share = 0.05, .wrong_drag = 0.18}, random);
    const std::vector<LoggedGlide> held_back(log.glides.begin() + 20, log.glides.end());
    log.glides.resize(20);
    const auto fit = fit_glides(belief, {log});
    const Polar found = airplane_with(fit.after, fit.after.mean()).polar;
    for (const auto& glide : held_back) {
      const double relative = logged_drag_over_weight(glide, glide.calibrated_airspeed_kt, 0.0) /
                                  modelled_drag_over_weight(found, glide, glide.calibrated_airspeed_kt) -
                              1.0;
      const auto expected = logged_drag_relative(fit, glide, 0);
      held += relative >= expected.low95 && relative <= expected.high95 ? 1 : 0;
      ++tries;
    }
  }
  // Glides of one log share its fit: 40 logs of 10 count as about half as many (its error is a third of
  // theirs).
  EXPECT_GE(held, 0.95 * tries - 3.29 * std::sqrt(2.0 * 0.95 * 0.05 * tries));
  EXPECT_LE(held, 0.95 * tries + 3.29 * std::sqrt(2.0 * 0.95 * 0.05 * tries));
}

TEST(FitGlides, OneWrongGlideHardlyMoves) {
  const auto belief = belief_from_handbook(trainer_handbook());
  std::mt19937 random(11);
  const auto log = logged(airplane_with(belief, belief.mean()), {.glides = 12}, random);
  auto spoilt = log;
  spoilt.glides[3].sink_fpm *= 1.5;  // a slip that nobody wrote down
  const auto right = fit_glides(belief, {log}), wrong = fit_glides(belief, {spoilt});
  EXPECT_LT(wrong.residuals[3].trust, 0.1);
  const auto sink = [](const GlideFit& fit) {
    return sink_fpm(fit.after, Knots{64.0}, Pounds{2400.0}, Degrees{0.0});
  };
  // Less than half of its own standard deviation.
  EXPECT_NEAR(sink(wrong).value, sink(right).value, 0.25 * (sink(right).high95 - sink(right).value));
}

/// What two logs say together they say one after the other, through the profile as well. The second fit
/// starts from the first one's guess of the noise, so not to the last digit: a fifth of a standard deviation.
TEST(FitGlides, TwoLogsTogetherOrOneAfterTheOther) {
  const Handbook book = trainer_handbook();
  const auto belief = belief_from_handbook(book);
  std::mt19937 random(5);
  const Airplane flown = airplane_with(belief, drawn_numbers(belief, random));
  const auto first = logged(flown, {.glides = 25}, random), second = logged(flown, {.glides = 25}, random);
  const auto together = fit_glides(belief, {first, second});
  const Handbook between = fitted_profile(book, fit_glides(belief, {first}), {first});
  const auto later = fit_glides(belief_from_handbook(between), {second});
  for (const double flap : {0.0, 10.0, 30.0}) {
    const auto one = sink_fpm(together.after, Knots{66.0}, Pounds{2400.0}, Degrees{flap});
    const auto other = sink_fpm(later.after, Knots{66.0}, Pounds{2400.0}, Degrees{flap});
    EXPECT_NEAR(one.value, other.value, 0.05 * (one.high95 - one.low95)) << flap;
    EXPECT_NEAR((one.high95 - one.low95) / (other.high95 - other.low95), 1.0, 0.25) << flap;
  }
}

TEST(FittedProfile, KeepsTheHandbookInsideAndItsSafetySpeeds) {
  const Handbook book = trainer_handbook();
  const auto belief = belief_from_handbook(book);
  std::mt19937 random(6);
  auto log = logged(airplane_with(belief, drawn_numbers(belief, random)), {.glides = 25}, random);
  log.file = "club.csv";
  const Handbook profile = fitted_profile(book, fit_glides(belief, {log}), {log});
  EXPECT_TRUE(check(profile).empty());
  EXPECT_EQ(profile.best_glide_ratio.source, "fitted from 25 glides of club.csv");
  EXPECT_LT(profile.best_glide_ratio.sd, 0.3);
  EXPECT_EQ(profile.slip_drag_ratio->source, "invented");  // no glide slipped
  EXPECT_EQ(profile.best_glide_speed_kcas.value, book.best_glide_speed_kcas.value);
  EXPECT_EQ(profile.approach_speed_kcas.value, book.approach_speed_kcas.value);
  EXPECT_EQ(profile.flaps[2].stall_speed_kcas.value, book.flaps[2].stall_speed_kcas.value);
  ASSERT_TRUE(profile.fitted);
  bool named = false;
  for (const auto& original : profile.fitted->handbook) {
    if (original.field != "best_glide_ratio") continue;
    named = true;
    EXPECT_EQ(original.number.value, 9.0);
    EXPECT_EQ(original.number.source, "invented");
  }
  EXPECT_TRUE(named);
  EXPECT_EQ(fit_airplane(profile).glide_sd, profile.fitted->drag_sd);
  EXPECT_LT(profile.fitted->drag_sd, drag_sd(belief));
}

TEST(WhyNotUsed, SaysWhatIsWrongWithAGlide) {
  const Airplane airplane = fit_airplane(trainer_handbook());
  LoggedGlide glide;
  glide.calibrated_airspeed_kt = 70.0;
  glide.weight_lb = 2300.0;
  glide.sink_fpm = 800.0;
  EXPECT_EQ(why_not_used(airplane, glide), "");
  const auto said = [&](auto change) {
    LoggedGlide other = glide;
    change(other);
    return why_not_used(airplane, other);
  };
  EXPECT_THAT(said([](LoggedGlide& g) { g.calibrated_airspeed_kt = 52.0; }), testing::HasSubstr("stall"));
  EXPECT_THAT(said([](LoggedGlide& g) { g.bank_deg = 55.0; }), testing::HasSubstr("banked"));
  EXPECT_THAT(said([](LoggedGlide& g) { g.weight_lb = 3000.0; }), testing::HasSubstr("heavier"));
  EXPECT_THAT(said([](LoggedGlide& g) { g.flap_deg = 40.0; }), testing::HasSubstr("more flap"));
  EXPECT_THAT(said([](LoggedGlide& g) {
                g.flap_deg = 30.0;
                g.calibrated_airspeed_kt = 90.0;
              }),
              testing::HasSubstr("flap's limit"));
}

}  // namespace
}  // namespace glidewright

// The steady glides of another flight-dynamics model, which is no polar of our shape: its idling propeller
// makes the glide jump between two speeds. tests/data/flights/README.md says how they were made.

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <random>

#include "engine/calibration/glide_estimates.hpp"
#include "formats/glide_table.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"
#include "tests/formats/test_files.hpp"

namespace glidewright {
namespace {

/// A handbook as a school has one: near that airplane, and not fitted to it. Its own numbers come from six
/// rows.
Handbook school_handbook() {
  Handbook book = trainer_handbook();
  book.best_glide_ratio = {9.1, 0.4, "invented"};
  book.flaps = {{0.0, {52.0, 1.0, "invented"}, {}, {}, 0.0, 0.0},
                {10.0, {50.0, 1.0, "invented"}, SourcedNumber{8.3, 0.4, "invented"}, 68.0, 110.0, 2.0},
                {20.0, {48.5, 1.0, "invented"}, SourcedNumber{7.9, 0.4, "invented"}, 66.0, 95.0, 1.0},
                {30.0, {47.0, 1.0, "invented"}, SourcedNumber{7.5, 0.4, "invented"}, 65.0, 85.0, 1.0}};
  return book;
}

std::vector<LoggedGlide> usable_glides() {
  const Handbook book = school_handbook();
  const Airplane airplane = fit_airplane(book);
  auto glides =
      read_glide_table(test_file("flights/glide.csv"), "glide.csv", {book.maximum_weight_lb.value})->glides;
  std::erase_if(glides, [&](const LoggedGlide& glide) { return !why_not_used(airplane, glide).empty(); });
  return glides;
}

struct Prediction {
  int glides = 0;
  int inside = 0;
  double squares = 0.0;
  double rms() const { return std::sqrt(squares / glides); }
};

/// Fits without the glides of a group and predicts those.
void predict(const std::vector<LoggedGlide>& glides,
             const std::function<bool(const LoggedGlide&, std::size_t)>& held_back, Prediction& prediction) {
  GlideLog log;
  std::vector<LoggedGlide> unseen;
  for (std::size_t i = 0; i < glides.size(); ++i)
    (held_back(glides[i], i) ? unseen : log.glides).push_back(glides[i]);
  const auto fit = fit_glides(belief_from_handbook(school_handbook()), {log});
  const Polar polar = airplane_with(fit.after, fit.after.mean()).polar;
  for (const auto& glide : unseen) {
    const double relative = logged_drag_over_weight(glide, glide.calibrated_airspeed_kt, 0.0) /
                                modelled_drag_over_weight(polar, glide, glide.calibrated_airspeed_kt) -
                            1.0;
    const auto expected = logged_drag_relative(fit, glide, 0);
    prediction.inside += relative >= expected.low95 && relative <= expected.high95 ? 1 : 0;
    prediction.squares += relative * relative;
    ++prediction.glides;
  }
}

/// Binomial, 3.29 standard deviations: 99.9 in 100 of right intervals.
void expect_covers(const Prediction& prediction) {
  const double reach = 3.29 * std::sqrt(0.95 * 0.05 * prediction.glides);
  EXPECT_GE(prediction.inside, 0.95 * prediction.glides - reach) << "of " << prediction.glides;
  EXPECT_LE(prediction.inside, 0.95 * prediction.glides + reach) << "of " << prediction.glides;
}

TEST(ReferenceGlides, HeldBackAtRandomLieWithinTheirIntervals) {
  auto glides = usable_glides();
  ASSERT_GT(glides.size(), 250U);
  std::shuffle(glides.begin(), glides.end(), std::mt19937(1));
  Prediction prediction;
  for (std::size_t fold = 0; fold < 10; ++fold)
    predict(
        glides, [&](const LoggedGlide&, std::size_t i) { return i % 10 == fold; }, prediction);
  expect_covers(prediction);
  // The handbook alone is off by some 5 %; the plan's usual spread of drag is that much.
  EXPECT_LT(prediction.rms(), 0.03);
}

/// Harder: nothing was logged at that weight and height, or with that flap.
TEST(ReferenceGlides, HeldBackByGroupsLieWithinTheirIntervals) {
  const auto glides = usable_glides();
  Prediction by_day, by_flap;
  for (const double weight : {2100.0, 2400.0}) {
    for (const bool high : {false, true}) {
      predict(
          glides,
          [&](const LoggedGlide& glide, std::size_t) {
            return glide.weight_lb == weight && (glide.density_ratio < 0.95) == high;
          },
          by_day);
    }
  }
  for (const double flap : {10.0, 20.0, 30.0})
    predict(
        glides, [&](const LoggedGlide& glide, std::size_t) { return glide.flap_deg == flap; }, by_flap);
  // Groups share their error, so fewer may be inside by bad luck: no bound above, and one below that leaves
  // twice the share outside.
  EXPECT_GE(by_day.inside, 0.90 * by_day.glides) << "of " << by_day.glides;
  EXPECT_GE(by_flap.inside, 0.90 * by_flap.glides) << "of " << by_flap.glides;
}

/// Ten glides of one afternoon must already predict the table better than the handbook does.
TEST(ReferenceGlides, TenGlidesBeatTheHandbook) {
  auto glides = usable_glides();
  const auto error = [&](const Polar& polar) {
    double squares = 0.0;
    for (const auto& glide : glides) {
      const double relative = logged_drag_over_weight(glide, glide.calibrated_airspeed_kt, 0.0) /
                                  modelled_drag_over_weight(polar, glide, glide.calibrated_airspeed_kt) -
                              1.0;
      squares += relative * relative;
    }
    return std::sqrt(squares / static_cast<double>(glides.size()));
  };
  const double handbook_error = error(fit_airplane(school_handbook()).polar);
  int better = 0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::shuffle(glides.begin(), glides.end(), std::mt19937(seed));
    GlideLog log;
    log.glides.assign(glides.begin(), glides.begin() + 10);
    const auto fit = fit_glides(belief_from_handbook(school_handbook()), {log});
    better += error(airplane_with(fit.after, fit.after.mean()).polar) < handbook_error ? 1 : 0;
  }
  EXPECT_GE(better, 18) << "handbook " << handbook_error;
}

}  // namespace
}  // namespace glidewright

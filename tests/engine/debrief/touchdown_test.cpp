#include "engine/debrief/touchdown.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "engine/debrief/wind.hpp"
#include "reference_landing.hpp"
#include "simulated_landing.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using testing::Dice;
using testing::GroundspeedColumn;
using ::testing::HasSubstr;
using testing::ReferenceFlight;

const std::filesystem::path k_flights = std::filesystem::path(where::test_data()) / "flights";

bool contains(const Touchdown& touchdown, double along_ft) {
  return touchdown.low95_ft <= along_ft && along_ft <= touchdown.high95_ft;
}
double width(const Touchdown& touchdown) {
  return touchdown.high95_ft - touchdown.low95_ft;
}

double middle_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t n = values.size();
  return n % 2 == 1 ? values[n / 2] : 0.5 * (values[n / 2 - 1] + values[n / 2]);
}

void expect_sound(const Touchdown& t) {
  for (const double x :
       {t.time_unix_s, t.time_sd_s, t.along_ft, t.low95_ft, t.high95_ft, t.cross_ft, t.groundspeed_kt})
    EXPECT_TRUE(std::isfinite(x));
  EXPECT_LE(t.low95_ft, t.along_ft);
  EXPECT_LE(t.along_ft, t.high95_ft);
  EXPECT_FALSE(t.basis.empty());
  double sum = 0.0, previous = -1e12;
  for (const WeightedPlace& place : t.distribution) {
    EXPECT_GE(place.weight, 0.0);
    EXPECT_GT(place.along_ft, previous);
    previous = place.along_ft;
    sum += place.weight;
  }
  EXPECT_NEAR(sum, 1.0, 1e-9);  // rounding of a few hundred terms
}

/// Errors over a set of landings, with the number that lie in their own interval.
struct Score {
  std::vector<double> errors_ft, widths_ft;
  int covered = 0;

  void add(const Touchdown& t, double truth_ft) {
    errors_ft.push_back(t.along_ft - truth_ft);
    widths_ft.push_back(width(t));
    covered += contains(t, truth_ft) ? 1 : 0;
  }
  double coverage() const { return covered / static_cast<double>(errors_ft.size()); }
  double median_error_ft() const {
    std::vector<double> absolute;
    for (const double e : errors_ft) absolute.push_back(std::abs(e));
    return middle_of(absolute);
  }
  double bias_ft() const {
    double sum = 0.0;
    for (const double e : errors_ft) sum += e;
    return sum / static_cast<double>(errors_ft.size());
  }
  double rms_ft() const {
    double sum = 0.0;
    for (const double e : errors_ft) sum += e * e;
    return std::sqrt(sum / static_cast<double>(errors_ft.size()));
  }
};

/// Wind not told, heights as recorded, landing time rough; or everything found in the log itself.
TouchdownPrior no_wind_told(const testing::ReferenceLanding& landing) {
  TouchdownPrior prior;
  prior.density_ratio = landing.density_ratio;
  return prior;
}

Touchdown locate_roughly(const TrackLog& log, const testing::ReferenceLanding& landing) {
  static Dice dice(5);
  const RunwayFrame frame(landing.runway, landing.point_past_threshold);
  return locate_touchdown(log, frame, testing::plain_track(log, frame),
                          landing.time_unix_s + dice.uniform(-20.0, 20.0), no_wind_told(landing));
}

Touchdown locate_in_debrief(const TrackLog& log, const testing::ReferenceLanding& landing) {
  const RunwayFrame frame(landing.runway, landing.point_past_threshold);
  const SmoothTrack track = smooth(log, frame, Feet{4.1});
  const std::vector<Attempt> attempts = find_attempts(track, log, frame);
  const WindEstimate wind = estimate_wind(track, attempts, frame, {});
  TouchdownPrior prior = no_wind_told(landing);
  prior.headwind_kt = wind.headwind_kt;
  prior.headwind_sd_kt = wind.headwind_sd_kt;
  for (const Attempt& attempt : attempts)
    if (attempt.landing_time_unix_s && std::abs(*attempt.landing_time_unix_s - landing.time_unix_s) < 25.0)
      return locate_touchdown(log, frame, track, *attempt.landing_time_unix_s, prior);
  ADD_FAILURE() << landing.name << ": no attempt with this landing";
  return {};
}

template <class LogOf, class Locate>
Score score_reference_flights(LogOf log_of, Locate locate) {
  Score score;
  for (const ReferenceFlight& flight : testing::reference_flights(k_flights)) {
    const TrackLog log = log_of(flight);
    for (const auto& landing : flight.landings) {
      const Touchdown t = locate(log, landing);
      expect_sound(t);
      score.add(t, landing.along_ft);
      std::printf("  %s  error %5.0f ft, interval %5.0f to %5.0f, %4.0f wide%s\n", landing.name.c_str(),
                  t.along_ft - landing.along_ft, t.low95_ft - landing.along_ft,
                  t.high95_ft - landing.along_ft, width(t), contains(t, landing.along_ft) ? "" : "  MISSED");
    }
  }
  std::printf("  median error %.0f ft, rms %.0f, %d of %zu inside, median width %.0f\n",
              score.median_error_ft(), score.rms_ft(), score.covered, score.errors_ft.size(),
              middle_of(score.widths_ft));
  return score;
}

void expect_covers_reference(const Score& score, double median_error_ft, double median_width_ft) {
  ASSERT_EQ(score.errors_ft.size(), 12u);
  EXPECT_GE(score.covered, 11);  // 95 % of 12
  EXPECT_LE(score.median_error_ft(), median_error_ft);
  EXPECT_LE(middle_of(score.widths_ft), median_width_ft);
}

const auto k_one_hertz = [](const ReferenceFlight& f) { return f.gpx(); };
const auto k_five_hertz = [](const ReferenceFlight& f) { return f.csv(); };

// One second of the roll is 80-100 ft.
TEST(TouchdownOnReferenceFlights, OneHertz) {
  expect_covers_reference(score_reference_flights(k_one_hertz, locate_roughly), 100.0, 600.0);
}
TEST(TouchdownOnReferenceFlights, FiveHertzWithGroundspeed) {
  expect_covers_reference(score_reference_flights(k_five_hertz, locate_roughly), 80.0, 500.0);
}
TEST(TouchdownOnReferenceFlights, OneHertzWithTheWindOfTheTurns) {
  expect_covers_reference(score_reference_flights(k_one_hertz, locate_in_debrief), 100.0, 600.0);
}
TEST(TouchdownOnReferenceFlights, FiveHertzWithTheWindOfTheTurns) {
  expect_covers_reference(score_reference_flights(k_five_hertz, locate_in_debrief), 80.0, 500.0);
}

TEST(TouchdownOnReferenceFlights, OneHertzWithThePanel) {
  Score score;
  for (const ReferenceFlight& flight : testing::reference_flights(k_flights)) {
    if (!flight.has_panel()) continue;
    const TrackLog log = flight.gpx_with_panel();
    for (const auto& landing : flight.landings) {
      const Touchdown t = locate_roughly(log, landing);
      expect_sound(t);
      score.add(t, landing.along_ft);
      EXPECT_THAT(t.basis, HasSubstr("barometer"));
      std::printf("  %s  error %5.0f ft, %4.0f wide%s\n", landing.name.c_str(), t.along_ft - landing.along_ft,
                  width(t), contains(t, landing.along_ft) ? "" : "  MISSED");
    }
  }
  std::printf("  median error %.0f ft, rms %.0f, median width %.0f\n", score.median_error_ft(),
              score.rms_ft(), middle_of(score.widths_ft));
  ASSERT_EQ(score.errors_ft.size(), 5u);
  EXPECT_GE(score.covered, 4);               // of 5 at 95 %, fewer with probability 0.02
  EXPECT_LE(score.median_error_ft(), 80.0);  // less than a second of the roll
  EXPECT_LE(middle_of(score.widths_ft), 400.0);
}

TEST(TouchdownOnReferenceFlights, OneFixEveryFiveSeconds) {
  for (const ReferenceFlight& flight : testing::reference_flights(k_flights)) {
    const auto path = flight.folder / (flight.name + "_5s.gpx");
    if (!std::filesystem::exists(path)) continue;
    const Touchdown t = locate_roughly(testing::plain_gpx(path), flight.landings.front());
    expect_sound(t);
    EXPECT_TRUE(contains(t, flight.landings.front().along_ft)) << t.low95_ft << " to " << t.high95_ft;
    EXPECT_THAT(t.basis, HasSubstr("every 5 s"));
  }
}

// ---- simulated landings
// -------------------------------------------------------------------------------------

Runway simulated_runway(double slope_percent) {
  Runway runway;
  runway.threshold = {41.3, -88.2};
  runway.true_bearing = {47.0};
  runway.elevation = {700.0};
  runway.length = {5000.0};
  runway.slope_percent = slope_percent;
  return runway;
}

struct Recorded {
  TrackLog log;
  RunwayFrame frame;
  double rough_time_unix_s = 0.0;
  double truth_ft = 100.0;
  double touchdown_unix_s = 0.0;
  TouchdownPrior prior;

  Touchdown locate() const {
    return locate_touchdown(log, frame, testing::plain_track(log, frame), rough_time_unix_s, prior);
  }
};

Recorded recorded(const testing::SimulatedLanding& landing, double rate_hz, GroundspeedColumn column,
                  Dice& dice) {
  const double surveyed_slope = landing.recipe.slope_percent + dice.normal(0.0, 0.1);
  Recorded r{{}, RunwayFrame(simulated_runway(surveyed_slope), Feet{500.0}), 0.0, 100.0, 0.0, {}};
  r.log = testing::record(landing, r.frame, rate_hz, landing.touchdown_along_ft - r.truth_ft, column, dice);
  r.touchdown_unix_s = testing::k_simulated_start_unix_s + landing.touchdown_s;
  r.rough_time_unix_s = r.touchdown_unix_s + dice.uniform(-20.0, 20.0);
  r.prior.stall_speed_landing_kcas = landing.recipe.stall_kt + dice.normal(0.0, 3.0);
  return r;
}

enum class Panel { absent, recorded };

std::map<std::string, Score> score_simulated(double rate_hz, GroundspeedColumn column, unsigned seed,
                                             int landings, Panel panel = Panel::absent) {
  std::map<std::string, Score> scores;
  Dice dice(seed);
  for (int i = 0; i < landings; ++i) {
    const auto landing = testing::fly(testing::random_recipe(dice), dice);
    Recorded r = recorded(landing, rate_hz, column, dice);
    if (panel == Panel::recorded)
      r.log.panel = testing::record_panel(landing, r.frame, landing.touchdown_along_ft - r.truth_ft, dice);
    const Touchdown t = r.locate();
    expect_sound(t);
    scores["all"].add(t, r.truth_ft);
    scores[landing.float_s < 3.0   ? "float under 3 s"
           : landing.float_s < 7.0 ? "float 3-7 s"
                                   : "float over 7 s"]
        .add(t, r.truth_ft);
  }
  for (const auto& [name, score] : scores)
    std::printf("  %.0f Hz %-16s n %3zu  covered %.2f  bias %4.0f  median %4.0f  rms %4.0f  width %4.0f ft\n",
                rate_hz, name.c_str(), score.errors_ft.size(), score.coverage(), score.bias_ft(),
                score.median_error_ft(), score.rms_ft(), middle_of(score.widths_ft));
  return scores;
}

// An interval that really covers 95 % covers 0.90 to 0.99 of 150 with probability 0.99 (binomial). The
// sanitizers look for other faults and are thirty times slower: a few landings are enough for them, and tell
// no statistics.
#ifdef __SANITIZE_ADDRESS__
constexpr int k_landings = 8;
#else
constexpr int k_landings = 150;
#endif

void expect_covers(Score score, double rms_ft) {
  if (k_landings < 150) return;
  EXPECT_GE(score.coverage(), 0.90);
  EXPECT_LE(score.coverage(), 0.99);
  EXPECT_LE(score.rms_ft(), rms_ft);
  EXPECT_LE(std::abs(score.bias_ft()), 80.0);
}

TEST(TouchdownOnSimulatedLandings, IntervalCoversAtOneHertz) {
  auto scores = score_simulated(1.0, GroundspeedColumn::absent, 21, k_landings);
  expect_covers(scores["all"], 220.0);  // two to three seconds of float
}

TEST(TouchdownOnSimulatedLandings, IntervalCoversAtFiveHertz) {
  auto scores = score_simulated(5.0, GroundspeedColumn::recorded, 22, k_landings);
  expect_covers(scores["all"], 200.0);
}

TEST(TouchdownOnSimulatedLandings, IntervalCoversWithThePanel) {
  auto scores = score_simulated(1.0, GroundspeedColumn::absent, 23, k_landings, Panel::recorded);
  expect_covers(scores["all"], 120.0);  // a second of the roll
}

Recorded ordinary_landing(double rate_hz, GroundspeedColumn column = GroundspeedColumn::absent) {
  Dice dice(7);
  const auto landing = testing::fly(testing::LandingRecipe{}, dice);
  return recorded(landing, rate_hz, column, dice);
}

TEST(Touchdown, FindsAnOrdinaryLandingAtEveryRate) {
  for (const double rate_hz : {0.2, 1.0, 5.0, 10.0}) {
    const Recorded r = ordinary_landing(rate_hz);
    const Touchdown t = r.locate();
    expect_sound(t);
    EXPECT_TRUE(contains(t, r.truth_ft)) << rate_hz << " Hz: " << t.low95_ft << " to " << t.high95_ft;
    EXPECT_NEAR(t.cross_ft, 0.0, 25.0);  // four times the receiver's wander
    EXPECT_LT(t.time_sd_s, 5.0);
  }
}

TEST(Touchdown, SeldomFixesWidenTheIntervalAndSayWhy) {
  const Touchdown seldom = ordinary_landing(0.2).locate();
  EXPECT_GT(width(seldom), width(ordinary_landing(1.0).locate()));
  EXPECT_THAT(seldom.basis, HasSubstr("every 5 s"));
}

TEST(Touchdown, LogCutBeforeTouchdownWidensTheIntervalAndSaysSo) {
  const Recorded whole = ordinary_landing(1.0);
  Recorded cut = whole;
  std::erase_if(cut.log.fixes,
                [&](const Fix& fix) { return fix.time_unix_s > whole.touchdown_unix_s - 2.0; });
  const Touchdown t = cut.locate();
  expect_sound(t);
  EXPECT_GT(width(t), 1.2 * width(whole.locate()));
  EXPECT_TRUE(contains(t, cut.truth_ft)) << t.low95_ft << " to " << t.high95_ft;
  EXPECT_THAT(t.basis, HasSubstr("log ends before"));
}

TEST(Touchdown, TouchAndGoIsLocatedFromTheRollBeforePower) {
  Dice dice(8);
  testing::LandingRecipe recipe;
  recipe.power_after_s = 5.0;
  const auto landing = testing::fly(recipe, dice);
  const Recorded r = recorded(landing, 1.0, GroundspeedColumn::absent, dice);
  const Touchdown t = r.locate();
  EXPECT_TRUE(contains(t, r.truth_ft)) << t.low95_ft << " to " << t.high95_ft;
  EXPECT_THAT(t.basis, HasSubstr("touch-and-go"));
}

TEST(Touchdown, WithoutAltitudeSpeedAloneDecides) {
  Recorded r = ordinary_landing(1.0);
  const double with_altitude_ft = width(r.locate());
  for (Fix& fix : r.log.fixes) fix.altitude_ft.reset();
  const Touchdown t = r.locate();
  expect_sound(t);
  EXPECT_TRUE(contains(t, r.truth_ft)) << t.low95_ft << " to " << t.high95_ft;
  EXPECT_GT(width(t), with_altitude_ft);
  EXPECT_THAT(t.basis, HasSubstr("No altitude"));
}

// A single interval may shrink by chance where fixes are lost; over twenty landings it may not.
TEST(Touchdown, GapAtTheTouchdownWidensTheIntervalAndSaysSo) {
  double whole_ft = 0.0, gap_ft = 0.0;
  int covered = 0;
  Dice dice(9);
  for (int i = 0; i < 20; ++i) {
    Recorded r =
        recorded(testing::fly(testing::random_recipe(dice), dice), 1.0, GroundspeedColumn::absent, dice);
    whole_ft += width(r.locate());
    std::erase_if(r.log.fixes,
                  [&](const Fix& fix) { return std::abs(fix.time_unix_s - r.touchdown_unix_s) < 4.0; });
    const Touchdown t = r.locate();
    expect_sound(t);
    gap_ft += width(t);
    covered += contains(t, r.truth_ft) ? 1 : 0;
    EXPECT_THAT(t.basis, HasSubstr("missing for"));
  }
  EXPECT_GT(gap_ft, whole_ft);
  EXPECT_GE(covered, 16);  // of 20 at 95 %, fewer with probability 0.003 (binomial)
}

TEST(Touchdown, DegenerateLogsGiveFiniteAnswers) {
  const Recorded ordinary = ordinary_landing(1.0);
  Recorded still = ordinary;
  for (Fix& fix : still.log.fixes) fix.place = ordinary.log.fixes.front().place;
  expect_sound(still.locate());
  EXPECT_THAT(still.locate().basis, HasSubstr("no landing"));

  for (const std::size_t kept : {0u, 1u, 2u, 3u}) {
    Recorded few = ordinary;
    std::erase_if(few.log.fixes, [&](const Fix& fix) {
      return std::abs(fix.time_unix_s - ordinary.touchdown_unix_s) > 10.0;
    });
    few.log.fixes.resize(kept);
    expect_sound(few.locate());
    EXPECT_GT(width(few.locate()), width(ordinary.locate())) << kept << " fixes";
  }
}

TEST(Touchdown, UncertainRunwayWidensTheInterval) {
  Recorded r = ordinary_landing(1.0);
  const Touchdown surveyed = r.locate();
  r.prior.runway_position_sd_ft = 150.0;
  const Touchdown imported = r.locate();
  // The surveyed interval's spread and the runway's 95 % range, at least roughly in quadrature.
  EXPECT_GT(width(imported), 0.9 * std::hypot(width(surveyed), 2.0 * 1.96 * 150.0));
  EXPECT_THAT(imported.basis, HasSubstr("runway's own place"));
}

TEST(Touchdown, MovingTheTouchdownPointMovesTheResult) {
  Recorded r = ordinary_landing(5.0, GroundspeedColumn::recorded);
  Runway level = r.frame.runway();
  level.slope_percent = 0.0;
  r.frame = RunwayFrame(level, Feet{500.0});
  const Touchdown here = r.locate();
  r.frame = RunwayFrame(level, Feet{800.0});
  const Touchdown there = r.locate();
  // Planes that touch the earth 300 ft apart agree to 1e-6 ft over a mile.
  EXPECT_NEAR(there.along_ft, here.along_ft - 300.0, 1e-5);
  EXPECT_NEAR(there.low95_ft, here.low95_ft - 300.0, 1e-5);
  EXPECT_NEAR(there.high95_ft, here.high95_ft - 300.0, 1e-5);
  EXPECT_NEAR(there.time_unix_s, here.time_unix_s, 1e-6);
}

TEST(Touchdown, MirroringTheCrossTrackKeepsTheAlong) {
  Recorded r = ordinary_landing(1.0);
  const Touchdown right = r.locate();
  for (Fix& fix : r.log.fixes) {
    const RunwayPoint point = r.frame.to_runway(fix.place);
    fix.place = r.frame.to_geodetic({point.along_ft, -point.cross_ft});
  }
  const Touchdown left = r.locate();
  EXPECT_NEAR(left.along_ft, right.along_ft, 1e-5);
  EXPECT_NEAR(left.cross_ft, -right.cross_ft, 1e-5);
}

TEST(Touchdown, ProbabilityBetweenIsMonotoneAndCompletes) {
  const Touchdown t = ordinary_landing(1.0).locate();
  EXPECT_NEAR(t.probability_between(-1e9, 1e9), 1.0, 1e-9);
  EXPECT_NEAR(t.probability_between(t.low95_ft, t.high95_ft), 0.95, 0.01);  // cells of 1/240
  double previous = 0.0;
  for (double high = t.low95_ft - 500.0; high < t.high95_ft + 500.0; high += 5.0) {
    const double p = t.probability_between(-1e9, high);
    EXPECT_GE(p, previous);
    previous = p;
  }
  EXPECT_EQ(t.probability_between(10.0, -10.0), 0.0);
}

}  // namespace
}  // namespace glidewright

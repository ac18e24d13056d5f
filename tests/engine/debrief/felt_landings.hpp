#pragma once
// Simulated flights with a phone on board, debriefed and scored.

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "engine/accelerometer/clock.hpp"
#include "simulated_feel.hpp"

namespace glidewright::testing {

enum class ClockGiven { none, same };

struct FeltScore {
  int landings = 0, used = 0, inside = 0, inside_either = 0;
  std::vector<double> error_ft, width_ft, error_positions_ft, width_positions_ft, clock_error_s;
  std::map<std::string, int> left_out;

  static double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
  }
  static double rounded(double value) { return std::round(10.0 * value) / 10.0; }
  double used_percent() const { return rounded(100.0 * used / std::max(landings, 1)); }
  double inside_percent() const { return rounded(100.0 * inside / std::max(used, 1)); }
  /// With what the positions say where the phone was left out, as a debrief has it.
  double inside_either_percent() const { return rounded(100.0 * inside_either / std::max(landings, 1)); }
  double median_error_ft() const { return rounded(median(error_ft)); }
  double median_width_ft() const { return rounded(median(width_ft)); }
  double median_error_positions_ft() const { return rounded(median(error_positions_ft)); }
  double median_width_positions_ft() const { return rounded(median(width_positions_ft)); }
  double median_clock_error_s() const { return median(clock_error_s); }
  double rms_error_ft() const {
    double squares = 0.0;
    for (const double e : error_ft) squares += e * e;
    return rounded(std::sqrt(squares / static_cast<double>(std::max<std::size_t>(error_ft.size(), 1))));
  }
};

struct FeltFlight {
  SimulatedFlight flight;
  PhoneRecipe phone;
  RunwayFrame frame;
  TrackLog log;
  SmoothTrack track;
  TouchdownPrior prior;
  double truth_ft = 100.0;
  double touchdown_unix_s = 0.0;
  double rough_unix_s = 0.0;
};

inline FeltFlight felt_flight(const LandingRecipe& recipe, double rate_hz, Dice& dice) {
  const SimulatedLanding landing = fly(recipe, dice);
  Runway runway;
  runway.threshold = {41.3, -88.2};
  runway.true_bearing = {47.0};
  runway.elevation = {700.0};
  runway.length = {5000.0};
  runway.slope_percent = landing.recipe.slope_percent + dice.normal(0.0, 0.1);
  FeltFlight one{fly_round(landing, dice), random_phone(dice), RunwayFrame(runway, Feet{500.0}), {}, {}, {}};
  one.log = record_flight(one.flight, one.frame, rate_hz, landing.touchdown_along_ft - one.truth_ft,
                          dice.chance(0.5) ? GroundspeedColumn::recorded : GroundspeedColumn::absent, dice);
  one.track = smooth(one.log, one.frame, Feet{4.1});
  one.prior.stall_speed_landing_kcas = landing.recipe.stall_kt + dice.normal(0.0, 3.0);
  one.touchdown_unix_s = k_simulated_start_unix_s + landing.touchdown_s;
  one.rough_unix_s = one.touchdown_unix_s + dice.uniform(-10.0, 10.0);
  return one;
}

inline FeltFlight felt_flight(double rate_hz, Dice& dice) {
  return felt_flight(random_recipe(dice), rate_hz, dice);
}

/// Scores by kind of landing: "all", and what makes it easy or hard.
inline std::map<std::string, FeltScore> score_felt(double rate_hz, ClockGiven clock_given, unsigned seed,
                                                   int landings) {
  std::map<std::string, FeltScore> scores;
  for (int i = 0; i < landings; ++i) {
    Dice dice(seed + 7919u * static_cast<unsigned>(i));
    FeltFlight one = felt_flight(rate_hz, dice);
    if (clock_given == ClockGiven::same) {
      // One device: its receiver's times are still some hundredths of a second late.
      one.phone.ahead_s = dice.normal(0.0, 0.08);
      one.phone.drift_ppm = 0.0;
    }
    const AccelerometerLog felt = gathered(feel(one.flight, one.phone, dice));
    std::string why;
    std::optional<ClockOffset> clock;
    if (clock_given == ClockGiven::same) {
      clock = known_clock(0.0, 0.1);
    } else {
      const RoughClock rough = find_rough_clock(felt, one.track);
      why = rough.reason;
      if (rough.ahead_s) clock = find_fine_clock(felt, one.track, *rough.ahead_s, one.rough_unix_s);
      if (rough.ahead_s && !clock) why = "no fine clock";
    }
    const Touchdown positions = locate_touchdown(one.log, one.frame, one.track, one.rough_unix_s, one.prior);
    std::optional<Touchdown> found;
    if (clock) {
      const FeltTouchdown answer =
          touchdown_as_felt(one.log, one.frame, one.track, one.rough_unix_s, one.prior, felt, *clock);
      found = answer.touchdown;
      why = answer.left_out_because;
    }
    const LandingRecipe& recipe = one.flight.landing.recipe;
    const auto add = [&](const std::string& kind) {
      FeltScore& score = scores[kind];
      ++score.landings;
      score.error_positions_ft.push_back(std::abs(positions.along_ft - one.truth_ft));
      score.width_positions_ft.push_back(positions.high95_ft - positions.low95_ft);
      const Touchdown& told = found ? *found : positions;
      score.inside_either += told.low95_ft <= one.truth_ft && one.truth_ft <= told.high95_ft;
      if (!found) {
        ++score.left_out[why];
        return;
      }
      ++score.used;
      score.inside += found->low95_ft <= one.truth_ft && one.truth_ft <= found->high95_ft;
      score.error_ft.push_back(std::abs(found->along_ft - one.truth_ft));
      score.width_ft.push_back(found->high95_ft - found->low95_ft);
      score.clock_error_s.push_back(std::abs(clock->mean_s() - one.phone.ahead_s));
    };
    add("all");
    if (recipe.bounce_ft > 0.0) add("bounced");
    if (recipe.power_after_s < 100.0) add("touch-and-go");
    if (one.phone.rate_hz < 40.0) add("25 a second");
    if (one.phone.flap_motor_from_s < 12.0) add("flap motor near");
    if (one.phone.gust_mps2 > 0.6) add("rough air");
  }
  return scores;
}

/// A moment marked by hand from a video, good to a fifth of a second.
inline FeltScore score_time_marks(double rate_hz, unsigned seed, int landings) {
  FeltScore score;
  for (int i = 0; i < landings; ++i) {
    Dice dice(seed + 7919u * static_cast<unsigned>(i));
    const FeltFlight one = felt_flight(rate_hz, dice);
    const double marked_s = one.touchdown_unix_s + dice.normal(0.0, 0.2);
    const Touchdown found = touchdown_at_moment(one.log, one.frame, one.track, marked_s, 0.2, one.prior);
    ++score.landings, ++score.used;
    score.inside += found.low95_ft <= one.truth_ft && one.truth_ft <= found.high95_ft;
    score.error_ft.push_back(std::abs(found.along_ft - one.truth_ft));
    score.width_ft.push_back(found.high95_ft - found.low95_ft);
  }
  return score;
}

}  // namespace glidewright::testing

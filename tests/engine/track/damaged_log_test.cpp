// Logs as damaged devices write them: every attempt is still found, no other appears, no number is not a
// number.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <random>
#include <string>

#include "engine/debrief/wind.hpp"
#include "engine/track/attempts.hpp"
#include "engine/track/smooth.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

constexpr double k_no_number = std::numeric_limits<double>::quiet_NaN();

using Random = std::mt19937;

bool one_in(int n, Random& random) {
  return std::uniform_int_distribution<int>(1, n)(random) == 1;
}
double up_to(double size, Random& random) {
  return std::uniform_real_distribution<double>(-size, size)(random);
}

struct Damage {
  std::string name;
  std::function<void(std::vector<Fix>&, Random&)> apply;
};

template <class Change>
std::function<void(std::vector<Fix>&, Random&)> to_one_in(int n, Change change) {
  return [n, change](std::vector<Fix>& fixes, Random& random) {
    for (Fix& fix : fixes) {
      if (one_in(n, random)) change(fix, random);
    }
  };
}

std::vector<Damage> damages() {
  return {
      {"AltitudesMissing", to_one_in(8, [](Fix& f, Random&) { f.altitude_ft.reset(); })},
      {"AltitudesNoNumbers", to_one_in(20, [](Fix& f, Random&) { f.altitude_ft = k_no_number; })},
      {"AltitudesThousandsOff",
       to_one_in(30, [](Fix& f, Random& r) { *f.altitude_ft += up_to(10000.0, r); })},
      {"PlacesNoNumbers", to_one_in(20, [](Fix& f, Random&) { f.place.latitude_deg = k_no_number; })},
      {"PlacesMilesOff", to_one_in(50, [](Fix& f, Random& r) { f.place.latitude_deg += up_to(0.1, r); })},
      {"OneThirdOfFixesMissing",
       [](std::vector<Fix>& fixes, Random& random) {
         std::erase_if(fixes, [&random](const Fix&) { return one_in(3, random); });
       }},
      {"AltitudesAllOff",
       [](std::vector<Fix>& fixes, Random& random) {
         const double off_ft = up_to(300.0, random);
         for (Fix& fix : fixes) *fix.altitude_ft += off_ft;
       }},
      {"StampsRepeated",
       [](std::vector<Fix>& fixes, Random&) {
         for (Fix& fix : fixes) fix.time_unix_s = 2.0 * std::floor(fix.time_unix_s / 2.0);
       }},
  };
}

void expect_numbers(const Attempt& a) {
  for (const auto& point :
       {a.abeam, a.idle, a.base_turn, a.base, a.final_turn, a.final_leg, a.gate, a.flare, a.go_around}) {
    if (!point) continue;
    EXPECT_TRUE(std::isfinite(point->time_unix_s + point->time_sd_s + point->place.along_ft +
                              point->place.cross_ft + point->height_ft + point->height_sd_ft +
                              point->groundspeed_kt + point->climb_fpm + point->course_true_deg));
  }
}

class DamagedLog : public testing::TestWithParam<Damage> {};

TEST_P(DamagedLog, StillShowsEveryAttemptAndNoOther) {
  Random random(20260718);
  for (const std::string& name : reference::k_flights) {
    const auto flight = reference::read_flight(name);
    const TrackLog whole = reference::read_gpx(reference::folder(name) + name + ".gpx");
    for (int again = 0; again < 5; ++again) {
      SCOPED_TRACE(name);
      TrackLog log = whole;
      GetParam().apply(log.fixes, random);
      const SmoothTrack track = smooth(log, flight.frame(), Feet{4.1});
      const auto found = find_attempts(track, log, flight.frame());
      EXPECT_EQ(found.size(), flight.truth["attempts"].size());
      for (const TrackState& s : track.states) {
        ASSERT_TRUE(std::isfinite(s.along_ft + s.cross_ft + s.height_ft + s.along_fps + s.cross_fps +
                                  s.climb_fps + s.place_sd_ft + s.height_sd_ft));
      }
      for (const Attempt& a : found) expect_numbers(a);
      const WindEstimate wind = estimate_wind(track, found, flight.frame(), {});
      EXPECT_TRUE(std::isfinite(wind.speed_kt + wind.from_true_deg + wind.speed_sd_kt + wind.from_sd_deg));
      const auto runway = runway_from_log(log);
      EXPECT_TRUE(!runway || std::isfinite(runway->true_bearing.value + runway->elevation.value +
                                           runway->threshold.latitude_deg));
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Devices, DamagedLog, testing::ValuesIn(damages()),
                         [](const auto& damage) { return damage.param.name; });

}  // namespace
}  // namespace glidewright

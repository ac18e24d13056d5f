#pragma once
// How far a phone's clock stands from the track log's: told, or found from what both have felt.

#include <optional>
#include <string>
#include <vector>

#include "engine/accelerometer/accelerometer.hpp"
#include "engine/track/smooth.hpp"

namespace glidewright {

/// Which clock wrote the accelerometer's times.
struct ClockWish {
  enum class Kind {
    find,  ///< nobody knows: compare
    same,  ///< one device wrote both files
    told   ///< somebody knows how far it is ahead
  } kind = Kind::find;
  double ahead_s = 0.0;  ///< told: of the log's clock
};

/// Probabilities of how far the accelerometer's clock is ahead of the log's, on an even grid.
struct ClockOffset {
  double first_ahead_s = 0.0;
  double step_s = 0.05;
  std::vector<double> probability;  ///< sums to 1

  double mean_s() const;
  double sd_s() const;
};

/// Where the two clocks stand, roughly, over the whole of both logs; or why that cannot be said.
struct RoughClock {
  std::optional<double> ahead_s;  ///< good to about 2 s
  std::string reason;             ///< where there is none
};

/// Turns weigh the phone down however it lies, and runways shake it: both also show in the positions.
///
/// Patterns repeat, so that the second best place must be clearly worse. A clock that tells moments is
/// believed to be right within seconds rather than minutes, one that counts from its own start may be
/// anywhere.
RoughClock find_rough_clock(const AccelerometerLog& felt, const SmoothTrack& track);

/// The same to a few tenths of a second where the day allows it, from half an hour about one moment: when
/// load rises and falls in the turns. None where it cannot be told within a second.
std::optional<ClockOffset> find_fine_clock(const AccelerometerLog& felt, const SmoothTrack& track,
                                           double rough_ahead_s, double about_unix_s);

/// How far ahead what both logs have felt shows the clock to be, where that contradicts what was told of it
/// (a time zone, a slip of the pencil). None where it agrees or nothing clear is to be seen.
std::optional<double> clock_shown_otherwise(const AccelerometerLog& felt, const SmoothTrack& track,
                                            const RoughClock& rough, const ClockOffset& told,
                                            double about_unix_s);

/// A normal distribution.
ClockOffset known_clock(double ahead_s, double sd_s);

}  // namespace glidewright

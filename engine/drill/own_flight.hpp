#pragma once
// A moment of an attempt as somebody flew it: asked like any other, answered by what then happened.

#include <optional>
#include <string>

#include "engine/debrief/debrief.hpp"
#include "engine/drill/situation.hpp"

namespace glidewright {

/// Surer than that nobody is of most touchdowns that a receiver on the glareshield recorded; less sure, the
/// answer would teach what may not be so. Common practice, no source.
inline constexpr double k_sure_enough_to_ask = 0.8;

struct OwnMoment {
  /// `touchdown_ft` is where it touched down; `room` and `remedy` are the band's, with no flap or slip flown
  /// on. What a log does not hold stays at 0: `planned_height_ft`, flaps that nobody marked.
  Situation situation;
  double touchdown_low95_ft = 0.0;
  double touchdown_high95_ft = 0.0;
  double chance = 1.0;          ///< that it ended where the answer says; 1 where somebody saw it
  bool room_known = false;      ///< false: the debrief has no band there, and no remedy is told
  std::vector<Moment> pattern;  ///< all of it, from abeam
};

/// The moment, or in plain words why there is nothing to ask about this attempt.
struct OwnMomentAnswer {
  std::optional<OwnMoment> moment;
  std::string left_out;
};

/// Drawn by seed and number between the base turn and the gate, 24 s or more before the wheels touched; the
/// same whoever asks. Only what was flown without power, landed, and is known well enough on which side of
/// the box it ended. in_the_box: what a person said, which stands above the log.
OwnMomentAnswer own_moment(const AttemptDebrief& one, const Debrief& debrief, std::optional<bool> in_the_box,
                           std::uint64_t seed, int number);

}  // namespace glidewright

#pragma once
// The band along what was flown: when the point could last be reached, and with which mean.

#include "engine/debrief/debrief.hpp"
#include "engine/reach/band.hpp"

namespace glidewright {

/// Adds the band to every attempt that shows abeam and was not flown with power, in the wind of the track.
/// One band for each side of traffic. Heading and airspeed are the ground velocity less the wind, bank that
/// of the turn over the ground; flaps only where they are marked.
void add_bands(Debrief& debrief, const Airplane& airplane, const ShareOut& share_out = one_after_another);

/// Rate of turn over the ground, right positive.
double turn_rate_rad_s(const TrackState& state);

/// What the airplane did at one state of the track: airspeed and heading by the wind, bank by the turn over
/// the ground. Time and flaps are left at 0.
Moment moment_of_track(const TrackState& state, const Debrief& debrief, const WindProfile& wind_aloft);

/// The track as moments, from abeam on, once a second.
std::vector<Moment> flown_moments(const AttemptDebrief& one, const Debrief& debrief);

}  // namespace glidewright

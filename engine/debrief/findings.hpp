#pragma once
// What comes before any score: bank, speed margin, the gate; and the airmanship verdict with its reasons.

#include "engine/debrief/airspeed.hpp"
#include "engine/debrief/debrief.hpp"

namespace glidewright {

/// What the findings are judged with.
struct FindingsContext {
  const Airplane& airplane;
  const Technique& planned;
  const SmoothTrack& track;
  const TrackLog& log;
  AirOfTrack air;
  double weight_lb = 2300.0;
  double airspeed_sd_kt = 3.0;  ///< of airspeeds that are ground speeds less the wind
  const AttemptMarks* marks = nullptr;
};

/// Bank above 45 degrees or a speed margin V / (Vs sqrt n) below 1.2 is a finding, bank above 30 degrees a
/// note; low on final is a finding. Limits: bank 30 common practice; margin common practice, no source.
std::vector<Finding> find_safety(const Attempt& attempt, const FindingsContext& context);

/// Stable at the gate as far as this log can tell: line, bank, speed; flap only where it was recorded or
/// marked.
/// Limits: bank 15 degrees, speed +10/-5 kt (FAA-H-8083-3C ch. 9, elements of a stabilised approach).
Stability judge_gate(const Attempt& attempt, const FindingsContext& context);

/// Mean from wings level on final down to 50 ft, about where the flare begins. None without two seconds of
/// it.
std::optional<SpeedOnFinal> speed_on_final(const Attempt& attempt, const FindingsContext& context);

/// Reasons in words, no points; a sound go-around is good judgement.
Airmanship judge_airmanship(const Attempt& attempt, const std::vector<Finding>& findings,
                            const std::optional<Stability>& gate);

}  // namespace glidewright

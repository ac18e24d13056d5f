// Why the touchdown is as well known as it is, in a pilot's words.

#include <cmath>
#include <cstdio>

#include "engine/debrief/touchdown_felt.hpp"
#include "engine/debrief/touchdown_posterior.hpp"
#include "engine/units/words.hpp"

namespace glidewright::touchdown {
namespace {

std::string number(double value, int decimals) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

std::string evidence_in_words(const LandingEvidence& evidence, const TimePosterior& posterior) {
  const std::string speed = evidence.speed_source == SpeedSource::recorded_groundspeed
                                ? "the recorded ground speed"
                                : "the speed from one position to the next";
  if (evidence.speeds.empty()) return "No usable positions around the landing.";
  if (evidence.heights.empty()) return "From how " + speed + " falls through float and rollout; no height.";
  const std::string height = evidence.barometer_used ? "the barometer's height" : "the satellite height";
  if (posterior.sd_from_height_s < 0.7 * posterior.sd_from_speed_s)
    return "Mostly from " + height + " above the rollout, checked by " + speed + ".";
  if (posterior.sd_from_speed_s < 0.7 * posterior.sd_from_height_s)
    return "Mostly from how " + speed + " falls through float and rollout, checked by " + height + ".";
  return "From " + height + " above the rollout and from how " + speed + " falls, in equal parts.";
}

}  // namespace

std::string basis_in_words(const LandingEvidence& evidence, const TimePosterior& posterior,
                           const TouchdownPrior& prior) {
  std::string words = evidence_in_words(evidence, posterior);
  const auto add = [&](const std::string& sentence) { words += " " + sentence; };
  if (!evidence.pitches.empty()) add("The panel's pitch shows the nose held, then lowered.");
  if (evidence.seen_headwind) add("Headwind on short final from the panel's airspeed.");
  if (!evidence.moved) add("The positions hardly move: this log shows no landing.");
  if (evidence.log_ends_early)
    add("The log ends before the airplane has slowed down on the ground, so the touchdown may lie beyond its "
        "end.");
  if (evidence.accelerated_again)
    add("Speed rises again (touch-and-go): only the roll before that counts, so the touchdown is less "
        "certain.");
  if (!evidence.altitude_recorded) add("No altitude was recorded, so only speed tells.");
  if (evidence.interval_s > 2.5)
    add("One position every " + number(evidence.interval_s, 0) +
        " s is too seldom to see the flare and the roll apart.");
  else if (evidence.largest_gap_s > 2.5 * std::max(evidence.interval_s, 1.0))
    add("Positions are missing for " + number(evidence.largest_gap_s, 0) +
        " s where the wheels may have touched.");
  if (posterior.expected_hold_off_s > 5.0)
    add("Long float, about " + number(posterior.expected_hold_off_s, 0) +
        " s: so near the ground the height is not good enough to show its end.");
  if (prior.runway_position_sd_ft > 30.0)
    add("The runway's own place is known to about " + number(prior.runway_position_sd_ft, 0) + " ft only.");
  return words;
}

std::string felt_in_words(const TimePosterior& positions, const TimePosterior& both, const ClockOffset& clock,
                          const FeltLikelihood& felt) {
  std::string said = glidewright::words(
      "From the phone's accelerometer: wheels felt within %.1f s, its clock known within %.1f s; positions "
      "alone "
      "leave %.1f s.",
      1.96 * both.sd(), 1.96 * clock.sd_s(), 1.96 * positions.sd());
  if (both.sd() > 0.6 * positions.sd()) said += " It felt no clear jolt, so it narrows little.";
  if (felt.bounce_probability > 0.5)
    said += " The wheels seem to have left the ground once more: this is the first contact.";
  return said;
}

}  // namespace glidewright::touchdown

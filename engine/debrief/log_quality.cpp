#include "engine/debrief/log_quality.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

/// The longest time between two fixes, frozen positions left to their own sentence.
double longest_gap_s(const TrackLog& log) {
  double longest_s = 0.0;
  auto freeze = log.freezes.begin();
  for (std::size_t i = 1; i < log.fixes.size(); ++i) {
    const double from_s = log.fixes[i - 1].time_unix_s;
    while (freeze != log.freezes.end() && freeze->from_unix_s < from_s) ++freeze;
    if (freeze != log.freezes.end() && freeze->from_unix_s == from_s) continue;
    longest_s = std::max(longest_s, log.fixes[i].time_unix_s - from_s);
  }
  return longest_s;
}

/// How long the longest freeze kept the airplane out of sight: to the next fix, or to the log's end.
double longest_freeze_s(const TrackLog& log) {
  double longest_s = 0.0;
  for (const Freeze& freeze : log.freezes) {
    const auto next = std::upper_bound(log.fixes.begin(), log.fixes.end(), freeze.to_unix_s,
                                       [](double t, const Fix& fix) { return t < fix.time_unix_s; });
    const double until_s = next == log.fixes.end() ? freeze.to_unix_s : next->time_unix_s;
    longest_s = std::max(longest_s, until_s - freeze.from_unix_s);
  }
  return longest_s;
}

std::string frozen_words(std::size_t times, double longest_s) {
  if (times == 1)
    return words("the receiver's position froze while the airplane moved on: nothing is known of %.0f s",
                 longest_s);
  return words(
      "the receiver's position froze %zu times while the airplane moved on: nothing is known of up to %.0f s "
      "at a time",
      times, longest_s);
}

}  // namespace

std::string height_unit_words(const HeightUnitDoubt& doubt) {
  const bool feet = doubt.rather == HeightUnit::feet;
  return words(
      "the heights make sense only as %s that were read as %s: %s; nothing was changed, --height-unit %s "
      "does",
      feet ? "feet" : "metres", feet ? "metres" : "feet", doubt.because.c_str(), feet ? "ft" : "m");
}

LogQuality judge_log(const TrackLog& log, const SmoothTrack& track,
                     const std::optional<HeightUnitDoubt>& height_unit) {
  LogQuality quality{"good", log.notes};
  const auto worsen = [&](const char* grade, const std::string& note) {
    if (quality.grade != "poor") quality.grade = grade;
    quality.notes.push_back(note);
  };
  char text[120];
  if (track.rate_hz > 0.0 && track.rate_hz < 0.45) {
    std::snprintf(text, sizeof text, "one position every %.0f s", 1.0 / track.rate_hz);
    worsen("poor", text);
  } else if (track.rate_hz < 0.9) {
    std::snprintf(text, sizeof text, "one position every %.1f s", 1.0 / std::max(track.rate_hz, 0.01));
    worsen("fair", text);
  }
  const auto with_altitude = std::count_if(log.fixes.begin(), log.fixes.end(),
                                           [](const Fix& f) { return f.altitude_ft.has_value(); });
  if (with_altitude == 0) {
    worsen("poor", "no altitude in this log: heights cannot be told");
  } else if (!track.height_zeroed_on_ground) {
    worsen("fair",
           "never on the ground near the runway: heights may be off by the receiver's error, 40 ft and more");
  }
  if (height_unit) worsen("poor", height_unit_words(*height_unit));
  const double long_s =
      track.rate_hz > 0.0 ? std::max(5.0, 3.0 / track.rate_hz) : std::numeric_limits<double>::max();
  if (const double gap_s = longest_gap_s(log); gap_s > long_s) {
    std::snprintf(text, sizeof text, "the longest gap is %.0f s", gap_s);
    worsen("fair", text);
  }
  if (!log.freezes.empty()) {
    const double unseen_s = longest_freeze_s(log);
    const std::string note = frozen_words(log.freezes.size(), unseen_s);
    if (unseen_s > long_s)
      worsen("fair", note);
    else
      quality.notes.push_back(note);
  }
  return quality;
}

}  // namespace glidewright

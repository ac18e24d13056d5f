#include "engine/debrief/log_quality.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace glidewright {

LogQuality judge_log(const TrackLog& log, const SmoothTrack& track) {
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
  double longest_gap_s = 0.0;
  for (std::size_t i = 1; i < log.fixes.size(); ++i) {
    longest_gap_s = std::max(longest_gap_s, log.fixes[i].time_unix_s - log.fixes[i - 1].time_unix_s);
  }
  if (track.rate_hz > 0.0 && longest_gap_s > std::max(5.0, 3.0 / track.rate_hz)) {
    std::snprintf(text, sizeof text, "the longest gap is %.0f s", longest_gap_s);
    worsen("fair", text);
  }
  return quality;
}

}  // namespace glidewright

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <string>
#include <vector>

#include "engine/track/attempts.hpp"
#include "engine/track/geodesy.hpp"

namespace glidewright {
namespace {

// A run on the ground: straight, level, and through speeds at which nothing flies.
constexpr double k_rolling_fps = 35.0 * k_fps_per_knot;
constexpr double k_slow_fps = 15.0 * k_fps_per_knot;
constexpr double k_fast_fps = 60.0 * k_fps_per_knot;
constexpr double k_straight_deg = 6.0;
constexpr double k_shortest_run_ft = 300.0;
constexpr double k_step_s = 2.0;
constexpr double k_same_pavement_ft = 120.0;
constexpr double k_longest_runway_ft = 16000.0;
constexpr double k_antenna_ft = 4.0;  // of the recording device above the ground, usual

/// Ground motion of a few seconds, from places alone.
struct Motion {
  std::size_t first = 0;  // fixes it was taken from
  std::size_t last = 0;
  double speed_fps = 0.0;
  double course_deg = 0.0;
  double climb_fps = 0.0;
  bool climb_known = false;
};

std::vector<Motion> motions(const TrackLog& log) {
  std::vector<Motion> out;
  std::size_t from = 0;
  for (std::size_t i = 1; i < log.fixes.size(); ++i) {
    const Fix& a = log.fixes[from];
    const Fix& b = log.fixes[i];
    const double step_s = b.time_unix_s - a.time_unix_s;
    if (b.segment != a.segment || !(step_s >= 0.0) || step_s > 20.0) {
      from = i;
      continue;
    }
    if (step_s < k_step_s) continue;
    const Geodesic line = geodesic_between(a.place, b.place);
    Motion m{from, i, to_feet(line.distance).value / step_s, line.azimuth_from.value, 0.0, false};
    if (a.altitude_ft && b.altitude_ft) {
      m.climb_fps = (*b.altitude_ft - *a.altitude_ft) / step_s;
      m.climb_known = true;
    }
    out.push_back(m);
    from = i;
  }
  return out;
}

/// Motions first to last of one straight run.
struct Run {
  std::size_t first = 0;
  std::size_t last = 0;
  double fastest_fps = 0.0;
  double slowest_fps = 0.0;
};

/// Straight stretches that pass from rolling to flying speed or back, level where heights are known.
std::vector<Run> straight_runs(const std::vector<Motion>& motion) {
  std::vector<Run> out;
  std::size_t i = 0;
  while (i < motion.size()) {
    Run run{i, i, motion[i].speed_fps, motion[i].speed_fps};
    double course = motion[i].course_deg;
    for (std::size_t k = i; k < motion.size(); ++k) {
      const Motion& m = motion[k];
      const bool rolls = m.speed_fps > k_slow_fps && m.speed_fps < k_fast_fps;
      const bool level = !m.climb_known || std::abs(m.climb_fps) < 6.0;
      if (!rolls || !level || std::abs(wrap_180_deg(m.course_deg - course)) > k_straight_deg) break;
      if (k > run.last + 1) break;
      course = m.course_deg;
      run.last = k;
      run.fastest_fps = std::max(run.fastest_fps, m.speed_fps);
      run.slowest_fps = std::min(run.slowest_fps, m.speed_fps);
    }
    const bool is_run =
        run.last > run.first && run.fastest_fps > k_rolling_fps && run.slowest_fps < k_rolling_fps;
    if (is_run) out.push_back(run);
    i = std::max(run.last, i) + 1;
  }
  return out;
}

double length_ft(const TrackLog& log, const Motion& first, const Motion& last) {
  return to_feet(geodesic_between(log.fixes[first.first].place, log.fixes[last.last].place).distance).value;
}

/// Mean altitude of the run's fixes, if they have any.
double mean_altitude_ft(const TrackLog& log, std::size_t first, std::size_t last) {
  double sum = 0.0, count = 0.0;
  for (std::size_t i = first; i <= last; ++i) {
    if (!log.fixes[i].altitude_ft) continue;
    sum += *log.fixes[i].altitude_ft;
    count += 1.0;
  }
  return count > 0.0 ? sum / count : 0.0;
}

/// The straight line that the airplane rolled along.
struct Line {
  Geodetic start;  ///< where the run began
  Degrees bearing;
  double length_ft = 0.0;
};

/// Least squares of cross over along.
struct Regression {
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  void add(RunwayPoint p) {
    n += 1.0;
    x += p.along_ft;
    y += p.cross_ft;
    xx += p.along_ft * p.along_ft;
    xy += p.along_ft * p.cross_ft;
  }
  double slope() const {
    const double spread = n * xx - x * x;
    return spread > 0.0 ? (n * xy - x * y) / spread : 0.0;
  }
  double at_zero() const { return (y - slope() * x) / n; }
};

/// Through the fixes of the run, and of the others on the same pavement: one rollout drifts, several average.
Line line_through(const TrackLog& log, const std::vector<Motion>& motion, const Run& best,
                  const std::vector<Run>& runs) {
  const std::size_t first = motion[best.first].first, last = motion[best.last].last;
  const Geodesic ends = geodesic_between(log.fixes[first].place, log.fixes[last].place);
  Runway chord;
  chord.threshold = log.fixes[first].place;
  chord.true_bearing = ends.azimuth_from;
  const RunwayFrame frame(chord, Feet{0.0});
  const auto beside = [&](std::size_t fix) {
    const RunwayPoint p = frame.to_runway(log.fixes[fix].place);
    return std::abs(p.cross_ft) < k_same_pavement_ft && std::abs(p.along_ft) < k_longest_runway_ft;
  };
  Regression line;
  for (const Run& run : runs) {
    const std::size_t from = motion[run.first].first, to = motion[run.last].last;
    if (!beside(from) || !beside(to)) continue;
    for (std::size_t i = from; i <= to; ++i) line.add(frame.to_runway(log.fixes[i].place));
  }
  return {frame.to_geodetic({0.0, line.at_zero()}),
          {wrap_360_deg(ends.azimuth_from.value + std::atan(line.slope()) / k_radians_per_degree)},
          to_feet(ends.distance).value};
}

/// The run that says most. A landing shows the touchdown zone, a take-off only where it began; so prefer
/// those that slow down, then the fastest.
const Run* best_run(const TrackLog& log, const std::vector<Motion>& motion, const std::vector<Run>& runs) {
  const Run* best = nullptr;
  double best_score = 0.0;
  for (const Run& run : runs) {
    const bool slows = motion[run.first].speed_fps > motion[run.last].speed_fps;
    const double score = run.fastest_fps * (slows ? 1.5 : 1.0);
    if (length_ft(log, motion[run.first], motion[run.last]) < k_shortest_run_ft || score <= best_score)
      continue;
    best_score = score;
    best = &run;
  }
  return best;
}

/// Without fixes that have no place, and without altitudes that are no numbers.
TrackLog with_places_only(const TrackLog& log) {
  TrackLog placed;
  placed.fixes.reserve(log.fixes.size());
  std::copy_if(log.fixes.begin(), log.fixes.end(), std::back_inserter(placed.fixes), [](const Fix& fix) {
    return std::isfinite(fix.time_unix_s) && std::isfinite(fix.place.latitude_deg) &&
           std::isfinite(fix.place.longitude_deg);
  });
  for (Fix& fix : placed.fixes) {
    if (fix.altitude_ft && !std::isfinite(*fix.altitude_ft)) fix.altitude_ft.reset();
  }
  return placed;
}

std::string designator_of(Degrees bearing) {
  const int tens = static_cast<int>(std::lround(bearing.value / 10.0));
  const int number = tens == 0 ? 36 : tens;
  return (number < 10 ? "0" : "") + std::to_string(number);
}

}  // namespace

std::optional<Runway> runway_from_log(const TrackLog& recorded) {
  const TrackLog log = with_places_only(recorded);
  const std::vector<Motion> motion = motions(log);
  const std::vector<Run> runs = straight_runs(motion);
  const Run* best = best_run(log, motion, runs);
  if (best == nullptr) return {};
  const std::size_t first = motion[best->first].first, last = motion[best->last].last;
  const Line line = line_through(log, motion, *best, runs);
  Runway runway;
  runway.airfield = "found in the log";
  runway.designator = designator_of(line.bearing);
  runway.true_bearing = line.bearing;
  runway.elevation = {mean_altitude_ft(log, first, last) - k_antenna_ft};
  runway.threshold = line.start;
  // A landing becomes slow some 1,000 ft beyond the threshold, a take-off begins close to it.
  const bool slows = motion[best->first].speed_fps > motion[best->last].speed_fps;
  runway.threshold = RunwayFrame(runway, Feet{0.0}).to_geodetic({slows ? -1000.0 : -100.0, 0.0});
  runway.length = {std::max(line.length_ft + 1500.0, 3000.0)};
  runway.position_sd = {400.0};
  return runway;
}

}  // namespace glidewright

#include "engine/track/flight_phases.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright {
namespace {

// Pattern sizes of light airplanes, generously; common practice, no source.
constexpr double k_nearest_downwind_ft = 600.0;
constexpr double k_widest_downwind_ft = 15000.0;
constexpr double k_pattern_radius_ft = 25000.0;
constexpr double k_longest_pattern_s = 420.0;
constexpr double k_highest_abeam_ft = 2500.0;
constexpr double k_longest_final_ft = 20000.0;
constexpr double k_taxi_fps = 20.0 * k_fps_per_knot;
constexpr double k_stopped_fps =
    15.0 * k_fps_per_knot;                    // slower on the runway is a stop, faster a touch-and-go
constexpr double k_approach_drop_ft = 150.0;  // descended at least this before a low counts
constexpr double k_climbed_away_ft = 100.0;
constexpr double k_highest_go_around_ft = 1000.0;
constexpr double k_rolls_below = 0.66;  // of the usual flying speed, where heights cannot tell
constexpr double k_bounce_s = 12.0;
constexpr double k_lands_within_s = 25.0;  // of passing the point
constexpr double k_bounce_ft = 60.0;

double speed_fps(const TrackState& s) {
  return std::hypot(s.along_fps, s.cross_fps);
}
double from_point_ft(const TrackState& s) {
  return std::hypot(s.along_ft, s.cross_ft);
}

/// Usual speed in the air: the median of what is clearly no taxiing.
double flying_speed_fps(const std::vector<TrackState>& states) {
  std::vector<double> fast;
  for (const TrackState& s : states) {
    if (speed_fps(s) > 25.0 * k_fps_per_knot) fast.push_back(speed_fps(s));
  }
  if (fast.empty()) return 70.0 * k_fps_per_knot;
  const auto middle = fast.begin() + static_cast<std::ptrdiff_t>(fast.size() / 2);
  std::nth_element(fast.begin(), middle, fast.end());
  return *middle;
}

class Phases {
 public:
  Phases(const std::vector<TrackState>& states, const RunwayFrame& frame)
      : states_(states), frame_(frame), flying_fps_(flying_speed_fps(states)) {}

  std::vector<ApproachEnd> approach_ends() {
    find_ground_runs();
    std::size_t flight_first = 0;
    for (std::size_t k = 0; k < ground_.size(); ++k) {
      if (ground_[k].first > flight_first) flight_before(k, flight_first);
      flight_first = ground_[k].last + 1;
    }
    if (flight_first < states_.size()) last_flight(flight_first);
    return ends_;
  }

 private:
  bool over_runway(const TrackState& s) const {
    const double loose = 2.0 * frame_.runway().position_sd.value + 60.0;
    return std::abs(s.cross_ft) < frame_.runway().width.value / 2.0 + loose &&
           s.along_ft > frame_.threshold_along_ft() - 300.0 - loose &&
           s.along_ft < frame_.runway_end_along_ft() + 300.0 + loose;
  }

  bool on_ground(const TrackState& s) const {
    const double v = speed_fps(s);
    if (!knows_height(s)) return v < k_taxi_fps || (over_runway(s) && v < k_rolls_below * flying_fps_);
    if (v < k_taxi_fps && s.height_ft < 100.0 + 2.0 * s.height_sd_ft) return true;
    const double near_ft = std::clamp(10.0 + 2.0 * s.height_sd_ft, 15.0, 40.0);
    return over_runway(s) && s.height_ft < near_ft && std::abs(s.climb_fps) < 8.0;
  }

  void find_ground_runs() {
    for (std::size_t i = 0; i < states_.size(); ++i) {
      if (!on_ground(states_[i])) continue;
      if (!ground_.empty() && (i == ground_.back().last + 1 || only_bounced(ground_.back().last, i))) {
        ground_.back().last = i;
      } else {
        ground_.push_back({i, i});
      }
    }
    std::erase_if(ground_, [this](Stretch run) { return !has_contact(run); });
  }

  bool only_bounced(std::size_t from, std::size_t to) const {
    if (states_[to].time_unix_s - states_[from].time_unix_s > k_bounce_s) return false;
    for (std::size_t i = from + 1; i < to; ++i) {
      if (knows_height(states_[i]) && states_[i].height_ft > k_bounce_ft) return false;
    }
    return true;
  }

  /// A low pass comes as near as a landing but keeps its speed and does not stay level for long.
  bool has_contact(Stretch run) const {
    const double entry_fps = speed_fps(states_[run.first]);
    double slowest_fps = entry_fps, level_s = 0.0, lowest_ft = 1e9;
    for (std::size_t i = run.first; i <= run.last; ++i) {
      slowest_fps = std::min(slowest_fps, speed_fps(states_[i]));
      lowest_ft = std::min(lowest_ft, states_[i].height_ft);
    }
    if (slowest_fps < 0.8 * std::min(entry_fps, flying_fps_)) return true;
    if (slowest_fps < (knows_height(states_[run.first]) ? 0.55 : 0.62) * flying_fps_) return true;
    for (std::size_t i = run.first; i < run.last; ++i) {
      const bool level = std::abs(states_[i].climb_fps) < 2.5 && states_[i].height_ft < lowest_ft + 10.0;
      if (level) level_s += states_[i + 1].time_unix_s - states_[i].time_unix_s;
    }
    return level_s >= 5.0 && lowest_ft < 8.0 + states_[run.first].height_sd_ft;
  }

  void flight_before(std::size_t run_index, std::size_t flight_first) {
    const Stretch run = ground_[run_index];
    const Stretch flight{flight_first, run.first - 1};
    const std::size_t approach_first = find_go_arounds(flight);
    if (!was_flown(flight) || !lands_here(run)) return;
    ApproachEnd end;
    end.state = run.first;
    end.flight_first = approach_first;
    end.outcome = landing_outcome(run_index);
    end.end = rollout_end(run, end.outcome);
    keep(end);
  }

  void last_flight(std::size_t flight_first) {
    const Stretch flight{flight_first, states_.size() - 1};
    const std::size_t approach_first = find_go_arounds(flight);
    ApproachEnd end;
    end.flight_first = approach_first;
    end.state = end.end = flight.last;
    end.abeam = last_abeam(approach_first, flight.last);
    if (looks_unfinished(end)) keep(end);
  }

  void keep(ApproachEnd end) {
    if (!end.abeam) end.abeam = last_abeam(end.flight_first, end.state);
    end.height_known = knows_height(states_[end.state]) || knows_height(states_[end.flight_first]);
    ends_.push_back(end);
  }

  bool was_flown(Stretch flight) const {
    double highest = -1e9;
    bool known = false;
    for (std::size_t i = flight.first; i <= flight.last; ++i) {
      if (!knows_height(states_[i])) continue;
      known = true;
      highest = std::max(highest, states_[i].height_ft);
    }
    const double lasted_s = states_[flight.last].time_unix_s - states_[flight.first].time_unix_s;
    if (known) return highest > (flight.first == 0 ? 60.0 : 150.0);
    return lasted_s > 40.0 && farthest_ft(flight) > 2000.0;
  }

  double farthest_ft(Stretch flight) const {
    double farthest = 0.0;
    for (std::size_t i = flight.first; i <= flight.last; ++i) {
      farthest = std::max(farthest, from_point_ft(states_[i]));
    }
    return farthest;
  }

  /// Rolls along this runway in its landing direction when it first touches the ground.
  bool lands_here(Stretch run) const {
    for (std::size_t i = run.first; i <= run.last; ++i) {
      if (speed_fps(states_[i]) < 10.0 * k_fps_per_knot) return false;
      if (over_runway(states_[i])) return std::abs(course_from_runway_deg(states_[i])) < 40.0;
    }
    return false;
  }

  Outcome landing_outcome(std::size_t run_index) const {
    const Stretch run = ground_[run_index];
    if (!flies_after(run)) return Outcome::landed;
    bool stopped = false;
    for (std::size_t i = run.first; i <= run.last; ++i) {
      const TrackState& s = states_[i];
      stopped = stopped || speed_fps(s) < k_stopped_fps;
      if (stopped && (left_runway(s) || s.along_fps < -8.0)) return Outcome::landed;
    }
    return stopped ? Outcome::stop_and_go : Outcome::touch_and_go;
  }

  bool left_runway(const TrackState& s) const {
    return std::abs(s.cross_ft) >
           frame_.runway().width.value / 2.0 + 60.0 + frame_.runway().position_sd.value;
  }

  bool flies_after(Stretch run) const {
    std::size_t last = run.last + 1;
    while (last < states_.size() && !on_ground(states_[last])) ++last;
    if (last == run.last + 1) return false;
    return was_flown({run.last + 1, last - 1}) || (last == states_.size() && rises_at_the_end());
  }

  /// The log ends just after a lift-off, not just after a bounce or a jump of the receiver's height.
  bool rises_at_the_end() const {
    const TrackState& end = states_.back();
    if (speed_fps(end) < 0.6 * flying_fps_) return false;
    return !knows_height(end) || end.height_ft > 40.0;
  }

  std::size_t rollout_end(Stretch run, Outcome outcome) const {
    for (std::size_t i = run.first; i <= run.last; ++i) {
      if (speed_fps(states_[i]) < 8.0 * k_fps_per_knot || left_runway(states_[i])) return i;
      if (outcome == Outcome::stop_and_go && speed_fps(states_[i]) < k_stopped_fps) return i;
    }
    return run.last;
  }

  std::size_t find_go_arounds(Stretch flight);
  bool is_approach_low(std::size_t low, std::size_t flight_first) const;
  bool passes_without_height(std::size_t i, std::size_t flight_first, std::size_t flight_last) const;
  std::optional<std::size_t> last_abeam(std::size_t first, std::size_t end) const;
  bool looks_unfinished(const ApproachEnd& end) const;
  bool on_final(const TrackState& s) const;

  const std::vector<TrackState>& states_;
  const RunwayFrame& frame_;
  double flying_fps_;
  std::vector<Stretch> ground_;
  std::vector<ApproachEnd> ends_;
};

bool Phases::on_final(const TrackState& s) const {
  const double before_ft = std::max(-s.along_ft, 0.0);
  return std::abs(course_from_runway_deg(s)) < 40.0 && before_ft < k_longest_final_ft &&
         s.along_ft < frame_.runway_end_along_ft() && std::abs(s.cross_ft) < 800.0 + 0.15 * before_ft;
}

/// Lows from which the airplane climbed away. Returns where the approach after the last of them begins.
std::size_t Phases::find_go_arounds(Stretch flight) {
  std::size_t first = flight.first, low = flight.first;
  double high_ft = -1e9;
  bool descended = false;
  for (std::size_t i = flight.first; i <= flight.last; ++i) {
    if (!knows_height(states_[i])) {
      if (i == flight.first || !passes_without_height(i, first, flight.last)) continue;
      ApproachEnd end;
      end.outcome = Outcome::go_around;
      end.state = end.end = i;
      end.flight_first = first;
      keep(end);
      first = i + 1;
      continue;
    }
    const double h = states_[i].height_ft;
    if (!descended) {
      high_ft = std::max(high_ft, h);
      descended = h < high_ft - k_approach_drop_ft;
      low = i;
      continue;
    }
    if (h < states_[low].height_ft) low = i;
    if (h < states_[low].height_ft + k_climbed_away_ft) continue;
    if (is_approach_low(low, first)) {
      ApproachEnd end;
      end.outcome = Outcome::go_around;
      end.state = low;
      end.flight_first = first;
      end.end = i;
      keep(end);
      first = low + 1;
    }
    descended = false;
    high_ft = h;
  }
  return first;
}

/// Without heights a go-around shows as a pattern that passes the point and flies on.
bool Phases::passes_without_height(std::size_t i, std::size_t flight_first, std::size_t flight_last) const {
  const TrackState& a = states_[i - 1];
  const TrackState& b = states_[i];
  if (!(a.along_ft <= 0.0 && b.along_ft > 0.0) || std::abs(b.cross_ft) > 600.0) return false;
  if (std::abs(course_from_runway_deg(b)) > 30.0 || !last_abeam(flight_first, i)) return false;
  return states_[flight_last].time_unix_s - b.time_unix_s > k_lands_within_s;
}

bool Phases::is_approach_low(std::size_t low, std::size_t flight_first) const {
  const TrackState& s = states_[low];
  if (s.height_ft > k_highest_go_around_ft) return false;
  if (on_final(s)) return true;
  const auto abeam = last_abeam(flight_first, low);
  if (!abeam) return false;
  // Given up on base, or already turning out: it was on base or final shortly before.
  const double side = states_[*abeam].cross_ft < 0.0 ? 1.0 : -1.0;
  for (std::size_t i = low; i > *abeam && s.time_unix_s - states_[i].time_unix_s < 25.0; --i) {
    const double course = side * course_from_runway_deg(states_[i]);
    if (on_final(states_[i]) || (course > 45.0 && course < 120.0)) return true;
  }
  return false;
}

std::optional<std::size_t> Phases::last_abeam(std::size_t first, std::size_t end) const {
  const double end_s = states_[end].time_unix_s;
  for (std::size_t i = end; i-- > first;) {
    const TrackState& a = states_[i];
    const TrackState& b = states_[i + 1];
    if (end_s - a.time_unix_s > k_longest_pattern_s || from_point_ft(a) > k_pattern_radius_ft) return {};
    if (!(a.along_ft > 0.0 && b.along_ft <= 0.0)) continue;
    const double aside = std::abs(b.cross_ft);
    if (aside < k_nearest_downwind_ft || aside > k_widest_downwind_ft) continue;
    if (std::abs(course_from_runway_deg(b)) < 120.0) continue;
    if (knows_height(b) && (b.height_ft > k_highest_abeam_ft || b.height_ft < 150.0)) continue;
    return i;
  }
  return {};
}

/// The log ends in the air: was it an approach, or something else?
bool Phases::looks_unfinished(const ApproachEnd& end) const {
  const TrackState& s = states_[end.end];
  if (end.abeam) {
    const TrackState& abeam = states_[*end.abeam];
    const bool climbed = knows_height(s) && s.height_ft > abeam.height_ft + 200.0;
    const bool too_high = knows_height(s) && abeam.height_ft > 0.7 * k_highest_abeam_ft;
    return !climbed && !too_high && from_point_ft(s) < k_longest_final_ft;
  }
  if (!knows_height(s) || !on_final(s) || s.height_ft > k_highest_abeam_ft || s.climb_fps > 0.0) return false;
  for (std::size_t i = end.end; i-- > end.flight_first;) {
    if (s.time_unix_s - states_[i].time_unix_s > 60.0) return false;
    if (states_[i].height_ft > s.height_ft + k_approach_drop_ft) return true;
  }
  return false;
}

}  // namespace

double course_from_runway_deg(const TrackState& s) {
  return std::atan2(s.cross_fps, s.along_fps) / k_radians_per_degree;
}

std::vector<ApproachEnd> find_approach_ends(const std::vector<TrackState>& states, const RunwayFrame& frame) {
  if (states.empty()) return {};
  return Phases(states, frame).approach_ends();
}

}  // namespace glidewright

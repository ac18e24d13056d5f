#include "engine/track/attempts.hpp"

#include <algorithm>
#include <cmath>

#include "engine/track/flight_phases.hpp"
#include "engine/track/pattern_power.hpp"
#include "engine/track/pattern_turns.hpp"
#include "engine/track/pattern_view.hpp"
#include "engine/track/wind_fit.hpp"

namespace glidewright {
namespace {

constexpr double k_before_abeam_s = 30.0;
constexpr double k_longest_look_back_s = 240.0;
constexpr double k_gate_ft = 200.0;
constexpr double k_near_field_ft = 30000.0;
// A device that stamps whole seconds may have taken the fix anywhere in them.
constexpr double k_whole_second_sd_s = 0.29;
// What a pause between fixes hides of a roll-in, of wings coming level, and of bank: shares and degrees a
// second.
constexpr double k_pause_in_roll_in = 0.3;
constexpr double k_pause_in_wings_level = 0.4;
constexpr double k_bank_hidden_deg_per_s = 2.0;

/// Deviation of a stamp from the moment at which the fix was taken.
double stamp_sd_s(const std::vector<TrackState>& states) {
  const bool whole = std::all_of(states.begin(), states.end(), [](const TrackState& s) {
    return s.time_unix_s == std::floor(s.time_unix_s);
  });
  return whole ? k_whole_second_sd_s : 0.0;
}

/// One wind for the whole log, good enough for airspeed and bank.
WindVector rough_wind(const std::vector<TrackState>& states) {
  std::vector<CircuitVelocity> velocities;
  double last_s = -1e300;
  for (const TrackState& s : states) {
    if (s.time_unix_s - last_s < 4.0 || s.groundspeed_kt() < 40.0) continue;
    if (std::hypot(s.along_ft, s.cross_ft) > k_near_field_ft) continue;
    if (knows_height(s) && s.height_ft < 100.0) continue;
    velocities.push_back({.time_s = s.time_unix_s,
                          .along_fps = s.along_fps,
                          .cross_fps = s.cross_fps,
                          .height_ft = knows_height(s) ? s.height_ft : 700.0,
                          .speed_sd_fps = s.speed_sd_fps});
    last_s = s.time_unix_s;
  }
  if (velocities.empty()) return {};
  velocities.front().new_airspeed_fps = 80.0 * k_fps_per_knot;
  velocities.front().new_airspeed_sd_fps = 25.0 * k_fps_per_knot;
  return fit_wind(velocities, {.wander_sd_fps = 12.0}, {}).wind;
}

class AttemptBuilder {
 public:
  AttemptBuilder(const SmoothTrack& track, const TrackLog& log, const RunwayFrame& frame)
      : track_(track),
        log_(log),
        frame_(frame),
        wind_(rough_wind(track.states)),
        stamp_sd_s_(stamp_sd_s(track.states)) {}

  Attempt build(const ApproachEnd& end) const {
    Attempt a;
    a.outcome = end.outcome;
    a.traffic = traffic_side(end);
    a.end_time_unix_s = time(end.end);
    if (end.abeam) a.abeam = abeam_point(*end.abeam);
    const double first_s = first_time_s(end, a);
    a.start_time_unix_s = first_s;
    const double last_s = end.outcome == Outcome::unfinished ? time(end.end) : time(end.state);
    const PatternView view = view_pattern(track_, first_s, last_s, a.traffic, wind_);
    const PatternTurns turns = find_turns(view, log_.panel, usual_interval_s());
    place_turns(a, turns);
    place_ends(a, end, view, turns);
    place_power(a, end, view, turns);
    add_notes(a, end, turns);
    return a;
  }

 private:
  double time(std::size_t state) const { return track_.states[state].time_unix_s; }

  KeyPoint point_at(double time_unix_s, double time_sd_s) const {
    const TrackState s = track_.at(time_unix_s);
    return {.time_unix_s = time_unix_s,
            .time_sd_s = std::hypot(time_sd_s, stamp_sd_s_),
            .place = {s.along_ft, s.cross_ft},
            .height_ft = s.height_ft,
            .height_sd_ft = s.height_sd_ft,
            .groundspeed_kt = s.groundspeed_kt(),
            .climb_fpm = s.climb_fps * 60.0,
            .course_true_deg = s.course_true_deg(frame_.runway().true_bearing)};
  }

  /// Where the cubic between two fixes passes the point, by bisection: along falls through zero in between.
  KeyPoint abeam_point(std::size_t before) const {
    double low = time(before), high = time(before + 1);
    for (int i = 0; i < 40; ++i) {
      const double middle = 0.5 * (low + high);
      (track_.at(middle).along_ft > 0.0 ? low : high) = middle;
    }
    const TrackState s = track_.at(high);
    return point_at(high, s.place_sd_ft / std::max(std::abs(s.along_fps), 10.0));
  }

  double first_time_s(const ApproachEnd& end, const Attempt& a) const {
    const double flight_s = time(end.flight_first);
    if (a.abeam) return std::max(flight_s, a.abeam->time_unix_s - k_before_abeam_s);
    // No downwind: back to where the approach came within reach of the runway.
    std::size_t i = end.state;
    while (i > end.flight_first && time(end.state) - time(i - 1) < k_longest_look_back_s &&
           std::hypot(track_.states[i - 1].along_ft, track_.states[i - 1].cross_ft) < k_near_field_ft) {
      --i;
    }
    return time(i);
  }

  Traffic traffic_side(const ApproachEnd& end) const {
    if (end.abeam) return track_.states[*end.abeam].cross_ft < 0.0 ? Traffic::left : Traffic::right;
    // The side from which the centreline was joined.
    for (std::size_t i = end.state; i > end.flight_first; --i) {
      const TrackState& s = track_.states[i];
      if (time(end.state) - s.time_unix_s > k_longest_look_back_s) break;
      const double course = std::abs(course_from_runway_deg(s));
      if (course > 45.0 && course < 135.0 && std::abs(s.cross_ft) > 300.0) {
        return s.cross_ft < 0.0 ? Traffic::left : Traffic::right;
      }
    }
    return Traffic::left;
  }

  /// Longest time without a fix that touches [from, to], beyond the usual one.
  double pause_s(double from_s, double to_s) const {
    const auto& states = track_.states;
    const auto before = [](const TrackState& s, double t) { return s.time_unix_s < t; };
    auto next = std::lower_bound(states.begin(), states.end(), from_s, before);
    double longest_s = 0.0;
    for (; next != states.end(); ++next) {
      if (next != states.begin())
        longest_s = std::max(longest_s, next->time_unix_s - (next - 1)->time_unix_s);
      if (next->time_unix_s >= to_s) break;
    }
    return std::max(longest_s - usual_interval_s(), 0.0);
  }

  double usual_interval_s() const { return track_.rate_hz > 0.0 ? 1.0 / track_.rate_hz : 1.0; }

  std::optional<KeyPoint> turn_point(std::optional<double> time_unix_s, double sd_s, double hidden) const {
    if (!time_unix_s) return {};
    // The turn that a roll-in is read from follows within some five seconds.
    const double pause = pause_s(*time_unix_s - 1.0, *time_unix_s + 5.0);
    return point_at(*time_unix_s, std::hypot(sd_s, hidden * pause));
  }

  std::optional<BankEstimate> turn_bank(std::optional<BankEstimate> bank, std::optional<double> from_s,
                                        std::optional<double> to_s) const {
    if (!bank || !from_s || !to_s) return bank;
    const double hidden_deg = k_bank_hidden_deg_per_s * pause_s(*from_s, *to_s);
    bank->low95_deg = std::max(bank->low95_deg - hidden_deg, 0.0);
    bank->high95_deg = std::min(bank->high95_deg + hidden_deg, 90.0);
    return bank;
  }

  void place_turns(Attempt& a, const PatternTurns& turns) const {
    a.base_turn = turn_point(turns.base_turn_s, turns.roll_in_sd_s, k_pause_in_roll_in);
    a.base = turn_point(turns.base_s, turns.wings_level_sd_s, k_pause_in_wings_level);
    a.final_turn = turn_point(turns.final_turn_s, turns.roll_in_sd_s, k_pause_in_roll_in);
    a.final_leg = turn_point(turns.final_leg_s, turns.wings_level_sd_s, k_pause_in_wings_level);
    a.base_turn_bank = turn_bank(turns.base_turn_bank, turns.base_turn_s, turns.base_s);
    a.final_turn_bank = turn_bank(turns.final_turn_bank, turns.final_turn_s, turns.final_leg_s);
  }

  /// First moment from which the airplane was on its way to the runway, for the gate.
  std::size_t inbound_from(const PatternView& view, const PatternTurns& turns) const {
    if (turns.final_turn_s) return view.index_at(*turns.final_turn_s);
    for (std::size_t i = view.moments.size(); i-- > 0;) {
      if (view.moments[i].turned_deg < 135.0) return i;
    }
    return 0;
  }

  std::optional<KeyPoint> falls_through(const PatternView& view, std::size_t from, double height_ft) const {
    for (std::size_t i = std::max<std::size_t>(from, 1); i < view.moments.size(); ++i) {
      const PatternMoment& a = view.moments[i - 1];
      const PatternMoment& b = view.moments[i];
      if (!(a.height_ft > height_ft && b.height_ft <= height_ft)) continue;
      const double part = (a.height_ft - height_ft) / (a.height_ft - b.height_ft);
      const double t = a.time_unix_s + part * view.step_s;
      const TrackState s = track_.at(t);
      if (!knows_height(s)) return {};
      return point_at(t, s.height_sd_ft / std::max(-s.climb_fps, 3.0));
    }
    return {};
  }

  void place_ends(Attempt& a, const ApproachEnd& end, const PatternView& view,
                  const PatternTurns& turns) const {
    a.gate = falls_through(view, inbound_from(view, turns), k_gate_ft);
    if (end.outcome == Outcome::go_around) {
      a.go_around = point_at(time(end.state), 2.0);
    } else if (end.outcome != Outcome::unfinished) {
      a.landing_time_unix_s = landing_time_s(end);
      place_flare(a, view);
    }
  }

  /// Near the ground and slowing: rough, the touchdown is found from it with care elsewhere.
  double landing_time_s(const ApproachEnd& end) const {
    const double entry_kt = track_.states[end.state].groundspeed_kt();
    for (std::size_t i = end.state; i <= end.end; ++i) {
      const TrackState& s = track_.states[i];
      if (s.height_ft < 3.0 || s.groundspeed_kt() < 0.8 * entry_kt) return s.time_unix_s;
    }
    return time(end.state);
  }

  void place_flare(Attempt& a, const PatternView& view) const {
    double sink_fps = 0.0;
    std::size_t steady = 0, count = 0;
    for (std::size_t i = 0; i < view.moments.size(); ++i) {
      const PatternMoment& m = view.moments[i];
      const bool short_final = m.height_ft < 200.0 && m.height_ft > 60.0 && m.turned_deg > 150.0;
      if (!short_final) continue;
      sink_fps -= m.climb_fps;
      ++count;
      steady = i;
    }
    if (count < 4) return;
    sink_fps /= static_cast<double>(count);
    for (std::size_t i = steady; i < view.moments.size(); ++i) {
      if (-view.moments[i].climb_fps > 0.7 * sink_fps) continue;
      a.flare = point_at(view.moments[i].time_unix_s, 2.0);
      return;
    }
  }

  void place_power(Attempt& a, const ApproachEnd& end, const PatternView& view,
                   const PatternTurns& turns) const {
    if (view.moments.empty() || !end.height_known) return;
    const std::size_t low = [&] {
      // Ground effect and the flare tell nothing about power.
      std::size_t i = view.moments.size() - 1;
      while (i > 0 && view.moments[i].height_ft < 60.0) --i;
      return i;
    }();
    const double end_s = view.moments[low].time_unix_s - (end.outcome == Outcome::go_around ? 8.0 : 0.0);
    const double abeam_s = a.abeam ? a.abeam->time_unix_s : view.moments.front().time_unix_s;
    const PatternPower power = find_power(view, log_.panel, abeam_s, turns.base_turn_s, end_s);
    a.kind = power.kind;
    if (power.idle_s && a.abeam) a.idle = point_at(*power.idle_s, power.idle_sd_s);
  }

  void add_notes(Attempt& a, const ApproachEnd& end, const PatternTurns& turns) const {
    if (!a.abeam) a.notes.push_back("the log does not show the point being passed on downwind");
    if (!end.height_known)
      a.notes.push_back(
          "the log has no usable heights: no gate, power cannot be judged, and a touch-and-go may be a "
          "go-around");
    if (turns.continuous) a.notes.push_back("one continuous turn: there was no wings-level base");
    if (!track_.height_zeroed_on_ground && end.height_known) {
      a.notes.push_back("the log never rolls on the runway: heights may be off by a few tens of feet");
    }
  }

  const SmoothTrack& track_;
  const TrackLog& log_;
  const RunwayFrame& frame_;
  WindVector wind_;
  double stamp_sd_s_ = 0.0;
};

}  // namespace

std::vector<Attempt> find_attempts(const SmoothTrack& track, const TrackLog& log, const RunwayFrame& frame) {
  std::vector<Attempt> attempts;
  const auto ends = find_approach_ends(track.states, frame);
  if (ends.empty()) return attempts;
  const AttemptBuilder builder(track, log, frame);
  for (const ApproachEnd& end : ends) {
    attempts.push_back(builder.build(end));
    attempts.back().index = static_cast<int>(attempts.size());
  }
  return attempts;
}

}  // namespace glidewright

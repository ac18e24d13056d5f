#include "engine/reach/policy.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

namespace glidewright::reach {
namespace {

constexpr double k_look_ahead_s = 1.0;
constexpr double k_lowest_flap_change_ft = 320.0;
constexpr double k_spare_on_base_ft = 60.0;

/// How one flight differs from the band's own way.
struct Tactics {
  enum class Flaps { as_the_band_has_them, all_left_up, landing_flap_left_up, landing_flap_soon };
  double straight_on_s = 0.0;  ///< at first
  double turning_s = 0.0;      ///< then
  double straight_again_s = 0.0;
  Flaps flaps = Flaps::as_the_band_has_them;
};

/// Keeps to the middle of the room that the band leaves, looking one second ahead.
class BandSteering {
 public:
  explicit BandSteering(const Band& band)
      : band_(band), bank_rad_(band.request().means.bank_deg * k_radians_per_degree) {}

  void adopt(const Tactics& tactics, double time_s) {
    tactics_ = tactics;
    begun_s_ = time_s;
  }

  void operator()(const FlightState& state, double time_s, PilotMemory& memory) {
    time_s_ = time_s;
    const double to_turn_deg = std::max(0.0, state.heading_rad - band_.crab_rad()) / k_radians_per_degree;
    memory.phase = to_turn_deg > 165.0  ? Phase::downwind
                   : to_turn_deg > 75.0 ? Phase::base
                                        : Phase::final_turn;
    if (!memory.gliding && state.speed_fps <= memory.commands.speed_fps + 4.0) {
      memory.gliding = true;
      memory.commands.vertical = Commands::Vertical::hold_speed;
    }
    if (memory.flaring) {
      memory.commands.slip = 0.0;
      return;
    }
    choose_path(state, to_turn_deg, memory.commands);
    choose_flap(state, to_turn_deg, memory.commands);
    choose_slip(state, memory.commands);
  }

 private:
  PlaceInPattern ahead(const FlightState& state, bool turning, double seconds) const {
    PlaceInPattern place = place_of(state);
    const Flight& flight = band_.flight();
    const LocalWind wind = flight.wind.at(state.height_ft);
    const double rate = turning ? k_gravity_fps2 * std::tan(bank_rad_) / state.speed_fps : 0.0;
    const double middle = state.heading_rad - 0.5 * rate * seconds;
    place.along_ft += seconds * (state.speed_fps * std::cos(middle) + wind.along_fps);
    place.cross_ft += seconds * (state.speed_fps * std::sin(middle) + wind.cross_fps);
    place.heading_rad -= rate * seconds;
    const double sink = state.speed_fps * flight.drag_factor *
                        flight.airplane->polar.drag_over_weight(
                            flight.calibrated_kt(state.speed_fps), flight.weight_lb, state.flap_deg, 0.0,
                            turning ? 1.0 / std::cos(bank_rad_) : 1.0, 1.0);
    place.height_ft -= sink * seconds;
    place.bank_rad = turning ? -bank_rad_ : 0.0;
    return place;
  }

  /// How far from the nearer edge: what every decision keeps as great as it can.
  double room_left_ft(const PlaceInPattern& place) const {
    return band_.room(place, Surety::mean).margin_ft(place.height_ft);
  }

  /// Onto the centreline, once the circle of the turn touches it.
  bool turn_in_due(const FlightState& state) const {
    const GroundVelocity ground = ground_velocity(band_.flight(), state);
    const double course = ground.course_rad();
    if (course > 2.0 || course < -0.5) return false;
    const LocalWind wind = band_.flight().wind.at(state.height_ft);
    const double per_rad = state.speed_fps / (k_gravity_fps2 * std::tan(0.97 * bank_rad_));
    const Handling& handling = band_.flight().handling;
    const double roll_in_s = 0.5 * bank_rad_ / handling.roll_rate_limit_rad_s + 0.4 * handling.roll_lag_s;
    const double rolling_s = roll_in_s * (1.0 - std::min(1.0, std::abs(state.bank_rad) / bank_rad_));
    const double room = per_rad * (state.speed_fps * (1.0 - std::cos(state.heading_rad - band_.crab_rad())) +
                                   wind.cross_fps * std::abs(state.heading_rad - band_.crab_rad())) +
                        ground.cross_fps * rolling_s;
    return -state.cross_ft <= room;
  }

  void choose_path(const FlightState& state, double to_turn_deg, Commands& commands) {
    commands.bank_limit_rad = bank_rad_;
    if (!capturing_ && to_turn_deg < 120.0 && (to_turn_deg < 10.0 || turn_in_due(state))) capturing_ = true;
    if (capturing_) {
      commands.lateral = Commands::Lateral::capture_centreline;
      return;
    }
    constexpr double habit_ft = 0.5;  // no change of mind for less
    const double straight = room_left_ft(ahead(state, false, k_look_ahead_s));
    const double turn = room_left_ft(ahead(state, true, k_look_ahead_s));
    bool turns = turn + (turning_ ? habit_ft : -habit_ft) > straight;
    const double since_s = time_s_ - begun_s_;
    const double turned_s = tactics_.straight_on_s + tactics_.turning_s;
    if (since_s < turned_s + tactics_.straight_again_s)
      turns = since_s >= tactics_.straight_on_s && since_s < turned_s;
    const GroundVelocity ground = ground_velocity(band_.flight(), state);
    if (turns) {
      const double course = ground.course_rad() - 1.2;
      commands.sin_course = std::sin(course);
      commands.cos_course = std::cos(course);
    } else if (turning_ || !steering_) {
      commands.sin_course = ground.cross_fps / ground.speed_fps;
      commands.cos_course = ground.along_fps / ground.speed_fps;
    }
    turning_ = turns;
    steering_ = true;
  }

  /// Height over the glide with this flap and nothing else; on final over the one to the middle of the box.
  double spare_with_ft(const FlightState& state, double flap_deg) const {
    if (capturing_) {
      const Box& box = band_.request().box;
      return state.height_ft -
             band_.height_on_final_ft(state.along_ft, flap_deg, 0.5 * (box.low_ft + box.high_ft));
    }
    PlaceInPattern with = place_of(state);
    with.flap_deg = flap_deg;
    return state.height_ft - band_.room(with, Surety::mean).lowest_ft;
  }

  void choose_flap(const FlightState& state, double to_turn_deg, Commands& commands) {
    const AllowedMeans& means = band_.request().means;
    if (state.height_ft < k_lowest_flap_change_ft || std::abs(state.flap_deg - commands.flap_deg) > 1.0)
      return;
    for (const auto& step : band_.request().technique.flaps) {
      if (step.setting_deg <= commands.flap_deg) continue;
      const bool last = step.setting_deg == band_.request().technique.flaps.back().setting_deg;
      if (to_turn_deg > (last ? means.landing_flap_from_deg : means.first_flap_from_deg)) return;
      // While a flap waits, the height over the lower edge with it grows by itself and the room above
      // shrinks: its moment is when they are the same. The landing flap cannot be taken back: only where that
      // way has more room than the other.
      const Room room = band_.room(place_of(state), Surety::mean);
      const double height_ft = state.height_ft;
      const bool due = height_ft - room.lowest_with_landing_flap_ft >=
                       std::min(k_spare_on_base_ft, room.highest_with_landing_flap_ft - height_ft);
      using Flaps = Tactics::Flaps;
      if (tactics_.flaps == Flaps::all_left_up) return;
      if (last && tactics_.flaps == Flaps::landing_flap_left_up) return;
      if (last && tactics_.flaps == Flaps::landing_flap_soon) {
        commands.flap_deg = step.setting_deg;
        return;
      }
      const bool lands_with_it =
          room.margin_with_landing_flap_ft(height_ft) >= room.margin_without_landing_flap_ft(height_ft);
      const bool spare = spare_with_ft(state, step.setting_deg) >= (capturing_ ? 0.0 : k_spare_on_base_ft);
      if (last ? lands_with_it && (due || spare) : due || spare) commands.flap_deg = step.setting_deg;
      return;
    }
  }

  /// On final a slip is in while the glide without it would end beyond the middle of the box.
  void choose_slip(const FlightState& state, Commands& commands) {
    const BandRequest& request = band_.request();
    const bool wings_level = capturing_ && std::abs(state.bank_rad) < 0.14 &&
                             state.heading_rad - band_.crab_rad() < 0.2 && std::abs(state.cross_ft) < 150.0;
    // What the slip still spends while it is taken out.
    const Flight& flight = band_.flight();
    const auto drag = [&](double slip) {
      return flight.drag_factor *
             request.airplane.polar.drag_over_weight(flight.calibrated_kt(state.speed_fps), flight.weight_lb,
                                                     state.flap_deg, slip * flight.slip_factor, 1.0, 1.0);
    };
    const double out_s = 1.0 / flight.handling.slip_rate_per_s;
    const double coming_out_ft = 0.5 * out_s * state.speed_fps * (drag(1.0) - drag(0.0));
    constexpr double habit_ft = 8.0, habit_of_height_ft = 30.0;
    const bool allowed =
        request.means.slip && wings_level &&
        commands.flap_deg <= request.airplane.handbook.slip_flap_limit_deg &&
        state.height_ft > request.means.slip_out_height_ft + (slipping_ ? 0.0 : habit_of_height_ft);
    slipping_ =
        allowed && spare_with_ft(state, state.flap_deg) > coming_out_ft + (slipping_ ? 0.0 : habit_ft);
    commands.slip = slipping_ ? 1.0 : 0.0;
  }

  const Band& band_;
  Tactics tactics_;
  double bank_rad_;
  double time_s_ = 0.0;
  double begun_s_ = 0.0;  ///< with these tactics
  bool turning_ = false;
  bool steering_ = false;
  bool capturing_ = false;
  bool slipping_ = false;
};

/// The band's own way first, then those that differ least from it.
std::vector<Tactics> all_tactics() {
  using Flaps = Tactics::Flaps;
  std::vector<Tactics> all;
  for (const double again_s : {0.0, 4.0, 8.0}) {
    for (const double turning_s : {0.0, 3.0, 6.0, 8.0, 10.0}) {
      for (const double straight_s : {0.0, 3.0, 6.0, 10.0, 15.0, 20.0, 26.0}) {
        for (const auto flaps : {Flaps::as_the_band_has_them, Flaps::landing_flap_left_up,
                                 Flaps::landing_flap_soon, Flaps::all_left_up}) {
          if (again_s > 0.0 && turning_s == 0.0) continue;
          all.push_back({straight_s, turning_s, again_s, flaps});
        }
      }
    }
  }
  return all;
}

/// Follows the band, and looks at where that leads by flying it ahead: where it does not end well within the
/// box, the tactics are taken that do, or that come nearest.
class LookingAhead {
 public:
  explicit LookingAhead(const Band& band) : band_(band), pilot_(band) {}

  void operator()(const FlightState& state, double time_s, PilotMemory& memory) {
    constexpr double again_s = 5.0, lowest_ft = 250.0;
    if (time_s >= next_look_s_ && state.height_ft > lowest_ft) {
      next_look_s_ = time_s + again_s;
      if (off_ft_ > well_within_ft()) look(state, time_s);
    }
    pilot_(state, time_s, memory);
  }

 private:
  double well_within_ft() const { return 0.4 * (band_.request().box.high_ft - band_.request().box.low_ft); }

  void look(const FlightState& state, double time_s) {
    const Box& box = band_.request().box;
    for (const Tactics& tactics : all_tactics()) {
      BandSteering pilot = pilot_;
      pilot.adopt(tactics, time_s);
      const FlownFrom flown = fly_from(band_.flight(), band_.request().technique, state,
                                       [&](const FlightState& at, double later_s, PilotMemory& memory) {
                                         pilot(at, time_s + later_s, memory);
                                       });
      if (!flown.touched_down || !flown.lined_up_at_gate) continue;
      const double off_ft = std::abs(flown.along_ft - 0.5 * (box.low_ft + box.high_ft));
      if (off_ft >= off_ft_) continue;
      off_ft_ = off_ft;
      pilot_.adopt(tactics, time_s);
      if (off_ft <= well_within_ft()) break;
    }
  }

  const Band& band_;
  BandSteering pilot_;
  double off_ft_ = 1e9;
  double next_look_s_ = 0.0;
};

}  // namespace

Steering steer_by(const Band& band) {
  return
      [pilot = std::make_shared<LookingAhead>(band)](
          const FlightState& state, double time_s, PilotMemory& memory) { (*pilot)(state, time_s, memory); };
}

}  // namespace glidewright::reach

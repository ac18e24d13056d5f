#include "engine/reach/settled.hpp"

#include <algorithm>
#include <cmath>

namespace glidewright::reach {
namespace {

constexpr double k_slice_s = 0.5;
constexpr double k_longest_s = 25.0;
constexpr double k_near_enough_fps = 2.0;

double drag(const Flight& flight, double speed_fps, double flap_deg, double load_factor) {
  return flight.drag_factor * flight.airplane->polar.drag_over_weight(flight.calibrated_kt(speed_fps),
                                                                      flight.weight_lb, flap_deg, 0.0,
                                                                      load_factor, 1.0);
}

double taught_fps(const Flight& flight, const BandRequest& request, double heading_rad) {
  return speed_to_turn_fps(flight, request.technique, std::max(0.0, heading_rad) / k_radians_per_degree);
}

class Slowing {
 public:
  Slowing(const Flight& flight, const BandRequest& request, const PlaceInPattern& from)
      : flight_(flight),
        request_(request),
        bank_rad_(request.means.bank_deg * k_radians_per_degree),
        now_(from),
        thrust_(from.thrust_over_weight) {
    if (now_.speed_fps <= 0.0) now_.speed_fps = taught_fps(flight, request, from.heading_rad);
    wind_ = flight.wind.at(from.height_ft);
  }

  bool too_fast() const {
    return now_.speed_fps > taught_fps(flight_, request_, now_.heading_rad) + k_near_enough_fps;
  }

  void level_for(double seconds, bool turning) {
    const double load = turning ? 1.0 / std::cos(bank_rad_) : 1.0;
    const double slowing = k_gravity_fps2 * (drag(flight_, now_.speed_fps, now_.flap_deg, load) - thrust_);
    const double rate = turning ? k_gravity_fps2 * std::tan(bank_rad_) / now_.speed_fps : 0.0;
    move(seconds, rate);
    now_.speed_fps -= slowing * seconds;
    thrust_ *= std::exp(-seconds / flight_.handling.power_fade_s);
  }

  /// Gliding on without a turn, as while rolling into one.
  void glide_for(double seconds) {
    spent_ft_ += seconds * now_.speed_fps * drag(flight_, now_.speed_fps, now_.flap_deg, 1.0);
    move(seconds, 0.0);
  }

  SettledPlace settled() const {
    const double taught = taught_fps(flight_, request_, now_.heading_rad);
    // What is left of speed too much or too little, and of power, is height.
    const double left_ft = (now_.speed_fps * now_.speed_fps - taught * taught) / (2.0 * k_gravity_fps2) +
                           thrust_ * now_.speed_fps * flight_.handling.power_fade_s;
    SettledPlace there{now_, spent_ft_ - left_ft};
    there.place.speed_fps = taught;
    return there;
  }

 private:
  void move(double seconds, double turn_rate) {
    const double middle = now_.heading_rad - 0.5 * seconds * turn_rate;
    now_.along_ft += seconds * (now_.speed_fps * std::cos(middle) + wind_.along_fps);
    now_.cross_ft += seconds * (now_.speed_fps * std::sin(middle) + wind_.cross_fps);
    now_.heading_rad -= seconds * turn_rate;
  }

  const Flight& flight_;
  const BandRequest& request_;
  double bank_rad_;
  LocalWind wind_;
  PlaceInPattern now_;
  double thrust_;
  double spent_ft_ = 0.0;
};

}  // namespace

std::vector<SettledPlace> settle(const Flight& flight, const BandRequest& request,
                                 const PlaceInPattern& from) {
  const double bank_rad = request.means.bank_deg * k_radians_per_degree;
  const double wings_level = 1.0 - std::min(1.0, std::abs(from.bank_rad) / bank_rad);
  const double delay_s = wings_level * roll_delay_s(flight.handling, bank_rad);
  std::vector<SettledPlace> ways;
  for (double straight_s = 0.0; straight_s <= k_longest_s; straight_s += 2.0) {
    Slowing slowing(flight, request, from);
    if (!slowing.too_fast()) {
      slowing.glide_for(delay_s);
      return {slowing.settled()};
    }
    const double turns_from_s = straight_s + delay_s;
    double time_s = 0.0;
    bool turned = false;
    while (slowing.too_fast() && time_s < k_longest_s) {
      turned = time_s >= turns_from_s;
      slowing.level_for(k_slice_s, turned);
      time_s += k_slice_s;
    }
    if (!turned) slowing.glide_for(std::clamp(turns_from_s - time_s, 0.0, delay_s));
    ways.push_back(slowing.settled());
    if (!turned) break;
  }
  return ways;
}

}  // namespace glidewright::reach

#include "engine/reach/along.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

/// Of the band against full dynamics, docs/measured.md.
constexpr double k_least_error_ft = 20.0;

/// The last moment at which `still` held, if there was one and it does not hold to the end.
template <class Still>
void add_last_chance(LastChance::Mean mean, const Still& still, BandAlong& along) {
  const auto& places = along.places;
  const auto last = std::find_if(places.rbegin(), places.rend(), still);
  if (last == places.rbegin() || last == places.rend()) return;
  along.last_chances.push_back({mean, last->time_s, last->height_ft});
}

std::string why_empty(const BandAlong& along) {
  if (along.places.empty()) return "The track has no place between abeam and the gate.";
  const bool open = std::any_of(along.places.begin(), along.places.end(),
                                [](const RoomOnTrack& place) { return place.sure.open(); });
  if (open) return {};
  const RoomOnTrack& first = along.places.front();
  const double spacing_nm = to_nautical_miles(Feet{std::abs(first.cross_ft)}).value;
  if (first.mean.open()) {
    return words(
        "From %.2f NM the point can be made in the wind as given, but not in nine of ten winds: no band is "
        "drawn.",
        spacing_nm);
  }
  return words(
      "From %.2f NM the point is out of reach below %.0f ft, and above %.0f ft nothing that is allowed "
      "spends "
      "the height.",
      spacing_nm, std::round(first.mean.lowest_ft / 10.0) * 10.0,
      std::round(first.mean.by_slip_ft / 10.0) * 10.0);
}

}  // namespace

PlaceInPattern place_of(const Moment& moment, const Conditions& conditions) {
  const double mirror = conditions.traffic == Traffic::right ? -1.0 : 1.0;
  PlaceInPattern place;
  place.along_ft = moment.along_ft;
  place.cross_ft = mirror * moment.cross_ft;
  place.height_ft = moment.height_ft;
  place.speed_fps = moment.true_airspeed_kt * k_fps_per_knot;
  place.bank_rad = mirror * moment.bank_deg * k_radians_per_degree;
  place.flap_deg = moment.flap_deg;
  place.heading_rad =
      std::remainder(mirror * (moment.heading_true_deg - conditions.runway_true_deg) * k_radians_per_degree,
                     2.0 * std::numbers::pi);
  // Downwind may be crabbed past the opposite of the landing direction; an overshoot past the landing
  // direction is not as far.
  constexpr double overshoot_rad = -0.5 * std::numbers::pi;
  if (place.heading_rad < overshoot_rad) place.heading_rad += 2.0 * std::numbers::pi;
  return place;
}

BandAlong band_along(const Band& band, const std::vector<Moment>& track, double every_s) {
  const BandRequest& request = band.request();
  BandAlong along;
  double next_s = -1e9;
  for (const Moment& moment : track) {
    if (moment.time_s < 0.0 || moment.time_s < next_s) continue;
    if (moment.height_ft < request.means.gate_height_ft) break;
    next_s = moment.time_s + every_s - 1e-6;
    const PlaceInPattern place = place_of(moment, request.conditions);
    RoomOnTrack here{moment.time_s,
                     moment.along_ft,
                     moment.cross_ft,
                     moment.height_ft,
                     band.room(place, Surety::mean),
                     band.room(place, Surety::nine_in_ten)};
    along.error_ft = std::max(along.error_ft, here.mean.error_ft);
    along.places.push_back(here);
  }
  // An edge is crossed when it is crossed by more than the band may be off.
  const auto beyond = [](const RoomOnTrack& p) { return std::max(k_least_error_ft, p.mean.error_ft); };
  using Mean = LastChance::Mean;
  // Past the gate's place the lowest edge means nothing any more: there it is too high, not too low.
  add_last_chance(
      Mean::shortest_way,
      [&](const auto& p) {
        return p.height_ft >= p.mean.lowest_ft - beyond(p) || p.height_ft > p.mean.by_slip_ft + beyond(p);
      },
      along);
  add_last_chance(
      Mean::path, [&](const auto& p) { return p.height_ft <= p.mean.by_path_ft + beyond(p); }, along);
  add_last_chance(
      Mean::flaps, [&](const auto& p) { return p.height_ft <= p.mean.by_flaps_ft + beyond(p); }, along);
  add_last_chance(
      Mean::slip, [&](const auto& p) { return p.height_ft <= p.mean.by_slip_ft + beyond(p); }, along);
  along.empty_because = why_empty(along);
  return along;
}

}  // namespace glidewright

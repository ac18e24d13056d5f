#include "engine/reach/band.hpp"

#include <algorithm>
#include <cmath>

#include "engine/batch/draws.hpp"
#include "engine/reach/settled.hpp"
#include "engine/technique/pilot.hpp"

namespace glidewright {
namespace {

using reach::EdgeRules;

/// Nine in ten, one-sided, of a normal distribution.
constexpr double k_nine_in_ten = 1.2815515655446004;

std::vector<EdgeRules> edges_of(const BandRequest& request) {
  using Kind = EdgeRules::Kind;
  std::vector<EdgeRules> edges = {{Kind::lowest, Spends::path}};
  double landing = 0.0, before_landing = 0.0;
  for (const auto& step : request.technique.flaps) {
    edges.push_back({Kind::lowest, Spends::path, step.setting_deg});
    before_landing = landing;
    landing = std::max(landing, step.setting_deg);
  }
  edges.push_back({Kind::lowest, Spends::flaps});
  edges.push_back({Kind::highest, Spends::path});
  edges.push_back({Kind::highest, Spends::flaps});
  if (request.means.slip) {
    const double limit = request.airplane.handbook.slip_flap_limit_deg;
    edges.push_back({Kind::highest, Spends::slip, 0.0, std::min(limit, before_landing)});
    if (limit >= landing && landing > 0.0) edges.push_back({Kind::highest, Spends::slip});
  }
  return edges;
}

/// Where the wheels touch at the end of such an edge.
double target_ft(const BandRequest& request, const EdgeRules& rules) {
  return rules.kind == EdgeRules::Kind::lowest ? request.box.low_ft : request.box.high_ft;
}

/// The highest edges reckon with the flap that may be out at this heading; what is still to come takes time,
/// in which it spends half of what it will.
double lever_comes_late_ft(const Flight& flight, const BandRequest& request, const EdgeRules& rules,
                           const PlaceInPattern& place, double to_turn_deg) {
  const double flap_deg = reach::flap_to_turn_deg(request, rules, to_turn_deg);
  if (flap_deg <= place.flap_deg) return 0.0;
  constexpr double hand_s = 1.0;
  const double late_s = hand_s + 0.5 * (flap_deg - place.flap_deg) / flight.handling.flap_rate_deg_s;
  const auto drag = [&](double flap) {
    return flight.airplane->polar.drag_over_weight(flight.calibrated_kt(place.speed_fps), flight.weight_lb,
                                                   flap, 0.0, 1.0, 1.0);
  };
  return late_s * place.speed_fps * flight.drag_factor * (drag(flap_deg) - drag(place.flap_deg));
}

/// The last leg of every edge in one air, each way down flown once for all edges that end with the same
/// means.
std::vector<reach::FinalLeg> final_legs(const Flight& flight, const BandRequest& request,
                                        const std::vector<EdgeRules>& edges) {
  std::vector<reach::FlownFinal> flown;
  std::vector<reach::FinalLeg> legs;
  for (const EdgeRules& rules : edges) {
    const reach::FinalMeans means = reach::final_means(flight, request, rules);
    auto with_these =
        std::find_if(flown.begin(), flown.end(), [&](const auto& f) { return f.means == means; });
    if (with_these == flown.end())
      with_these = flown.insert(flown.end(), reach::fly_final(flight, request, means));
    legs.emplace_back(flight, request, rules, target_ft(request, rules), *with_these);
  }
  return legs;
}

}  // namespace

double Room::margin_with_landing_flap_ft(double height_ft) const {
  return std::min(height_ft - lowest_with_landing_flap_ft, highest_with_landing_flap_ft - height_ft);
}

double Room::margin_without_landing_flap_ft(double height_ft) const {
  return std::min(height_ft - lowest_ft, highest_without_landing_flap_ft - height_ft);
}

double Room::margin_ft(double height_ft) const {
  return std::max(margin_with_landing_flap_ft(height_ft), margin_without_landing_flap_ft(height_ft));
}

PlaceInPattern place_of(const FlightState& state) {
  return {state.along_ft,  state.cross_ft, state.heading_rad,        state.height_ft,
          state.speed_fps, state.bank_rad, state.thrust_over_weight, state.flap_deg};
}

Band::Band(const BandRequest& request)
    : request_(std::make_shared<const BandRequest>(request)),
      flight_(std::make_shared<const Flight>(flight_of(request_->airplane, request_->conditions, {}))) {}

Band Band::over(const BandRequest& request, Surety surety, const ShareOut& share_out) {
  Band band(request);
  band.with_spread_ = surety == Surety::nine_in_ten;
  const auto all_rules = edges_of(request);
  for (const auto& rules : all_rules) {
    Edge edge;
    edge.rules = rules;
    band.edges_.push_back(std::move(edge));
  }
  const double wind_kt = wind_sd_kt(request.scatter, request.conditions.wind.gust.value);
  Deviation headwind, crosswind, glide;
  headwind.headwind_kt = wind_kt;
  crosswind.crosswind_kt =
      request.conditions.traffic == Traffic::right ? -wind_kt : wind_kt;  // from the pattern's inside
  glide.glide_relative = request.scatter.glide_relative;
  const std::array<Deviation, 3> deviations = {headwind, crosswind, glide};

  const BandRequest& kept = *band.request_;
  std::vector<Flight> changed;
  if (band.with_spread_) {
    for (const Deviation& deviation : deviations) {
      changed.push_back(flight_of(kept.airplane, kept.conditions, deviation));
    }
  }

  std::vector<std::vector<reach::FinalLeg>> legs(1 + changed.size());  // as given first, then as changed
  share_out(static_cast<int>(legs.size()), [&](int air) {
    const auto i = static_cast<std::size_t>(air);
    legs[i] = final_legs(i == 0 ? *band.flight_ : changed[i - 1], kept, all_rules);
  });

  const int of_one_edge = 2 + static_cast<int>(changed.size());
  const int edges = static_cast<int>(band.edges_.size());
  const ReachGrid coarse = kept.grid.twice_as_coarse();
  // The fine ones first: they take eight times as long.
  share_out(edges * of_one_edge, [&](int piece) {
    const auto number = static_cast<std::size_t>(piece % edges);
    Edge& edge = band.edges_[number];
    const int surface = piece / edges;
    if (surface < 2) {
      const bool fine = surface == 0;
      (fine ? edge.fine : edge.coarse) =
          reach::sweep_edge(*band.flight_, kept, edge.rules, fine ? kept.grid : coarse, legs[0][number]);
      return;
    }
    const auto way = static_cast<std::size_t>(surface - 2);
    edge.changed[way] = reach::sweep_edge(changed[way], kept, edge.rules, coarse, legs[1 + way][number]);
  });
  return band;
}

Band::EdgeHeight Band::at(const Edge& edge, const PlaceInPattern& place, Surety surety) const {
  const auto height = [&](const reach::EdgeSurface& surface) {
    return surface.height_ft(place.along_ft, place.cross_ft, place.heading_rad);
  };
  const double fine = height(edge.fine), coarse = height(edge.coarse);
  // No extrapolation from the two grids: near the gate and the centreline the edge has creases, where twice
  // the fine less the coarse was up to 56 ft worse than the fine grid alone, which elsewhere is within 3 ft.
  EdgeHeight found{fine, std::abs(fine - coarse)};
  if (surety == Surety::nine_in_ten && with_spread_) {
    double squares = 0.0;
    for (const auto& changed : edge.changed) squares += std::pow(height(changed) - coarse, 2);
    const double room = k_nine_in_ten * std::sqrt(squares);
    found.height_ft += edge.rules.kind == EdgeRules::Kind::lowest ? room : -room;
  }
  return found;
}

const Band::Edge& Band::lowest_with(double flap_deg) const {
  constexpr double still_travelling_deg = 1.0;
  const Edge* best = &edges_.front();
  for (const auto& edge : edges_) {
    if (edge.rules.kind == EdgeRules::Kind::lowest && edge.rules.spends == Spends::path &&
        edge.rules.flap_set_deg <= flap_deg + still_travelling_deg &&
        edge.rules.flap_set_deg > best->rules.flap_set_deg) {
      best = &edge;
    }
  }
  return *best;
}

double Band::height_on_final_ft(double along_ft, double flap_deg, double touchdown_ft) const {
  const Edge& edge = lowest_with(flap_deg);
  return edge.fine.final_leg().flown_height_ft(along_ft -
                                               (touchdown_ft - edge.fine.final_leg().touchdown_ft()));
}

Room Band::room(const PlaceInPattern& place, Surety surety) const {
  const Flight& flight = *flight_;
  const Edge& with_flap_out = lowest_with(place.flap_deg);
  const auto ways = reach::settle(flight, *request_, place);
  constexpr double none = 1e9;
  EdgeHeight lowest{none, 0.0}, landing_flap{none, 0.0}, flap_up{-none, 0.0}, flap_out{-none, 0.0};
  const double landing_deg =
      request_->technique.flaps.empty() ? 0.0 : request_->technique.flaps.back().setting_deg;
  std::array<EdgeHeight, 3> highest;
  highest.fill({-none, 0.0});
  for (const auto& way : ways) {
    const double heading = std::max(0.0, way.place.heading_rad - crab_rad()) / k_radians_per_degree;
    const double taught = reach::speed_to_turn_fps(flight, request_->technique, heading);
    const double final_fps = flight.true_fps(request_->technique.final_speed_kt);
    const double energy_ft = (taught * taught - final_fps * final_fps) / (2.0 * k_gravity_fps2);
    const auto geometric = [&](const Edge& edge) {
      EdgeHeight found = at(edge, way.place, surety);
      found.height_ft += way.height_spent_ft - energy_ft;
      if (edge.rules.kind == EdgeRules::Kind::highest) {
        found.height_ft -= lever_comes_late_ft(flight, *request_, edge.rules, way.place, heading);
      }
      return found;
    };
    const auto lower = [&](const Edge& edge, EdgeHeight& least) {
      const EdgeHeight found = geometric(edge);
      if (found.height_ft < least.height_ft) least = found;
    };
    const auto higher = [&](const Edge& edge, EdgeHeight& most) {
      const EdgeHeight found = geometric(edge);
      if (found.height_ft > most.height_ft) most = found;
    };
    for (const auto& edge : edges_) {
      if (edge.rules.kind == EdgeRules::Kind::highest && !edge.fine.final_leg().into_the_box()) continue;
      if (edge.rules.kind == EdgeRules::Kind::lowest) {
        if (&edge == &with_flap_out) lower(edge, lowest);
        if (edge.rules.spends == Spends::flaps) lower(edge, landing_flap);
      } else {
        higher(edge, highest[static_cast<std::size_t>(edge.rules.spends)]);
        const bool without = edge.rules.spends == Spends::path ||
                             (edge.rules.spends == Spends::slip && edge.rules.flap_limit_deg < landing_deg);
        higher(edge, without ? flap_up : flap_out);
      }
    }
  }
  Room room;
  // Where the glide without flaps clears an obstacle only to end beyond the box, it takes the flaps.
  const bool takes_flaps = !with_flap_out.fine.final_leg().into_the_box();
  room.lowest_ft = takes_flaps ? std::max(lowest.height_ft, landing_flap.height_ft) : lowest.height_ft;
  // A mean that no obstacle lets into the box leaves nothing to choose.
  constexpr double closed_by_ft = 1.0;
  room.by_path_ft = highest[0].height_ft > -none ? highest[0].height_ft : room.lowest_ft - closed_by_ft;
  room.by_flaps_ft = std::max(room.by_path_ft, highest[1].height_ft);
  room.by_slip_ft = std::max(room.by_flaps_ft, highest[2].height_ft);
  room.lowest_with_landing_flap_ft = std::max(room.lowest_ft, landing_flap.height_ft);
  room.highest_with_landing_flap_ft = flap_out.height_ft;
  room.highest_without_landing_flap_ft = flap_up.height_ft;
  room.error_ft = lowest.error_ft;
  for (const auto& edge : highest) room.error_ft = std::max(room.error_ft, edge.error_ft);
  return room;
}

std::size_t Band::bytes() const {
  std::size_t bytes = 0;
  for (const auto& edge : edges_) {
    bytes += edge.fine.bytes() + edge.coarse.bytes();
    for (const auto& changed : edge.changed) bytes += changed.bytes();
  }
  return bytes;
}

}  // namespace glidewright

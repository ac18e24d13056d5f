#include "engine/reach/plan_band.hpp"

#include <optional>

namespace glidewright {

BandRequest band_request_of(const PlanRequest& plan, const AllowedMeans& means) {
  BandRequest request;
  request.airplane = plan.airplane;
  request.conditions = plan.conditions;
  request.technique = plan.technique;
  request.scatter = plan.scatter;
  request.box = plan.box;
  request.obstacles = plan.obstacles;
  request.means = means;
  request.region = ReachRegion::pattern(plan.technique.spacing_ft, means);
  return request;
}

PlanBand band_of_plan(const PlanRequest& plan, const Approach& nominal, const AllowedMeans& means,
                      const ShareOut& share_out, const ReachGrid& grid) {
  BandRequest request = band_request_of(plan, means);
  request.grid = grid;
  const Band band = Band::over(request, Surety::nine_in_ten, share_out);
  // What the obstacles ask for shows beside the band without them.
  std::optional<Band> swept_without;
  if (!request.obstacles.empty()) {
    request.obstacles.clear();
    swept_without = Band::over(request, Surety::nine_in_ten, share_out);
  }
  const Band& free = swept_without ? *swept_without : band;
  PlanBand found;
  found.means = means;
  found.obstacle_clearance_ft = request.obstacle_clearance_ft;
  found.along = band_along(band, nominal.trace);
  if (swept_without && !found.along.empty_because.empty() &&
      band_along(free, nominal.trace).empty_because.empty()) {
    found.along.empty_because = "Past these obstacles no way that is taught ends in the box.";
  }
  const auto add = [&](const char* at, const Moment& moment) {
    const PlaceInPattern place = place_of(moment, plan.conditions);
    RoomAtPlace room{at, band.room(place, Surety::mean), band.room(place, Surety::nine_in_ten)};
    const Room without = free.room(place, Surety::nine_in_ten);
    room.raised_by_obstacles_ft = room.sure.lowest_ft - without.lowest_ft;
    room.closed_by_obstacles = without.open() && !room.sure.open();
    found.places.push_back(std::move(room));
  };
  add("abeam", nominal.abeam);
  add("base turn", nominal.base_turn);
  if (nominal.mid_base) add("mid-base", *nominal.mid_base);
  if (nominal.final_turn) add("final turn", *nominal.final_turn);
  if (nominal.half_mile_final) add("half-mile final", *nominal.half_mile_final);
  return found;
}

}  // namespace glidewright

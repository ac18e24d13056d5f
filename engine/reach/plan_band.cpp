#include "engine/reach/plan_band.hpp"

namespace glidewright {

BandRequest band_request_of(const PlanRequest& plan, const AllowedMeans& means) {
  BandRequest request;
  request.airplane = plan.airplane;
  request.conditions = plan.conditions;
  request.technique = plan.technique;
  request.scatter = plan.scatter;
  request.box = plan.box;
  request.means = means;
  request.region = ReachRegion::pattern(plan.technique.spacing_ft, means);
  return request;
}

PlanBand band_of_plan(const PlanRequest& plan, const Approach& nominal, const AllowedMeans& means,
                      const ShareOut& share_out, const ReachGrid& grid) {
  BandRequest request = band_request_of(plan, means);
  request.grid = grid;
  const Band band = Band::over(request, Surety::nine_in_ten, share_out);
  PlanBand found;
  found.means = means;
  found.along = band_along(band, nominal.trace);
  const auto add = [&](const char* at, const Moment& moment) {
    const PlaceInPattern place = place_of(moment, plan.conditions);
    found.places.push_back({at, band.room(place, Surety::mean), band.room(place, Surety::nine_in_ten)});
  };
  add("abeam", nominal.abeam);
  add("base turn", nominal.base_turn);
  if (nominal.mid_base) add("mid-base", *nominal.mid_base);
  if (nominal.final_turn) add("final turn", *nominal.final_turn);
  if (nominal.half_mile_final) add("half-mile final", *nominal.half_mile_final);
  return found;
}

}  // namespace glidewright

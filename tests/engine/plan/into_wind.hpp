#pragma once
// What to plan for: a trainer, taught, on runway 24.

#include "engine/plan/plan.hpp"
#include "engine/plan/taught.hpp"
#include "tests/engine/airplane/trainer_handbook.hpp"

namespace glidewright {

inline PlanRequest into_wind(double wind_kt, double off_runway_deg = 0.0) {
  PlanRequest request;
  request.airplane = fit_airplane(trainer_handbook());
  request.conditions.runway_true_deg = 240.0;
  request.conditions.wind.at_10m = {Degrees{240.0 + off_runway_deg}, Knots{wind_kt}};
  request.conditions.weight_lb = 2200.0;
  request.technique = taught_technique(request.airplane, 2200.0, 0.0);
  return request;
}

}  // namespace glidewright

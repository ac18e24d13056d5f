#include "formats/json_write.hpp"

#include <cmath>
#include <stdexcept>

namespace glidewright {

Json number(double value, int decimals) {
  if (!std::isfinite(value)) throw std::domain_error("a result is not a number");
  if (decimals == 0) return std::llround(value);
  const double scale = std::pow(10.0, decimals);
  const double result = std::round(value * scale) / scale;
  return result == 0.0 ? 0.0 : result;
}

std::string traffic_name(Traffic traffic) {
  return traffic == Traffic::left ? "left" : "right";
}

Json runway_to_json(const Runway& runway, Feet touchdown_point) {
  Json obstacles = Json::array();
  for (const RunwayObstacle& obstacle : runway.obstacles) {
    obstacles.push_back({{"what", obstacle.what},
                         {"before_threshold_ft", number(obstacle.before_threshold_ft, 0)},
                         {"right_of_centreline_ft", number(obstacle.right_ft, 0)},
                         {"top_above_threshold_ft", number(obstacle.top_ft, 0)},
                         {"along_ft", number(-obstacle.before_threshold_ft - touchdown_point.value, 0)}});
  }
  return {{"airfield", runway.airfield},
          {"designator", runway.designator},
          {"threshold_latitude_deg", number(runway.threshold.latitude_deg, 7)},
          {"threshold_longitude_deg", number(runway.threshold.longitude_deg, 7)},
          {"true_bearing_deg", number(runway.true_bearing.value, 2)},
          {"elevation_ft", number(runway.elevation.value, 1)},
          {"length_ft", number(runway.length.value, 0)},
          {"touchdown_point_ft", number(touchdown_point.value, 0)},
          {"position_sd_ft", number(runway.position_sd.value, 0)},
          {"obstacles", std::move(obstacles)}};
}

Json wind_to_json(const WindProfile& wind) {
  return {{"from_true_deg", number(wind.at_10m.from_true.value, 0)},
          {"speed_kt", number(wind.at_10m.speed.value, 1)},
          {"gust_kt", number(wind.gust.value, 1)}};
}

}  // namespace glidewright

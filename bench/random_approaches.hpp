#pragma once
// Approaches of every kind, drawn at random: airplanes, winds, techniques. For measuring the batch against
// the reference; many of them no instructor would fly.

#include <string>
#include <vector>

#include "engine/batch/batch.hpp"
#include "engine/lanes/philox.hpp"
#include "engine/plan/taught.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"

namespace glidewright {

inline Airplane airplane_of_data(const std::string& name) {
  const std::string path = std::string(GLIDEWRIGHT_DATA) + "/airplanes/" + name + ".json";
  return fit_airplane(*read_airplane_json(*read_file(path), path));
}

/// Numbers by counting: draw `i` of scene `n` is the same on every machine.
class Luck {
 public:
  explicit Luck(std::uint64_t scene) : scene_(scene) {}
  double between(double low, double high) {
    const auto four = words_of_flight(k_seed, scene_, next_++);
    return low + (high - low) * static_cast<double>(uniform_of(four.word[0]));
  }
  bool one_in(int many) { return between(0.0, many) < 1.0; }

 private:
  static constexpr std::uint64_t k_seed = 20260101;
  std::uint64_t scene_;
  std::uint32_t next_ = 0;
};

inline Conditions random_conditions(const Airplane& airplane, Luck& luck) {
  Conditions conditions;
  conditions.runway_true_deg = luck.between(0.0, 360.0);
  conditions.weight_lb = luck.between(0.8, 1.0) * airplane.handbook.maximum_weight_lb.value;
  conditions.density_ratio = luck.between(0.85, 1.03);
  conditions.traffic = luck.one_in(2) ? Traffic::right : Traffic::left;
  const auto off_runway = [&] { return Degrees{conditions.runway_true_deg + luck.between(-80.0, 80.0)}; };
  conditions.wind.at_10m = {off_runway(), Knots{luck.between(0.0, 15.0)}};
  conditions.wind.gust = Knots{luck.one_in(3) ? luck.between(3.0, 10.0) : 0.0};
  conditions.wind.power_law_exponent = luck.between(0.08, 0.25);
  if (luck.one_in(4)) conditions.wind.aloft = Wind{off_runway(), Knots{luck.between(0.0, 25.0)}};
  return conditions;
}

inline Technique random_technique(const Airplane& airplane, const Conditions& conditions, Luck& luck) {
  Technique technique = taught_technique(airplane, conditions.weight_lb, conditions.wind.gust.value);
  technique.pattern_height_ft = luck.between(850.0, 1150.0);
  technique.spacing_ft = luck.between(2500.0, 3600.0);
  technique.idle_s_after_abeam = luck.one_in(3) ? luck.between(-4.0, 4.0) : 0.0;
  technique.base_turn_bank_deg = luck.between(20.0, 35.0);
  technique.final_turn_bank_deg = luck.between(20.0, 35.0);
  technique.base_course_deg = luck.one_in(3) ? luck.between(-15.0, 15.0) : 0.0;
  if (luck.one_in(3)) technique.path_by_eye = false;
  if (luck.one_in(3)) technique.slip_when_high = false;
  if (luck.one_in(6)) technique.slip = SlipStep{luck.between(250.0, 500.0), 100.0};
  for (auto& step : technique.flaps) {
    if (luck.one_in(4)) step.only_if_high_enough = false;
    if (luck.one_in(5)) {
      step.when = FlapStep::When::at_height;
      step.height_ft = luck.between(360.0, 700.0);
    }
  }
  return technique;
}

/// `count` flights with the default scatter about one drawn scene.
inline BatchRequest random_scene(const std::vector<Airplane>& airplanes, std::uint64_t scene,
                                 std::int64_t count) {
  Luck luck(scene);
  BatchRequest request;
  request.airplane = &airplanes[scene % airplanes.size()];
  request.conditions = random_conditions(*request.airplane, luck);
  request.technique = random_technique(*request.airplane, request.conditions, luck);
  request.cues_s = {luck.between(4.0, 22.0)};
  request.seed = scene;
  request.count = count;
  return request;
}

/// The demonstration's airplane and technique into 10 kt.
inline BatchRequest demonstration(const Airplane& airplane, std::int64_t count) {
  BatchRequest request;
  request.airplane = &airplane;
  request.conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  request.conditions.runway_true_deg = 243.0;
  request.conditions.weight_lb = airplane.handbook.maximum_weight_lb.value;
  request.technique = taught_technique(airplane, request.conditions.weight_lb, 0.0);
  request.cues_s = {14.0};
  request.count = count;
  return request;
}

}  // namespace glidewright

#include "engine/technique/technique.hpp"

namespace glidewright {

Technique without_rules(Technique technique) {
  technique.path_by_eye = false;
  technique.slip_when_high = false;
  technique.go_around_when_unstable = false;
  for (auto& step : technique.flaps) step.only_if_high_enough = false;
  return technique;
}

}  // namespace glidewright

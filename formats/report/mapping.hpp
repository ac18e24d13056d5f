#pragma once

namespace glidewright::report {

/// Feet to a drawing's units.
struct Mapping {
  double from = 0.0, per_unit = 1.0, origin = 0.0;
  double operator()(double value) const { return origin + (value - from) * per_unit; }
};

}  // namespace glidewright::report

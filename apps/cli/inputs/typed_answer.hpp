#pragma once
// What somebody types to answer a drill.

#include <optional>
#include <string>

#include "engine/drill/score.hpp"

namespace glidewright {

/// "high sure -2400,-900".
struct TypedAnswer {
  Energy said = Energy::on;
  Sureness sureness = Sureness::fairly;
  std::optional<RunwayPoint> mark;
};

/// Words whole or begun, the mark as feet along and across; none where it is not understood.
std::optional<TypedAnswer> read_typed_answer(const std::string& line);

}  // namespace glidewright

#pragma once
// The machine's cores, for the engine's work that can be shared out.

#include "engine/reach/band.hpp"

namespace glidewright {

ShareOut on_all_cores();

}  // namespace glidewright

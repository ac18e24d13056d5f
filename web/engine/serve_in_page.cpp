// A page serves nothing.

#include "apps/cli/commands/commands.hpp"

namespace glidewright {

void add_serve(Program&) {}

}  // namespace glidewright

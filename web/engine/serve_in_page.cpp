// A page serves nothing and keeps no records.

#include "apps/cli/commands/commands.hpp"

namespace glidewright {

void add_serve(Program&) {}
void add_record(Program&) {}

}  // namespace glidewright

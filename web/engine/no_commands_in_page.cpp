// Commands that a page has no use for: it serves nothing, keeps no records, and writes no files of its own.

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/data_folder.hpp"

namespace glidewright {

Result<NamedInRecords> named_in_records(const std::string&, const std::string&, const std::string&) {
  return Error{"--records: a page keeps none"};
}

void add_convert(Program&) {}
void add_demo(Program&) {}
void add_fit(Program&) {}
void add_record(Program&) {}
void add_record_log(Program&) {}
void add_school(Program&) {}
void add_serve(Program&) {}

}  // namespace glidewright

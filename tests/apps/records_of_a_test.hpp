#pragma once
// `record ...` on records in a folder of the test's own.

#include <string>
#include <vector>

#include "tests/apps/program.hpp"

namespace glidewright {

class RecordsOfATest {
 protected:
  ProgramRun record(std::vector<std::string> words, const std::string& file = "records") const {
    words.insert(words.begin(), "record");
    words.insert(words.end(), {"--records", folder.path() + "/" + file});
    return run_program(words);
  }
  ProgramRun record_by(std::vector<std::string> words, const std::string& file = "records") const {
    words.insert(words.end(), {"--by", "Demo Instructor"});
    return record(words, file);
  }

  TemporaryFolder folder;
};

}  // namespace glidewright

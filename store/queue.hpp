#pragma once
// Logs that wait for their debrief: rows that any number of programs take one by one.

#include <optional>
#include <string>
#include <vector>

#include "store/records.hpp"

namespace glidewright {

struct Job {
  enum class State { waiting, taken, done, failed } state = State::waiting;
  long long number = 0;
  long long student = 0;
  std::string log_sha256;  ///< of the bytes as they came
  std::string log_name;
  std::string asked;  ///< how to debrief it: runway, point, wind ... as the caller wrote it
  Stamp stamp;        ///< who asked
  int tries = 0;
  std::string said;  ///< why it failed
  int attempts = 0;  ///< new ones that it filed
  int judged_anew = 0;
  std::optional<double> ended_unix_s;
};
const char* name_of(Job::State state);

struct TakenJob {
  Job job;
  std::string log_bytes;
};

/// Over the connection of these records, which must outlive it.
class Queue {
 public:
  explicit Queue(Records& records);

  /// Kept, bytes and all, when it returns.
  Result<Job> put(long long student, const std::string& log_name, const std::string& log_bytes,
                  const std::string& asked, const Stamp& stamp);
  /// The oldest that nobody works at. It is `worker`'s until `hold_s` from now; whoever has not finished it
  /// by then is taken to be gone. A job that was begun three times without an end has failed.
  Result<std::optional<TakenJob>> take(const std::string& worker, double unix_s, double hold_s = 120.0);
  /// Files the flight and ends the job, both or neither. False where it is no longer the worker's: then
  /// somebody else files it.
  Result<bool> finish(const Job& job, const std::string& worker, const NewFlight& flight, double unix_s);
  Result<bool> fail(const Job& job, const std::string& worker, const std::string& sentence, double unix_s);
  /// A job that failed, once more: as it was asked, or anew.
  std::optional<Error> ask_again(long long job, const std::string& asked, const Stamp& stamp);
  /// Forgets one that failed.
  std::optional<Error> dismiss(long long job, const Stamp& stamp);
  Result<Job> find(long long job);
  /// The newest first.
  Result<std::vector<Job>> of_student(long long student, int at_most = 50);
  /// How many nobody has begun yet.
  Result<int> waiting();

 private:
  Records::Connection& connection_;
};

}  // namespace glidewright

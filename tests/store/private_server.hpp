#pragma once
// A PostgreSQL server of the test's own: in a folder that goes with it, reachable by a socket there and from
// nowhere else.

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/apps/program.hpp"

namespace glidewright {

class PrivateServer {
 public:
  PrivateServer() {
    std::filesystem::permissions(folder_.path(), std::filesystem::perms::all);
    run(fmt::format("initdb -D {0}/cluster -A trust -U postgres -N -E UTF8 --locale=C", folder_.path()));
    start();
  }
  ~PrivateServer() {
    if (running_) std::system(as_its_user(stop_command("immediate")).c_str());
  }
  PrivateServer(const PrivateServer&) = delete;
  PrivateServer& operator=(const PrivateServer&) = delete;

  void start() {
    // Without waiting for the disk: processes are killed here, the machine is not.
    run(fmt::format(
        "pg_ctl -D {0}/cluster -w -l {0}/log -o \"-c listen_addresses='' -c fsync=off -k {0}\" start",
        folder_.path()));
    running_ = true;
  }
  void stop() {
    run(stop_command("fast"));
    running_ = false;
  }
  /// SIGKILL to the server and all that it started, in the middle of whatever they do.
  void kill_all() {
    const std::string pid_file = folder_.path() + "/cluster/postmaster.pid";
    const auto command = fmt::format(
        "p=$(head -n 1 {0}); kill -9 $p $(ps -o pid= --ppid $p); while kill -0 $p 2>/dev/null; do "
        "sleep 0.01; done; rm -f {0}",
        pid_file);
    if (std::system(command.c_str()) != 0) throw std::runtime_error("the server could not be killed");
    running_ = false;
  }
  std::string url() const { return "postgresql:///postgres?host=" + folder_.path() + "&user=postgres"; }

 private:
  static std::string programs() {
    std::vector<std::string> found;
    std::error_code ignored;
    for (const auto& one : std::filesystem::directory_iterator("/usr/lib/postgresql", ignored))
      if (std::filesystem::exists(one.path() / "bin/initdb")) found.push_back(one.path() / "bin");
    if (found.empty()) throw std::runtime_error("PostgreSQL is not installed; scripts/install-packages test");
    return *std::max_element(found.begin(), found.end());
  }
  std::string stop_command(const char* mode) const {
    return fmt::format("pg_ctl -D {0}/cluster -w -m {1} stop", folder_.path(), mode);
  }
  /// The server refuses to be root.
  std::string as_its_user(const std::string& command) const {
    return fmt::format("cd {} && {}{}/{} >/dev/null 2>&1", folder_.path(),
                       geteuid() == 0 ? "runuser -u postgres -- " : "", programs(), command);
  }
  void run(const std::string& command) const {
    if (std::system(as_its_user(command).c_str()) != 0)
      throw std::runtime_error("PostgreSQL: this failed: " + command);
  }

  TemporaryFolder folder_;
  bool running_ = false;
};

}  // namespace glidewright

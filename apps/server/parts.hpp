#pragma once
// What the server is given by the program that runs it; it reads no clock and knows no command line.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "engine/debrief/standard.hpp"
#include "formats/own_drill_json.hpp"
#include "formats/result.hpp"
#include "store/values.hpp"

namespace glidewright {

/// Who may come in, and by which door.
struct Door {
  std::string address = "127.0.0.1";
  int port = 0;                  ///< 0: any that is free
  std::string certificate_file;  ///< PEM, with its chain; empty: no TLS of our own
  std::string key_file;
  std::vector<std::string> host_names;  ///< by which it may be called besides this machine's own
  bool behind_proxy = false;            ///< a reverse proxy on this machine does the TLS
  bool sign_in = false;                 ///< everybody says who they are; always so but on loopback
};

/// What the records know of a log's debrief: airplane, airfield and standard where it names them, and what
/// was told of the same log before.
struct KnownToRecords {
  std::optional<FleetItem> airplane;
  std::optional<FleetItem> airfield;
  std::optional<KeptStandard> standard;
  std::string designator;   ///< of the airfield's runway; empty where it has one
  std::string height_unit;  ///< "ft" or "m"; empty where nobody said
  std::string marks;        ///< a file glidewright.marks/1; empty where nobody marked anything
};

class Records;

struct ServerParts {
  std::string page_folder;
  std::string records;  ///< a file or postgresql://...; empty: the page alone
  std::function<double()> now_unix_s;
  std::function<Result<Standard>(const std::string& id)> standard;  ///< empty id: the usual one
  /// `asked`: JSON as the page sent it; see docs/schema/log-asked.json.
  std::function<Result<NewFlight>(const std::string& log_name, const std::string& log_bytes,
                                  const std::string& asked, const KnownToRecords& known)>
      debrief;
  /// What is wrong with `asked`, before anything is kept; empty where nothing is.
  std::function<std::string(const std::string& asked)> wrong_with_asked;
  /// What the logs filed under an airplane say of its glide (docs/schema/fit.json); kept as its next version
  /// by whom `keep` names, where it names anybody.
  std::function<Result<Json>(Records& records, const FleetItem& airplane, std::optional<double> weight_lb,
                             const Stamp* keep)>
      fit_airplane;
  std::function<Result<OwnDrill>(Records& records, long long student, std::uint64_t seed, std::size_t count)>
      own_drill;
};

}  // namespace glidewright

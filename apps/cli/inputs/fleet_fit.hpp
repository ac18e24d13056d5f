#pragma once
// An airplane's glide from all logs that are filed under it, whoever flew them.

#include <string>

#include "apps/cli/commands/fit.hpp"
#include "store/records.hpp"

namespace glidewright {

struct FleetFit {
  FitReport report;
  std::string content;         ///< the fitted profile
  bool known_already = false;  ///< the newest version says the same
};

/// Begins anew from the last profile that a person gave. An error where the logs tell too little to change
/// anything that anybody could see.
Result<FleetFit> fit_from_filed(Records& records, const FleetItem& airplane, const FitAir& air);

enum class KeptFit { as_version, known_already };
/// Keeps it as the airplane's next version, and writes into the report where it stands.
Result<KeptFit> keep_fit(Records& records, const FleetItem& airplane, FleetFit& fit, const Stamp& stamp);

}  // namespace glidewright

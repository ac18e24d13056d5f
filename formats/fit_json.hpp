#pragma once
// What `fit` found, as JSON.

#include <optional>
#include <string>
#include <vector>

#include "engine/calibration/glide_estimates.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

/// How one file was used.
struct FittedLog {
  struct LeftOut {
    std::string reason;
    int glides = 0;
  };
  std::string file;
  std::string kind;  ///< "table" or "panel"
  int found = 0;     ///< glides in it
  std::vector<LeftOut> left_out;
  std::vector<std::string> notes;
};

/// An airplane before and after.
struct FitReport {
  std::string airplane_id;
  std::string airplane_name;
  double weight_lb = 0.0;  ///< for which the estimates hold
  std::vector<FittedLog> logs;
  std::vector<GlideLog> glides;  ///< those used, in the order of `logs`
  GlideFit fit;
  Handbook profile;  ///< the fitted one
  std::vector<std::string> assumed;
  std::optional<std::string> written;  ///< the file
};

/// A quantity before and after the glides; unit in the key.
struct BeforeAndAfter {
  std::string key;
  std::string words;
  std::string unit;
  int decimals = 0;
  Estimate before;
  Estimate after;
};

/// Best glide ratio and where the glide is flattest, then sink at approach speed for each flap setting.
std::vector<BeforeAndAfter> estimates(const FitReport& report);

Json fit_to_json(const FitReport& report);

}  // namespace glidewright

#include "apps/cli/inputs/runway_data.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "formats/file.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

/// "06", "24 or 24L".
std::string designators_of(const std::vector<RunwayEnd>& ends) {
  std::string list;
  for (std::size_t i = 0; i < ends.size(); ++i)
    list += (i == 0 ? "" : i + 1 == ends.size() ? " or " : ", ") + ends[i].runway.designator;
  return list;
}

/// "6" and "06" are the same.
std::string without_leading_zero(const std::string& designator) {
  return designator.size() > 1 && designator.front() == '0' ? designator.substr(1) : designator;
}

}  // namespace

Result<std::string> runway_data_file() {
  if (const auto file = environment("GLIDEWRIGHT_RUNWAYS"); !file.empty()) return file;
  if (const auto data = environment("XDG_DATA_HOME"); !data.empty()) return data + "/glidewright/runways.csv";
  if (const auto home = environment("HOME"); !home.empty())
    return home + "/.local/share/glidewright/runways.csv";
  return Error{"there is no home folder for runway data; set GLIDEWRIGHT_RUNWAYS to a file"};
}

Result<std::string> runway_data() {
  const auto file = runway_data_file();
  if (!file) return file.error();
  auto bytes = read_file(*file);
  if (!bytes)
    return Error{bytes.error().sentence +
                 "; no runway data is imported yet: glidewright runways import runways.csv"};
  return bytes;
}

Result<Runway> find_runway(const std::string& name, std::vector<std::string>& assumed) {
  const auto bytes = runway_data();
  if (!bytes) return bytes.error();
  const std::string ident = name.substr(0, name.find('/')), designator = name.substr(name.find('/') + 1);
  const auto runways = runways_of(*bytes, "runway data", ident);
  if (!runways) return runways.error();
  const auto named = [&](const std::string& other) {
    return without_leading_zero(other) == without_leading_zero(designator);
  };
  const auto unusable = std::find_if(runways->left_out.begin(), runways->left_out.end(),
                                     [&](const LeftOutEnd& end) { return named(end.designator); });
  const auto& ends = runways->ends;
  const auto found = std::find_if(ends.begin(), ends.end(),
                                  [&](const RunwayEnd& end) { return named(end.runway.designator); });
  if (found == ends.end() && unusable != runways->left_out.end())
    return Error{
        fmt::format("{}/{} of the runway data cannot be used: {}; give it as "
                    "lat,lon,true-bearing,elevation-ft,length-ft",
                    unusable->airfield, shown(unusable->designator), unusable->reason)};
  if (ends.empty())
    return Error{
        fmt::format("no runway of '{}' that can be used is in the runway data; give it as "
                    "lat,lon,true-bearing,elevation-ft,length-ft, or search: glidewright runways search {}",
                    shown(ident), shown(ident.substr(0, 2)))};
  if (found == ends.end())
    return Error{
        fmt::format("{} has no runway '{}'; expected {}", ident, shown(designator), designators_of(ends))};
  assumed.insert(assumed.end(), found->notes.begin(), found->notes.end());
  return found->runway;
}

}  // namespace glidewright

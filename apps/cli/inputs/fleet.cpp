#include "apps/cli/inputs/fleet.hpp"

#include <fmt/format.h>

#include "formats/airplane_json.hpp"
#include "formats/json_write.hpp"
#include "formats/runway_json.hpp"

namespace glidewright {

Result<AirplaneFile> airplane_file_of(const FleetItem& airplane) {
  const FleetVersion& now = airplane.versions.back();
  auto handbook = read_airplane_json(now.content, airplane.name);
  if (!handbook) return handbook.error();
  handbook->id = airplane.name;
  handbook->name = airplane.name + ", " + handbook->name;
  return AirplaneFile{airplane.name, now.content, std::move(*handbook), airplane.uid, now.sha256};
}

Result<Runway> runway_of(const FleetItem& airfield, const std::string& designator) {
  const Json list = Json::parse(airfield.versions.back().content);
  std::string known;
  for (const Json& one : list) {
    auto runway = read_runway_json(one.dump(), airfield.name);
    if (!runway) return runway.error();
    if (runway->designator == designator || (designator.empty() && list.size() == 1)) return runway;
    known += (known.empty() ? "" : ", ") + runway->designator;
  }
  return Error{fmt::format("--runway {}{}{}: expected one of its runways: {}", airfield.name,
                           designator.empty() ? "" : "/", designator, known)};
}

Result<std::optional<Runway>> find_fleet_runway(Records& records, const std::string& name) {
  // The whole first: a name may have a stroke in it.
  const auto slash = name.rfind('/');
  for (const bool split : {false, true}) {
    if (split && slash == std::string::npos) break;
    const auto airfield = records.fleet_named(FleetKind::airfield, split ? name.substr(0, slash) : name);
    if (!airfield) return airfield.error();
    if (!*airfield) continue;
    const auto runway = runway_of(**airfield, split ? name.substr(slash + 1) : std::string());
    if (!runway) return runway.error();
    return std::optional<Runway>(*runway);
  }
  return std::optional<Runway>();
}

Result<std::optional<AirplaneFile>> find_fleet_airplane(Records& records, const std::string& name) {
  const auto airplane = records.fleet_named(FleetKind::airplane, name);
  if (!airplane) return airplane.error();
  if (!*airplane) return std::optional<AirplaneFile>();
  auto file = airplane_file_of(**airplane);
  if (!file) return file.error();
  return std::optional<AirplaneFile>(std::move(*file));
}

Result<NamedInRecords> named_in_records(const std::string& records, const std::string& airplane,
                                        const std::string& runway) {
  auto opened = Records::open(records, Records::Opening::existing);
  if (!opened) return opened.error();
  DebriefOptions named;
  named.airplane = airplane;
  named.runway = runway;
  if (const auto failed = look_up_in_fleet(*opened, named)) return *failed;
  return NamedInRecords{std::move(named.fleet_airplane), named.fleet_runway};
}

std::optional<Error> look_up_in_fleet(Records& records, DebriefOptions& options) {
  if (!options.airplane.empty()) {
    auto airplane = find_fleet_airplane(records, options.airplane);
    if (!airplane) return airplane.error();
    options.fleet_airplane = std::move(*airplane);
  }
  if (!options.runway.empty()) {
    const auto runway = find_fleet_runway(records, options.runway);
    if (!runway) return runway.error();
    options.fleet_runway = *runway;
  }
  return std::nullopt;
}

}  // namespace glidewright

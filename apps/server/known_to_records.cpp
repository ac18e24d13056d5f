#include "apps/server/known_to_records.hpp"

#include <fmt/format.h>

#include "formats/json_write.hpp"

namespace glidewright {
namespace {

std::string text_in(const Json& object, const char* name) {
  const auto found = object.find(name);
  return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

Result<std::optional<FleetItem>> known(Records& records, FleetKind kind, const std::string& name) {
  auto item = records.fleet_named(kind, name);
  if (!item || *item) return item;
  return Error{fmt::format("no {} of these records is called \"{}\"", name_of(kind), name)};
}

}  // namespace

Result<KnownToRecords> known_to_records(Records& records, const std::string& asked) {
  KnownToRecords named;
  const Json object = Json::parse(asked, nullptr, false);
  if (!object.is_object()) return named;
  if (const auto name = text_in(object, "fleet_airplane"); !name.empty()) {
    auto airplane = known(records, FleetKind::airplane, name);
    if (!airplane) return airplane.error();
    named.airplane = std::move(*airplane);
  }
  if (const auto standard = text_in(object, "standard"); !standard.empty()) {
    auto kept = records.kept_standard(standard);
    if (!kept) return kept.error();
    named.standard = std::move(*kept);
  }
  const std::string name = text_in(object, "airfield");
  if (name.empty()) return named;
  // The whole first: a name may have a stroke in it.
  auto airfield = records.fleet_named(FleetKind::airfield, name);
  if (!airfield) return airfield.error();
  const auto slash = name.rfind('/');
  if (!*airfield && slash != std::string::npos) {
    named.designator = name.substr(slash + 1);
    airfield = known(records, FleetKind::airfield, name.substr(0, slash));
  } else if (!*airfield) {
    airfield = known(records, FleetKind::airfield, name);
  }
  if (!airfield) return airfield.error();
  named.airfield = std::move(*airfield);
  return named;
}

Result<KnownToRecords> known_to_records(Records& records, const Job& job, const std::string& log_bytes) {
  auto known = known_to_records(records, job.asked);
  if (!known) return known;
  auto unit = records.height_unit_told(log_bytes, job.log_name);
  if (!unit) return unit.error();
  known->height_unit = std::move(*unit);
  auto marks = records.marks_told(job.student, log_bytes, job.log_name);
  if (!marks) return marks.error();
  known->marks = std::move(*marks);
  return known;
}

}  // namespace glidewright

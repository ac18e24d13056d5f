#include "apps/cli/inputs/fleet_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "apps/cli/inputs/fleet.hpp"
#include "engine/calibration/fitted_profile.hpp"
#include "formats/airplane_json.hpp"
#include "formats/json_write.hpp"

namespace glidewright {
namespace {

std::string counted(int count, const std::string& one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

/// With fewer glides one wrong reading is believed. Common practice, no source.
constexpr int k_fewest_glides = 3;
/// What narrows the drag by less than this changes no plan that anybody could see. Common practice, no
/// source.
constexpr double k_least_narrowing = 0.05;
constexpr int k_all = 1000000000;

/// A log without its name: that may say who flew, and stays where the flight is kept.
std::string nameless(const std::string& sha256) {
  return "log " + sha256.substr(0, 12);
}

/// The last one that a person gave: every fit starts from it with all logs, so that none counts twice.
const FleetVersion& given_by_a_person(const FleetItem& airplane) {
  const auto last = std::find_if(airplane.versions.rbegin(), airplane.versions.rend(),
                                 [](const FleetVersion& one) { return !one.fitted; });
  return last == airplane.versions.rend() ? airplane.versions.front() : *last;
}

Result<FitReport> report_begun(const FleetItem& airplane, const FleetVersion& given) {
  FleetItem as_given = airplane;
  as_given.versions = {given};
  const auto file = airplane_file_of(as_given);
  if (!file) return file.error();
  FitReport report;
  report.airplane_id = airplane.name;
  report.airplane_name = file->handbook.name;
  report.profile = file->handbook;
  return report;
}

/// Logs that hold no glides are the most of them: they are counted by their reason and refused one by one
/// only by `fit`.
struct LogsRead {
  int filed = 0;
  std::map<std::string, int> not_used;  ///< how many for which reason
};

Result<LogsRead> read_filed_logs(Records& records, const FleetItem& airplane, const FitAir& air,
                                 const PanelSetting& setting, FitReport& report) {
  const auto flown = records.latest_attempts_in(airplane.uid, k_all);
  if (!flown) return flown.error();
  std::set<std::string> logs;
  for (const FleetAttempt& one : *flown) logs.insert(one.log_sha256);
  const Airplane as_given = fit_airplane(report.profile);
  LogsRead read;
  read.filed = static_cast<int>(logs.size());
  for (const std::string& sha : logs) {
    const auto counted = report.profile.fitted ? report.profile.fitted->logs : std::vector<FittedFrom::Log>{};
    if (std::any_of(counted.begin(), counted.end(), [&](const auto& one) { return one.sha256 == sha; })) {
      ++read.not_used["the given profile was fitted from it already"];
      continue;
    }
    auto bytes = records.original(sha);
    if (!bytes) return bytes.error();
    auto unit = records.height_unit_told(*bytes, nameless(sha));
    if (!unit) return unit.error();
    FitAir as_told = air;
    as_told.height_unit = std::move(*unit);
    auto glides = read_glides(std::move(*bytes), nameless(sha), as_told, setting, as_given);
    if (!glides) {
      ++read.not_used["no steady idle glide with its airspeed in it"];
      continue;
    }
    report.logs.push_back(std::move(glides->about));
    report.glides.push_back(std::move(glides->glides));
  }
  return read;
}

std::string not_used_words(const LogsRead& read) {
  std::string words;
  for (const auto& [reason, count] : read.not_used)
    words += fmt::format("{}{}: {}", words.empty() ? "" : "; ", counted(count, "log"), reason);
  return words;
}

int glides_in(const FitReport& report) {
  int glides = 0;
  for (const GlideLog& log : report.glides) glides += static_cast<int>(log.glides.size());
  return glides;
}

std::optional<Error> too_little(const FleetItem& airplane, const FitReport& report, const LogsRead& read) {
  if (read.filed == 0)
    return Error{fmt::format("{}: nothing is filed under it; record file --airplane '{}' files a flight",
                             airplane.name, airplane.name)};
  if (const int glides = glides_in(report); glides < k_fewest_glides)
    return Error{fmt::format(
        "{}: {} in {} filed under it; at least {} steady idle glides with their airspeed were expected. {}",
        airplane.name, glides == 0 ? "no glide can be used" : counted(glides, "glide") + " only",
        counted(read.filed, "log"), k_fewest_glides, not_used_words(read))};
  return std::nullopt;
}

std::optional<Error> told_too_little(const FleetItem& airplane, const FitReport& report) {
  const double before = drag_sd(report.fit.before), after = report.profile.fitted->drag_sd;
  if (after < (1.0 - k_least_narrowing) * before) return std::nullopt;
  return Error{fmt::format(
      "{}: {} would tell its drag to {:.1f} %, and the profile alone does to {:.1f} %: too little to change "
      "anything",
      airplane.name, counted(glides_in(report), "glide"), 100.0 * after, 100.0 * before)};
}

}  // namespace

Result<FleetFit> fit_from_filed(Records& records, const FleetItem& airplane, const FitAir& air) {
  const FleetVersion& given = given_by_a_person(airplane);
  auto report = report_begun(airplane, given);
  if (!report) return report.error();
  const auto setting = read_panel_setting(air, report->profile, report->assumed);
  if (!setting) return setting.error();
  auto read = read_filed_logs(records, airplane, air, *setting, *report);
  if (!read) return read.error();
  if (const auto refused = too_little(airplane, *report, *read)) return *refused;
  const Handbook handbook = report->profile;
  report->weight_lb = setting->weight_lb;
  report->fit = fit_glides(belief_from_handbook(handbook), report->glides);
  report->profile = fitted_profile(handbook, report->fit, report->glides);
  if (const auto refused = told_too_little(airplane, *report)) return *refused;
  if (const auto problems = check(report->profile); !problems.empty())
    return Error{fmt::format("{}: the fitted numbers do not go together: {}", airplane.name,
                             problems.front().sentence)};
  const std::string content = write_fitted_airplane_json(given.content, report->profile);
  if (!read->not_used.empty()) report->assumed.push_back("not used: " + not_used_words(*read));
  const bool known = Json::parse(content).dump() == airplane.versions.back().content;
  return FleetFit{std::move(*report), content, known};
}

Result<KeptFit> keep_fit(Records& records, const FleetItem& airplane, FleetFit& fit, const Stamp& stamp) {
  const auto written = [&](std::size_t version) {
    fit.report.written = fmt::format("{}, version {}", airplane.name, version);
  };
  if (fit.known_already) {
    written(airplane.versions.size());
    return KeptFit::known_already;
  }
  const std::string reason = fmt::format("fitted from {} of {}", counted(glides_in(fit.report), "glide"),
                                         counted(static_cast<int>(fit.report.logs.size()), "log"));
  const auto kept = records.change_in_fleet(FleetKind::airplane, airplane.number, fit.content, reason, stamp,
                                            Records::From::logged_glides);
  if (!kept) return kept.error();
  written(kept->versions.size());
  return KeptFit::as_version;
}

}  // namespace glidewright

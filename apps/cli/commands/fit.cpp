#include "apps/cli/commands/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/log_file.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/fit_text.hpp"
#include "engine/calibration/fitted_profile.hpp"
#include "engine/calibration/glides_in_panel.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"
#include "formats/glide_table.hpp"
#include "formats/sha256.hpp"
#include "formats/track_log.hpp"
#include "formats/unpack.hpp"

namespace glidewright {
namespace {

/// Air that rose or sank through all of one flight, and an airspeed indicator nobody calibrated: common
/// practice, no source.
constexpr double k_flight_air_sd_fpm = 30.0;
constexpr double k_panel_airspeed_sd_kt = 2.0;

struct FitOptions {
  std::vector<std::string> logs;
  std::string airplane;
  FitAir air;
  std::string write;
  bool force = false;
  bool json = false;
};

void leave_out_what_cannot_be_used(GlidesRead& log, const Airplane& airplane) {
  std::erase_if(log.glides.glides, [&](const LoggedGlide& glide) {
    const std::string reason = why_not_used(airplane, glide);
    if (reason.empty()) return false;
    auto& left_out = log.about.left_out;
    auto at =
        std::find_if(left_out.begin(), left_out.end(), [&](const auto& one) { return one.reason == reason; });
    if (at == left_out.end()) at = left_out.insert(at, {reason, 0});
    ++at->glides;
    return true;
  });
}

std::optional<Error> read_panel_glides(const std::string& bytes, const FitAir& air,
                                       const PanelSetting& setting, const Airplane& airplane,
                                       GlidesRead& log) {
  std::optional<CsvMapping> mapping;
  if (!air.columns.empty()) {
    auto columns = read_columns(air.columns);
    if (!columns) return columns.error();
    mapping = *std::move(columns);
  }
  const auto panel =
      read_panel(bytes, log.about.file, mapping ? &*mapping : nullptr, told_height_unit(air.height_unit));
  if (!panel) return panel.error();
  auto found = glides_in_panel(*panel, airplane, setting);
  if (!found.none_because.empty()) return Error{log.about.file + ": " + found.none_because};
  log.about.kind = "panel";
  log.about.notes = std::move(found.notes);
  if (!air.altimeter_hpa && !air.altimeter_inhg)
    log.about.notes.push_back("altimeter setting taken as 1013 hPa");
  log.glides.glides = std::move(found.glides);
  log.glides.airspeed_offset_sd_kt = k_panel_airspeed_sd_kt;
  log.glides.vertical_air_sd_fpm = k_flight_air_sd_fpm;
  return std::nullopt;
}

}  // namespace

Result<GlidesRead> read_glides(std::string file_bytes, const std::string& file, const FitAir& air,
                               const PanelSetting& setting, const Airplane& airplane) {
  const auto content = unpack_where_packed(std::move(file_bytes), file);
  if (!content) return content.error();
  const auto& bytes = content->bytes;
  GlidesRead log;
  log.about.file = log.glides.file = file;
  log.glides.sha256 = sha256_hex(bytes);
  if (air.columns.empty() && is_glide_table(bytes)) {
    auto table = read_glide_table(bytes, content->name, {setting.weight_lb});
    if (!table) return table.error();
    log.about.kind = "table";
    log.about.notes = std::move(table->notes);
    log.glides.glides = std::move(table->glides);
  } else if (const auto error = read_panel_glides(bytes, air, setting, airplane, log)) {
    return air.columns.empty()
               ? Error{error->sentence +
                       "; a table of glides would name columns such as cas_kt, sink_fpm, flap_deg, weight_lb"}
               : *error;
  }
  log.about.notes.insert(log.about.notes.end(), content->notes.begin(), content->notes.end());
  log.about.found = static_cast<int>(log.glides.glides.size());
  leave_out_what_cannot_be_used(log, airplane);
  if (!log.glides.glides.empty()) return log;
  std::string reasons;
  for (const auto& one : log.about.left_out) reasons += fmt::format("; {} are {}", one.glides, one.reason);
  return Error{fmt::format("{}: none of its {} glides can be used{}", file, log.about.found, reasons)};
}

namespace {

/// A log that was counted before would make the numbers look surer than they are.
std::optional<Error> counted_twice(const Handbook& handbook, const std::vector<GlideLog>& logs) {
  for (std::size_t i = 0; i < logs.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (logs[i].sha256 == logs[j].sha256)
        return Error{
            fmt::format("{} is the same log as {}; expected each log once", logs[i].file, logs[j].file)};
    }
    if (!handbook.fitted) continue;
    for (const auto& before : handbook.fitted->logs) {
      if (before.sha256 == logs[i].sha256)
        return Error{fmt::format("{}: this profile was fitted from that log already; expected a new one",
                                 logs[i].file)};
    }
  }
  return std::nullopt;
}

}  // namespace

Result<PanelSetting> read_panel_setting(const FitAir& options, const Handbook& handbook,
                                        std::vector<std::string>& assumed) {
  for (const auto& error :
       {outside(options.weight_lb, k_weight_range), outside(options.temperature_c, k_temperature_range),
        outside(options.flap_deg, {"--flap-deg", " deg", 0.0, 60.0})}) {
    if (error) return *error;
  }
  const auto altimeter = read_altimeter(options.altimeter_hpa, options.altimeter_inhg);
  if (!altimeter) return altimeter.error();
  PanelSetting setting;
  setting.weight_lb = options.weight_lb.value_or(handbook.maximum_weight_lb.value);
  setting.altimeter_hpa = altimeter->value_or(setting.altimeter_hpa);
  setting.temperature_c = options.temperature_c.value_or(setting.temperature_c);
  setting.flap_deg = options.flap_deg.value_or(0.0);
  if (!options.weight_lb)
    assumed.push_back(fmt::format("maximum weight, {:.0f} lb, where no log names one", setting.weight_lb));
  return setting;
}

namespace {

std::optional<Error> write_profile(const FitOptions& options, const AirplaneFile& file,
                                   const Handbook& profile) {
  if (const auto problems = check(profile); !problems.empty()) {
    return Error{fmt::format("{} is not written, for the fitted numbers do not go together: {}",
                             options.write, problems.front().sentence)};
  }
  const std::string bytes = write_fitted_airplane_json(file.bytes, profile);
  if (options.force) return write_file_atomically(options.write, bytes);
  std::error_code ignored;
  if (std::filesystem::exists(options.write, ignored))
    return Error{options.write + ": is there already; --force replaces it"};
  return write_new_file_atomically(options.write, bytes);
}

Result<FitReport> fit(const FitOptions& options) {
  FitReport report;
  const auto file = find_airplane_file(airplane_or_generic(options.airplane, report.assumed));
  if (!file) return file.error();
  const auto setting = read_panel_setting(options.air, file->handbook, report.assumed);
  if (!setting) return setting.error();
  const Airplane airplane = fit_airplane(file->handbook);
  for (const auto& name : options.logs) {
    auto bytes = read_file(name);
    if (!bytes) return bytes.error();
    auto log = read_glides(std::move(*bytes), name, options.air, *setting, airplane);
    if (!log) return log.error();
    report.logs.push_back(std::move(log->about));
    report.glides.push_back(std::move(log->glides));
  }
  if (const auto error = counted_twice(file->handbook, report.glides)) return *error;

  report.airplane_id = file->handbook.id;
  report.airplane_name = file->handbook.name;
  report.weight_lb = setting->weight_lb;
  report.fit = fit_glides(belief_from_handbook(file->handbook), report.glides);
  report.profile = fitted_profile(file->handbook, report.fit, report.glides);
  if (options.write.empty()) return report;
  if (report.glides.empty()) return Error{"--write has nothing to write: no logged glides were given"};
  if (const auto error = write_profile(options, *file, report.profile)) return *error;
  report.written = options.write;
  return report;
}

ExitCode run(const FitOptions& options) {
  const auto report = fit(options);
  if (!report) return input_is_at_fault(report.error());
  if (options.json) {
    write_json(fit_to_json(*report));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(fit_text(*report, page), page));
  }
  return ExitCode::done;
}

}  // namespace

void add_fit_air(const Command& command, FitAir& air) {
  command
      .add_option("--columns", air.columns, "how to read the columns of panel logs: debrief --show-columns")
      .type_name("FILE");
  command.add_option("--weight-lb", air.weight_lb, "where a log names none; else the maximum")
      .type_name("LB");
  command.add_option("--flap-deg", air.flap_deg, "for panel logs without flaps; else up").type_name("DEG");
  command.add_option("--temperature-c", air.temperature_c, "for panel logs without it; else 15")
      .type_name("C");
  add_altimeter_options(command, air.altimeter_hpa, air.altimeter_inhg,
                        "as set in flight, for panel logs; else 1013.25");
}

void add_fit(Program& program) {
  const auto options = std::make_shared<FitOptions>();
  const auto command =
      program.add_command("fit", "narrow what is known of an airplane's glide from its own logged glides");
  command.add_option(
      "GLIDES", options->logs,
      "tables of steady idle glides, or panel logs (CSV), known by their columns; without any, what "
      "the profile alone says");
  command.add_option("--airplane", options->airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  add_fit_air(command, options->air);
  add_height_unit_option(command, options->air.height_unit);
  const auto write =
      command.add_option("--write", options->write, "the fitted profile, for --airplane of any command")
          .type_name("FILE");
  command.add_flag("--force", options->force, "replace FILE where it is there").needs(write);
  add_json_flag(command, options->json);
  add_examples(command,
               "  glidewright fit --airplane demo-trainer\n"
               "  glidewright fit tests/data/flights/glide.csv --airplane demo-trainer\n"
               "  glidewright fit tests/data/flights/F08/F08_avionics.csv --airplane demo-trainer "
               "--weight-lb 2300 --json\n"
               "With --write club.json it leaves a profile for brief --airplane club.json. A table has a "
               "header row: cas_kt\n"
               "or ias_kt; sink_fpm, glide_ratio or glide_angle_deg; and where known flap_deg, weight_lb, "
               "altitude_ft with\n"
               "oat_c or density_ratio, bank_deg, slip (none, full). Airspeed is taken as calibrated. From a "
               "panel log come\n"
               "its steady stretches at idle, wings level.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

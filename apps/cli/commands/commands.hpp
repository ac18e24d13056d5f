#pragma once
// The commands: each adds itself and its options to the program.

#include <optional>
#include <string>

#include "apps/cli/arguments.hpp"
#include "apps/cli/exit_code.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

void add_brief(Program& program);
void add_band(Program& program);
void add_debrief(Program& program);
void add_desk(Program& program);
void add_drill(Program& program);
void add_fly(Program& program);
void add_fit(Program& program);
void add_convert(Program& program);
void add_polar(Program& program);
void add_readiness(Program& program);
void add_record(Program& program);
void add_record_log(Program& program);
void add_runways(Program& program);
void add_school(Program& program);
void add_demo(Program& program);
void add_serve(Program& program);

// Shared by them.
/// "--metar".
void add_metar_option(const Command& command, std::string& metar);
/// "--height-unit", of a command that reads track logs.
void add_height_unit_option(const Command& command, std::string& height_unit);
/// "--records", for the school's own airplanes and airfields.
void add_fleet_option(const Command& command, std::string& records);
/// All that a plan is made from: --runway, which it needs, wind or report, and the rest of the setting.
void add_plan_options(const Command& command, SettingOptions& options);
void add_setting_options(const Command& command, SettingOptions& options);
/// In hectopascals or in inches, not both.
void add_altimeter_options(const Command& command, std::optional<double>& hpa, std::optional<double>& inhg,
                           const std::string& help);
Option add_json_flag(const Command& command, bool& json);
void add_examples(const Command& command, const std::string& examples);
/// Says the sentence on standard error.
ExitCode input_is_at_fault(const Error& error);
void write_json(const Json& object);
/// Writes one sentence, wrapped, to standard output.
ExitCode say(const std::string& sentence);
/// "--records", `help` with what it is.
void add_records_option(const Command& command, std::string& records, const std::string& help);
/// "--by".
void add_by_option(const Command& command, std::string& by);

}  // namespace glidewright

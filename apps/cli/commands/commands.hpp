#pragma once
// The commands: each adds its options to the program and leaves in `chosen` what is to be done when it was
// named.

#include <CLI/CLI.hpp>
#include <functional>
#include <string>

#include "apps/cli/exit_code.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "formats/json_write.hpp"

namespace glidewright {

using Chosen = std::function<ExitCode()>;

void add_brief(CLI::App& program, Chosen& chosen);
void add_debrief(CLI::App& program, Chosen& chosen);
void add_fly(CLI::App& program, Chosen& chosen);
void add_demo(CLI::App& program, Chosen& chosen);

// Shared by them.
void add_setting_options(CLI::App& command, SettingOptions& options);
void add_json_flag(CLI::App& command, bool& json);
void add_examples(CLI::App& command, const std::string& examples);
/// Says the sentence on standard error.
ExitCode input_is_at_fault(const Error& error);
void write_json(const Json& object);

}  // namespace glidewright

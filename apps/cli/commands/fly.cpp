#include <fmt/format.h>

#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/fly_text.hpp"
#include "engine/plan/limits.hpp"

namespace glidewright {
namespace {

struct FlyOptions {
  SettingOptions setting;
  std::optional<double> base_turn_s;
  bool trace = false;
  bool json = false;
};

/// The model flies whatever it is told; where brief would offer no cue, that is said beside the numbers.
std::vector<std::string> cautions(const FlownApproach& flown) {
  const RunwayFrame frame(flown.runway, flown.touchdown_point);
  PlanRequest request;
  request.airplane = flown.airplane;
  request.conditions = flown.conditions;
  request.technique = flown.technique;
  request.threshold_along_ft = frame.threshold_along_ft();
  request.runway_end_along_ft = frame.runway_end_along_ft();
  std::vector<std::string> cautions;
  for (const auto& refusal : refusals_before_flying(request)) {
    cautions.push_back("No plan would be offered: " + refusal);
  }
  return cautions.empty() ? cautions_before_flying(request) : cautions;
}

Result<FlownApproach> fly_once(const FlyOptions& options) {
  if (auto error = outside(options.base_turn_s, {"--base-turn-s", " s", -30.0, 120.0})) return *error;
  auto setting = read_setting(options.setting);
  if (!setting) return setting.error();
  FlownApproach flown;
  flown.runway = setting->runway;
  flown.touchdown_point = setting->touchdown_point;
  flown.airplane = setting->airplane;
  flown.conditions = setting->conditions;
  flown.technique = setting->technique;
  flown.assumed = setting->assumed;
  if (options.base_turn_s) {
    flown.technique.base_turn_s_after_abeam = *options.base_turn_s;
  } else if (options.setting.technique.empty()) {
    flown.assumed.push_back(
        fmt::format("base turn {:.0f} s past abeam", flown.technique.base_turn_s_after_abeam));
  }
  flown.approach = fly(flown.airplane, flown.conditions, flown.technique, {},
                       {.trace = options.trace ? Trace::every_decision : Trace::none});
  flown.cautions = cautions(flown);
  return flown;
}

ExitCode run(const FlyOptions& options) {
  const auto flown = fly_once(options);
  if (!flown) return input_is_at_fault(flown.error());
  if (options.json) {
    write_json(fly_to_json(*flown));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(fly_text(*flown, page), page));
  }
  return ExitCode::done;
}

}  // namespace

void add_fly(Program& program) {
  const auto options = std::make_shared<FlyOptions>();
  const auto command = program.add_command("fly", "fly one approach by the model, and say what came out");
  command
      .add_option("--base-turn-s", options->base_turn_s, "the cue: seconds past abeam; else the technique's")
      .type_name("S");
  command
      .add_option(
          "--runway", options->setting.runway,
          "a JSON file, AIRFIELD/DESIGNATOR, or lat,lon,true-bearing,elevation-ft,length-ft of the threshold")
      .type_name("R");
  command.add_option("--wind", options->setting.wind, "true, from/speed in knots: 240/12, calm")
      .type_name("W");
  add_setting_options(command, options->setting);
  const auto json = add_json_flag(command, options->json);
  command.add_flag("--trace", options->trace, "also every moment, 0.2 s apart (with --json)").needs(json);
  add_examples(
      command,
      "  glidewright fly --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10 "
      "--base-turn-s 14\n"
      "  glidewright fly --wind 360/12 --base-turn-s 8 --json --trace");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

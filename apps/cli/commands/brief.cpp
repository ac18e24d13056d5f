#include "apps/cli/commands/brief.hpp"

#include <fmt/format.h>

#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"

namespace glidewright {
namespace {

struct BriefOptions {
  SettingOptions setting;
  std::string standard;
  bool json = false;
};

ExitCode run(const BriefOptions& options) {
  const auto brief = make_brief(options.setting, options.standard);
  if (!brief) return input_is_at_fault(brief.error());
  if (options.json) {
    write_json(brief_to_json(*brief));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(brief_text(*brief, page), page));
  }
  if (!brief->answer.plan)
    return input_is_at_fault({"no plan is offered: " + brief->answer.refusals.front()});
  return ExitCode::done;
}

}  // namespace

Result<Brief> make_brief(const SettingOptions& options, const std::string& standard_file_or_id) {
  auto setting = read_setting(options);
  if (!setting) return setting.error();
  const auto standard = find_standard(standard_file_or_id.empty() ? k_usual_standard : standard_file_or_id);
  if (!standard) return standard.error();
  if (!standard->box) {
    return Error{fmt::format(
        "standard {} has no touchdown limit in feet from a point, so no plan can aim for it", standard->id)};
  }
  if (standard_file_or_id.empty()) setting->assumed.push_back("standard " + standard->id);

  Brief brief;
  brief.runway = setting->runway;
  brief.touchdown_point = setting->touchdown_point;
  brief.temperature_c = setting->temperature_c;
  brief.altimeter_hpa = setting->altimeter_hpa;
  brief.standard_id = standard->id;
  brief.standard_name = standard->name;
  auto& request = brief.request;
  request.airplane = setting->airplane;
  request.conditions = setting->conditions;
  request.technique = setting->technique;
  request.box = *standard->box;
  const RunwayFrame frame(brief.runway, brief.touchdown_point);
  request.threshold_along_ft = frame.threshold_along_ft();
  request.runway_end_along_ft = frame.runway_end_along_ft();
  request.elevation_ft = frame.point_elevation_ft();
  {
    const Progress progress("flying some thousands of approaches");
    brief.answer = make_plan(request);
  }
  brief.answer.assumed.insert(brief.answer.assumed.begin(), setting->assumed.begin(), setting->assumed.end());
  return brief;
}

void add_brief(Program& program) {
  const auto options = std::make_shared<BriefOptions>();
  const auto command =
      program.add_command("brief", "plan today's power-off accuracy landing: six numbers to say");
  command
      .add_option("--runway", options->setting.runway,
                  "a JSON file, or lat,lon,true-bearing,elevation-ft,length-ft of the landing threshold")
      .type_name("R")
      .required();
  command.add_option("--wind", options->setting.wind, "true, from/speed in knots: 240/12, 240/12G18, calm")
      .type_name("W")
      .required();
  add_setting_options(command, options->setting);
  command
      .add_option("--standard", options->standard,
                  fmt::format("a standard's file, or its id in data/standards; else {}", k_usual_standard))
      .type_name("S");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright brief --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10\n"
      "  glidewright brief --runway 54.5012,2.5107,243,82,4100 --wind 230/8G14 --temperature-c 24\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --wind calm --weight-lb 2100 --json\n"
      "Where no plan can be offered it says why and ends with 1; in JSON the reasons are \"refusals\".");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

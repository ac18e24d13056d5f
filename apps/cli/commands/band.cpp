#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/band_text.hpp"
#include "engine/plan/search.hpp"
#include "formats/number.hpp"

namespace glidewright {
namespace {

struct BandOptions {
  SettingOptions setting;
  std::string standard;
  std::optional<double> bank_deg;
  std::optional<double> farthest_ft;
  std::vector<std::string> obstacles;
  bool no_slip = false;
  bool json = false;
};

std::optional<Error> outside_means(const BandOptions& options) {
  if (auto error = outside(options.bank_deg, {"--bank-deg", "°", 10.0, 45.0})) return error;
  return outside(options.farthest_ft, {"--extend-ft", " ft", 0.0, 20000.0});
}

AllowedMeans means_of(const BandOptions& options) {
  AllowedMeans means;
  means.bank_deg = options.bank_deg.value_or(means.bank_deg);
  means.farthest_past_abeam_ft = options.farthest_ft.value_or(means.farthest_past_abeam_ft);
  means.slip = !options.no_slip;
  return means;
}

/// "-1200,0,60": ft past the point, ft right of the centreline, ft above the point.
Result<Obstacle> read_obstacle(const std::string& text) {
  const Error error{
      fmt::format("--obstacle \"{}\"; expected ft past the point (before it negative), ft right of the "
                  "centreline and height "
                  "above the point, at most 30000, 30000 and 3000: -1200,0,60",
                  text)};
  std::vector<double> numbers;
  for (std::string_view rest = text;;) {
    const auto comma = rest.find(',');
    const auto number = read_number(rest.substr(0, comma));
    if (!number) return error;
    numbers.push_back(*number);
    if (comma == std::string_view::npos) break;
    rest.remove_prefix(comma + 1);
  }
  if (numbers.size() != 3 || std::abs(numbers[0]) > 30000.0 || std::abs(numbers[1]) > 30000.0 ||
      numbers[2] < 0.0 || numbers[2] > 3000.0) {
    return error;
  }
  return Obstacle{numbers[0], numbers[1], numbers[2]};
}

Result<std::vector<Obstacle>> read_obstacles(const BandOptions& options) {
  std::vector<Obstacle> obstacles;
  for (const std::string& text : options.obstacles) {
    const auto obstacle = read_obstacle(text);
    if (!obstacle) return obstacle.error();
    obstacles.push_back(*obstacle);
  }
  return obstacles;
}

Result<BandOfPlan> band_of(const BandOptions& options) {
  const auto obstacles = read_obstacles(options);
  if (!obstacles) return obstacles.error();
  auto brief = make_brief(options.setting, options.standard, {}, {}, *obstacles);
  if (!brief) return brief.error();
  BandOfPlan asked;
  asked.brief = std::move(*brief);
  const PlanRequest& request = asked.brief.request;
  Approach nominal;
  if (asked.brief.answer.plan) {
    asked.cue_s = asked.brief.answer.plan->cue.seconds_past_abeam;
    nominal = asked.brief.answer.plan->nominal;
  } else {
    // The band is there whether or not a plan can be offered; it is laid along the technique's own cue.
    asked.planned = false;
    asked.cue_s = request.technique.base_turn_s_after_abeam;
    nominal = fly_nominal(request, asked.cue_s, Trace::every_decision);
  }
  const Progress progress("sweeping the band");
  asked.band = band_of_plan(request, nominal, means_of(options), on_all_cores());
  return asked;
}

ExitCode run(const BandOptions& options) {
  if (options.setting.wind.empty() && options.setting.metar.empty()) {
    write_error("band needs the wind: --wind 240/12, or --metar with a weather report");
    return ExitCode::wrong_usage;
  }
  if (const auto error = outside_means(options)) return input_is_at_fault(*error);
  const auto asked = band_of(options);
  if (!asked) return input_is_at_fault(asked.error());
  if (options.json) {
    write_json(band_to_json(*asked));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(band_text(*asked, page), page));
  }
  return ExitCode::done;
}

}  // namespace

void add_band(Program& program) {
  const auto options = std::make_shared<BandOptions>();
  const auto command = program.add_command(
      "band", "from which heights round the pattern the point can still be made, and with which means");
  add_plan_options(command, options->setting);
  command.add_option("--standard", options->standard, "a standard's file, or its id: the box to be reached")
      .type_name("S");
  command.add_option("--bank-deg", options->bank_deg, "of every turn; else 30").type_name("DEG");
  command
      .add_option("--extend-ft", options->farthest_ft,
                  "the base turn has begun this far past abeam; else 6076 (1 NM)")
      .type_name("FT");
  command
      .add_option(
          "--obstacle", options->obstacles,
          "to be passed 50 ft above: ft past the point (before it negative), right of the centreline, "
          "height above the point; once for each, beside those in the runway's file")
      .type_name("FT,FT,FT")
      .repeatable();
  command.add_flag("--no-slip", options->no_slip, "without a slip");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright band --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10\n"
      "  glidewright band --runway data/demo/harrow-fen-24.json --wind 240/15 --no-slip --extend-ft 4000\n"
      "  glidewright band --runway data/demo/harrow-fen-24.json --wind calm --bank-deg 25 --json\n"
      "  glidewright band --runway data/demo/harrow-fen-24.json --wind 270/10 --obstacle=-1500,0,90\n"
      "A place where the lowest height is above the highest is closed: from there the point cannot be made.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

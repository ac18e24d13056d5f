#include <fmt/format.h>

#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/polar_text.hpp"
#include "engine/air/atmosphere.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct PolarOptions {
  std::string airplane;
  std::optional<double> weight_lb;
  std::optional<double> density_altitude_ft;
  bool json = false;
};

Result<PolarSheet> sheet_of(const PolarOptions& options) {
  for (const auto& error :
       {outside(options.weight_lb, k_weight_range),
        outside(options.density_altitude_ft, {"--density-altitude-ft", " ft", -2000.0, 15000.0})}) {
    if (error) return *error;
  }
  PolarSheet asked;
  const auto file = find_unchecked_airplane_file(airplane_or_generic(options.airplane, asked.assumed));
  if (!file) return file.error();
  asked.handbook = file->handbook;
  asked.problems = check(asked.handbook);
  asked.sheet.weight_lb = options.weight_lb.value_or(asked.handbook.maximum_weight_lb.value);
  asked.sheet.density_ratio = standard_atmosphere(Feet{options.density_altitude_ft.value_or(0.0)}).density;
  if (!asked.problems.empty()) return asked;
  asked.airplane = fit_airplane(asked.handbook);
  asked.assumed.insert(asked.assumed.end(), asked.airplane->assumptions.begin(),
                       asked.airplane->assumptions.end());
  if (!options.weight_lb)
    asked.assumed.push_back(fmt::format("maximum weight, {} lb", whole(asked.sheet.weight_lb)));
  if (!options.density_altitude_ft) asked.assumed.push_back("sea level, standard atmosphere");
  asked.sheet = glide_sheet(*asked.airplane, Pounds{asked.sheet.weight_lb}, asked.sheet.density_ratio);
  return asked;
}

ExitCode run(const PolarOptions& options) {
  const auto asked = sheet_of(options);
  if (!asked) return input_is_at_fault(asked.error());
  if (options.json) {
    write_json(polar_to_json(*asked));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(polar_text(*asked, page), page));
  }
  return asked->problems.empty() ? ExitCode::done : ExitCode::input_at_fault;
}

}  // namespace

void add_polar(Program& program) {
  const auto options = std::make_shared<PolarOptions>();
  const auto command = program.add_command(
      "polar", "what a profile's numbers make of an airplane: glide by speed, flap and wind, turns");
  command.add_option("--airplane", options->airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  command.add_option("--weight-lb", options->weight_lb, "else the maximum").type_name("LB");
  command.add_option("--density-altitude-ft", options->density_altitude_ft, "else sea level").type_name("FT");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright polar --airplane demo-trainer\n"
      "  glidewright polar --airplane generic-low-wing --weight-lb 2100 --density-altitude-ft 3000\n"
      "  glidewright polar --airplane demo-trainer --json\n"
      "Numbers that do not go together are listed by their fields in the profile, and nothing else is "
      "reckoned then.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

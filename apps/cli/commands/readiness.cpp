#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/marks_beside.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/readiness_text.hpp"
#include "formats/desk_log.hpp"

namespace glidewright {
namespace {

struct ReadinessOptions {
  DebriefOptions debrief;
  std::string standard;
  std::optional<double> window;
  bool json = false;
};

ExitCode run(const ReadinessOptions& options) {
  if (const auto error = outside(options.window, {"--window", "", 1.0, 200.0}))
    return input_is_at_fault(*error);
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  ReadinessRules rules;
  rules.window = static_cast<int>(options.window.value_or(rules.window));

  std::vector<DebriefedLog> logs;
  for (const auto& file : options.debrief.logs) {
    const Progress progress("debriefing " + file);
    DebriefOptions one = options.debrief;
    one.marks = marks_beside(file);
    one.standards = {options.standard.empty() ? std::string(k_usual_standard) : options.standard};
    auto debriefed = debrief_log(file, one);
    if (!debriefed) return input_is_at_fault(debriefed.error());
    if (is_desk_flight(debriefed->debrief.quality.notes))
      return input_is_at_fault({file + ": is " + k_desk_note});
    logs.push_back(std::move(*debriefed));
  }
  ReadinessOfLogs result = readiness_of(logs, standard->id, rules);
  result.standard_name = standard->name;
  if (options.json) {
    write_json(readiness_to_json(result));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(readiness_text(result, page), page));
  }
  return ExitCode::done;
}

}  // namespace

void add_readiness(Program& program) {
  const auto options = std::make_shared<ReadinessOptions>();
  auto& debrief = options->debrief;
  const auto command = program.add_command(
      "readiness", "what one student's logs prove: at least how often the standard would be met");
  command.add_option("LOG", debrief.logs, "track logs of one student; their order does not matter")
      .required();
  command
      .add_option("--runway", debrief.runway,
                  "of all the logs: a JSON file, AIRFIELD/DESIGNATOR, or five numbers; else found in each")
      .type_name("R");
  command.add_option("--touchdown-point-ft", debrief.touchdown_point_ft, "past the threshold; else 1000")
      .type_name("FT");
  command.add_option("--airplane", debrief.airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  add_height_unit_option(command, debrief.height_unit);
  command.add_option("--standard", options->standard, "a standard's file, or its id in data/standards")
      .type_name("S");
  command.add_option("--window", options->window, "so many of the last attempts count; else 20")
      .type_name("N");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright readiness data/demo/reference-flight/touch-and-goes.gpx --runway "
      "data/demo/reference-flight/runway.json --touchdown-point-ft 600\n"
      "  glidewright readiness data/demo/reference-flight/touch-and-goes.gpx --window 10 --json\n"
      "Who flew, what was seen and forced go-arounds come from a file beside each log, its name with\n"
      "\".marks.json\" after it. A go-around counts as not demonstrated; whether it was sound stands apart.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

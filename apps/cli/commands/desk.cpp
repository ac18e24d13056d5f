// desk: the approach of the model with somebody's hands on it.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "formats/desk_json.hpp"
#include "formats/desk_log.hpp"
#include "formats/file.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct DeskOptions {
  SettingOptions setting;
  std::string standard;
  std::string hands;
  std::string log;
  bool json = false;
};

Result<std::vector<DeskHold>> hands_of(const DeskOptions& options) {
  if (options.hands.empty()) return std::vector<DeskHold>{};
  const auto bytes = read_file(options.hands);
  if (!bytes) return bytes.error();
  return read_hands_json(*bytes, options.hands);
}

Result<DeskShown> fly_it(const DeskOptions& options) {
  auto setting = read_setting(options.setting);
  if (!setting) return setting.error();
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return standard.error();
  const auto hands = hands_of(options);
  if (!hands) return hands.error();
  DeskShown shown;
  shown.box = standard->box.value_or(Box{});
  shown.runway = setting->runway;
  shown.touchdown_point = setting->touchdown_point;
  shown.airplane = std::move(setting->airplane);
  shown.conditions = setting->conditions;
  shown.technique = std::move(setting->technique);
  shown.assumed = std::move(setting->assumed);
  const RunwayFrame frame(shown.runway, shown.touchdown_point);
  shown.flight = fly_at_desk(
      shown.airplane, shown.conditions, shown.technique,
      {frame.threshold_along_ft(), frame.runway_end_along_ft(), 0.5 * shown.runway.width.value}, *hands);
  return shown;
}

std::string how_it_stands(const DeskShown& shown) {
  const DeskFlight& flight = shown.flight;
  if (flight.touchdown) {
    const double along_ft = flight.touchdown->along_ft;
    return fmt::format("Touched down {} ft {} the point{}.", feet(std::abs(along_ft)),
                       along_ft < 0.0 ? "short of" : "past",
                       flight.end == DeskEnd::landed ? "" : ", beside the runway");
  }
  if (flight.end == DeskEnd::went_around)
    return fmt::format("Went around at {} ft.", feet(flight.now.height_ft));
  const char* why = flight.end == DeskEnd::out_of_time ? "Given up" : "Under way";
  return fmt::format("{}: {:.0f} s past abeam, {} ft high, {:.0f} kt.", why, flight.now.time_s,
                     feet(flight.now.height_ft), flight.now.calibrated_airspeed_kt);
}

ExitCode run(const DeskOptions& options) {
  const auto shown = fly_it(options);
  if (!shown) return input_is_at_fault(shown.error());
  if (!options.log.empty()) {
    const RunwayFrame frame(shown->runway, shown->touchdown_point);
    const double abeam_unix_s = now_unix_s() - shown->flight.track.back().time_s;
    if (const auto failed =
            write_file_atomically(options.log, write_desk_log(shown->flight, frame, abeam_unix_s)))
      return input_is_at_fault(*failed);
  }
  if (options.json) {
    write_json(desk_to_json(*shown));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  write_standard_output(
      printed(wrapped(how_it_stands(*shown), {}, page) + assumed_text(shown->assumed, page), page));
  return ExitCode::done;
}

}  // namespace

void add_desk(Program& program) {
  const auto options = std::make_shared<DeskOptions>();
  const auto command =
      program.add_command("desk", "fly one approach by hand, by the model; the page has keys for it");
  add_plan_options(command, options->setting);
  command.add_option("--standard", options->standard, "a standard's file, or its id: the box").type_name("S");
  command
      .add_option(
          "--hands", options->hands,
          "a file glidewright.hands/1: bank, airspeed, flaps and slip, each held for some ticks of 0.2 s")
      .type_name("FILE");
  command
      .add_option("--log", options->log,
                  "write it as a track log, for debrief; it says that it is a desk flight")
      .type_name("FILE");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright desk --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind calm --json\n"
      "  glidewright desk --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind calm "
      "--hands data/demo/hands.json\n"
      "The throttle closes abeam the point, and the flare is flown for you. It is practice on the ground: "
      "records do not take it, and\nreadiness does not count it.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

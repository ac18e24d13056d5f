#include "apps/cli/commands/brief.hpp"

#include <fmt/format.h>

#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/paper/paper.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/plan/taught.hpp"
#include "formats/file.hpp"
#include "formats/report/card.hpp"
#include "formats/technique_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

constexpr double k_usual_flights = 270000.0;
constexpr double k_quick_flights = 1500.0;
constexpr double k_quick_step_s = 0.1;
/// The edges along the way are as near to those of the usual grid as with cells of 80 ft, for half of the
/// time; wider steps of heading double what is off (docs/measured.md).
constexpr ReachGrid k_quick_grid{120.0, 10.0};

struct BriefOptions {
  SettingOptions setting;
  std::string standard;
  DryRunOptions dry_run;
  BriefOdds odds;
  std::string card;
  std::string card_size;
  bool json = false;
};

bool is_pdf(const std::string& file) {
  return file.ends_with(".pdf");
}

/// The name's ending says what it is.
std::optional<Error> write_card(const BriefOptions& options, const Brief& brief,
                                const std::vector<CueAtWind>& winds) {
  if (!is_pdf(options.card)) return write_file_atomically(options.card, plan_card_html(brief, winds));
  const auto pdf = plan_card_pdf(brief, winds, options.card_size == "phone" ? CardSize::phone : CardSize::a5);
  return pdf ? write_file_atomically(options.card, *pdf) : std::optional(pdf.error());
}

ExitCode run(const BriefOptions& options) {
  if (options.setting.wind.empty() && options.setting.metar.empty()) {
    write_error("brief needs the wind: --wind 240/12, or --metar with a weather report");
    return ExitCode::wrong_usage;
  }
  if (!options.card.empty() && !options.card.ends_with(".html") && !is_pdf(options.card)) {
    write_error("--card " + options.card + ": expected a name that ends in .html or .pdf");
    return ExitCode::wrong_usage;
  }
  if (!options.card_size.empty() && !is_pdf(options.card)) {
    write_error("--card-size goes with --card FILE.pdf; a card in HTML has the size of where it is opened");
    return ExitCode::wrong_usage;
  }
  const auto brief = make_brief(options.setting, options.standard, options.dry_run, options.odds);
  if (!brief) return input_is_at_fault(brief.error());
  if (!options.card.empty()) {
    const auto& plan = brief->answer.plan;
    const auto winds = plan ? cues_at_other_winds(brief->request, *plan) : std::vector<CueAtWind>{};
    const auto failed = write_card(options, *brief, winds);
    if (failed) return input_is_at_fault(*failed);
  }
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

/// The technique is the plan's from then on: for the band, a dry run and the words.
void plan_into(Brief& brief, const ShareOut& share_out) {
  brief.answer = make_plan(brief.request, share_out);
  if (brief.answer.plan) brief.request.technique = brief.answer.plan->technique;
}

/// Plans again as the dry run tells. Where no plan is offered without it, it needs the base turn that was
/// flown.
void correct_plan(Brief& brief, DryRunRead read, const ShareOut& share_out) {
  DryRunBrief dry_run;
  dry_run.source = std::move(read.source);
  dry_run.flown = read.flown;
  if (brief.answer.plan) dry_run.cue_before_s = brief.answer.plan->cue.seconds_past_abeam;
  const auto cue_s = dry_run.flown.base_turn_s ? dry_run.flown.base_turn_s : dry_run.cue_before_s;
  if (!cue_s) {
    brief.answer.cautions.push_back(
        "The dry run was left out: without a plan it needs the base turn that was flown, "
        "--dry-run-base-turn-s.");
    return;
  }
  dry_run.correction = correct_by_dry_run(brief.request, *cue_s, dry_run.flown);
  if (dry_run.correction.told == DryRunTold::something) {
    brief.request = dry_run.correction.corrected;
    plan_into(brief, share_out);
  }
  brief.dry_run = std::move(dry_run);
}

/// Scatter, seed and how many flights.
std::optional<Error> read_odds(const BriefOdds& odds, PlanRequest& request) {
  const bool fitted = request.airplane.handbook.fitted.has_value();
  if (fitted) request.scatter.glide_relative = request.airplane.glide_sd;
  if (!odds.scatter.empty()) {
    const auto bytes = read_file(odds.scatter);
    if (!bytes) return bytes.error();
    const auto scatter = read_scatter_json(*bytes, odds.scatter, request.scatter);
    if (!scatter) return scatter.error();
    request.scatter = *scatter;
  }
  const OptionRange flights_range{"--flights", "", 2000.0, 5e6};
  const OptionRange seed_range{"--seed", "", 0.0, 9007199254740992.0};
  if (auto error = outside(odds.flights, flights_range)) return error;
  if (auto error = outside(odds.seed, seed_range)) return error;
  if (odds.seed) request.seed = static_cast<std::uint64_t>(*odds.seed);
  // Three quarters choose the cue. As many as a twelfth tell the odds, half of that each of the differences:
  // a second early or late, a rule left out.
  const double flights = odds.flights.value_or(odds.quick ? k_quick_flights : k_usual_flights);
  request.flights = odds.left_out ? 0 : static_cast<int>(flights / 12.0);
  if (odds.quick) request.nominal_step_s = k_quick_step_s;
  request.search_flights = odds.quick ? 0 : static_cast<int>(0.75 * flights);
  return std::nullopt;
}

void add_dry_run_options(const Command& command, DryRunOptions& options) {
  const auto landed =
      command
          .add_option("--dry-run-ft", options.landed_ft,
                      "a landing just flown: ft past the point, negative short; corrects the plan")
          .type_name("FT");
  const auto log =
      command.add_option("--dry-run-log", options.log, "the same from its track log: the last landing in it")
          .type_name("LOG");
  command.add_option("--dry-run-attempt", options.attempt, "another attempt of that log, by its number")
      .type_name("N")
      .needs(log);
  add_height_unit_option(command, options.height_unit);
  command.add_option("--dry-run-power", options.power, "used after idle: none or assisted; else unknown")
      .type_name("P")
      .one_of({"none", "assisted", "unknown"});
  command
      .add_option("--dry-run-base-turn-s", options.base_turn_s,
                  "when base was turned, seconds past abeam; else as planned")
      .type_name("S");
  landed.excludes(log);
}

}  // namespace

Result<AskedBrief> ask_brief(const SettingOptions& options, const std::string& standard_file_or_id,
                             const BriefOdds& odds) {
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
  if (const auto error = read_odds(odds, request)) return *error;
  request.conditions = setting->conditions;
  request.technique = setting->technique;
  if (options.technique.empty()) request.other_flaps = other_taught_flaps(request.technique);
  request.box = *standard->box;
  const RunwayFrame frame(brief.runway, brief.touchdown_point);
  request.threshold_along_ft = frame.threshold_along_ft();
  request.runway_end_along_ft = frame.runway_end_along_ft();
  request.elevation_ft = frame.point_elevation_ft();
  request.obstacles = frame.obstacles();
  return AskedBrief{std::move(brief), std::move(*setting)};
}

Result<Brief> make_brief(const SettingOptions& options, const std::string& standard_file_or_id,
                         const DryRunOptions& dry_run_options, const BriefOdds& odds,
                         const std::vector<Obstacle>& more_obstacles) {
  auto asked = ask_brief(options, standard_file_or_id, odds);
  if (!asked) return asked.error();
  const Setting& setting = asked->setting;
  Brief brief = std::move(asked->brief);
  auto& obstacles = brief.request.obstacles;
  obstacles.insert(obstacles.end(), more_obstacles.begin(), more_obstacles.end());
  std::optional<DryRunRead> dry_run;
  if (dry_run_options.given()) {
    auto read = read_dry_run(dry_run_options, setting);
    if (!read) return read.error();
    dry_run = std::move(*read);
  }
  {
    const Progress progress("flying a few hundred thousand approaches");
    const ShareOut share_out = on_all_cores();
    plan_into(brief, share_out);
    if (dry_run) correct_plan(brief, std::move(*dry_run), share_out);
    if (brief.answer.plan) {
      const ReachGrid grid = odds.quick ? k_quick_grid : ReachGrid{};
      brief.band = band_of_plan(brief.request, brief.answer.plan->nominal, {}, share_out, grid);
    }
  }
  brief.answer.assumed.insert(brief.answer.assumed.begin(), setting.assumed.begin(), setting.assumed.end());
  return brief;
}

void add_brief(Program& program) {
  const auto options = std::make_shared<BriefOptions>();
  const auto command =
      program.add_command("brief", "plan today's power-off accuracy landing: six numbers to say");
  add_plan_options(command, options->setting);
  command
      .add_option("--standard", options->standard,
                  fmt::format("a standard's file, or its id in data/standards; else {}", k_usual_standard))
      .type_name("S");
  add_dry_run_options(command, options->dry_run);
  const auto card =
      command
          .add_option(
              "--card", options->card,
              "also write the ramp card: FILE.html, for the phone and for half a page of paper, or FILE.pdf")
          .type_name("FILE");
  command.add_option("--card-size", options->card_size, "of FILE.pdf: a5, to print, or phone; else a5")
      .type_name("SIZE")
      .one_of({"a5", "phone"});
  command
      .add_option("--scatter", options->odds.scatter,
                  "how a pilot and a day scatter about what is meant: a JSON file; else the usual")
      .type_name("FILE");
  command
      .add_option("--flights", options->odds.flights,
                  fmt::format("about so many approaches are flown for the plan, 2,000 to 5,000,000; else {}",
                              whole(k_usual_flights)))
      .type_name("N");
  command.add_option("--seed", options->odds.seed, "of the random numbers, from 0; else 1").type_name("N");
  const auto quick = command.add_flag(
      "--quick", options->odds.quick,
      "the cue as planned without a search, few flights and a coarser band: while something is "
      "still being tried out");
  const auto json = add_json_flag(command, options->json);
  command
      .add_flag(
          "--no-odds", options->odds.left_out,
          "with --quick and --json: no flight over the spread; success is null, rules and sensitivities are "
          "empty")
      .needs(quick)
      .needs(json)
      .excludes(card);
  add_examples(
      command,
      "  glidewright brief --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10\n"
      "  glidewright brief --runway 54.5012,2.5107,243,82,4100 --wind 230/8G14 --temperature-c 24\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --wind calm --weight-lb 2100 --json\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10 "
      "--dry-run-ft 400 --dry-run-power none\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 270/10 "
      "--card build/card.pdf --card-size phone\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 240/8 "
      "--scatter "
      "data/scatter/steady-hand.json --flights 20000\n"
      "  glidewright brief --runway data/demo/harrow-fen-24.json --metar 'XHFN 140850Z 27010KT 9999 12/05 "
      "Q1019'\n"
      "Where no plan can be offered it says why and ends with 1; in JSON the reasons are \"refusals\".");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

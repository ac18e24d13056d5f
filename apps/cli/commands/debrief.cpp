#include "apps/cli/commands/debrief.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/commands/debrief_folder.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/log_file.hpp"
#include "apps/cli/inputs/log_folder.hpp"
#include "apps/cli/inputs/setting.hpp"
#include "apps/cli/inputs/weather.hpp"
#include "apps/cli/paper/paper.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/columns_text.hpp"
#include "apps/cli/words/debrief_text.hpp"
#include "engine/debrief/flown_band.hpp"
#include "formats/file.hpp"
#include "formats/marks_json.hpp"
#include "formats/report/report.hpp"
#include "formats/saved_plan_json.hpp"
#include "formats/track_log.hpp"
#include "formats/unpack.hpp"

namespace glidewright {
namespace {

enum class PictureWish { as_the_output_is, draw, leave_out };

struct CommandOptions {
  DebriefOptions debrief;
  std::string report;
  std::string journal;
  bool show_columns = false;
  bool json = false;
  bool with_path = false;
  bool picture = false;
  bool no_picture = false;
};

/// All of the shelf, the usual one first; or those that were named.
Result<std::vector<Standard>> read_standards(const std::vector<std::string>& named) {
  std::vector<Standard> standards;
  for (const auto& one : named) {
    auto standard = find_standard(one);
    if (!standard) return standard.error();
    // Records keep a verdict under the standard's id.
    for (const Standard& other : standards)
      if (other.id == standard->id)
        return Error{
            fmt::format("--standard {}: a standard called {} is already named; expected another file name",
                        one, standard->id)};
    standards.push_back(*standard);
  }
  if (!standards.empty()) return standards;
  auto shelf = all_standards();
  if (!shelf) return shelf.error();
  std::stable_partition(shelf->begin(), shelf->end(),
                        [](const Standard& standard) { return standard.id == k_usual_standard; });
  return shelf;
}

Result<std::vector<AttemptMarks>> read_marks(const DebriefOptions& options) {
  std::vector<AttemptMarks> marks;
  if (!options.marks.empty()) {
    const auto bytes = read_file(options.marks);
    if (!bytes) return bytes.error();
    auto from_file = read_marks_json(*bytes, options.marks);
    if (!from_file) return from_file;
    marks = std::move(*from_file);
  } else if (!options.known_marks.empty()) {
    auto known = read_marks_json(options.known_marks, "the marks of before");
    if (!known) return known;
    marks = std::move(*known);
  }
  for (const auto& text : options.seen) {
    const auto seen = read_seen_text(text);
    if (!seen) return seen.error();
    auto all = joined(std::move(marks), {*seen});
    if (!all) return all;
    marks = std::move(*all);
  }
  return marks;
}

/// What the plan was made for and what is said now must be the same thing.
std::optional<Error> contradiction(const DebriefOptions& options, const SavedPlanFile& plan) {
  constexpr double k_same_point_ft = 1.0;
  if (options.touchdown_point_ft &&
      std::abs(*options.touchdown_point_ft - plan.touchdown_point_ft) > k_same_point_ft)
    return Error{
        fmt::format("{}: the plan is for {:.0f} ft past the threshold, --touchdown-point-ft says {:.0f}",
                    options.plan, plan.touchdown_point_ft, *options.touchdown_point_ft)};
  return std::nullopt;
}

/// The options with what the plan says where nobody says otherwise; reads the plan.
Result<DebriefOptions> with_saved_plan(DebriefOptions options, std::optional<SavedPlanFile>& plan) {
  if (options.plan.empty()) return options;
  const auto bytes = read_file(options.plan);
  if (!bytes) return bytes.error();
  auto read = read_saved_plan_json(*bytes, options.plan);
  if (!read) return read.error();
  if (const auto wrong = contradiction(options, *read)) return *wrong;
  plan = std::move(*read);
  options.touchdown_point_ft = plan->touchdown_point_ft;
  if (options.airplane.empty()) options.airplane = plan->airplane_id;
  if (!options.weight_lb) options.weight_lb = plan->weight_lb;
  if (options.standards.empty()) options.standards = {plan->standard_id};
  // A later report may stand beside the plan's wind, and then brings its own air.
  if (options.metar.empty()) {
    if (!options.temperature_c) options.temperature_c = plan->temperature_c;
    if (!options.altimeter_hpa && !options.altimeter_inhg) options.altimeter_hpa = plan->altimeter_hpa;
  }
  return options;
}

/// The school's airplane and runway where the options, or the plan, name them.
Result<DebriefOptions> with_the_fleet(DebriefOptions options) {
  if (options.records.empty()) return options;
  auto named = named_in_records(options.records, options.airplane, options.runway);
  if (!named) return named.error();
  if (named->airplane) options.fleet_airplane = std::move(named->airplane);
  if (named->runway) options.fleet_runway = named->runway;
  return options;
}

/// Another airplane, or the same with other numbers, would make the plan's cue another one.
std::optional<Error> other_airplane(const DebriefRequest& request, const DebriefOptions& options,
                                    const SavedPlanFile& plan) {
  if (request.airplane.id == plan.airplane_id) return std::nullopt;
  return Error{fmt::format("{}: the plan is for the airplane {}, the debrief for {}; --airplane names it",
                           options.plan, plan.airplane_id, request.airplane.id)};
}

/// The accelerometer where one was given; and the panel's file, empty for none.
Result<std::string> read_beside(const DebriefOptions& options, std::optional<Accelerometer>& accelerometer) {
  std::optional<CsvMapping> mapping;
  if (!options.columns.empty() && !options.with.empty()) {
    auto columns = read_columns(options.columns);
    if (!columns) return columns.error();
    mapping = *std::move(columns);
  }
  const CsvMapping* columns = mapping ? &*mapping : nullptr;
  std::string panel;
  for (const std::string& file : options.with) {
    const auto kind = kind_of_beside(file, columns);
    if (!kind) return kind.error();
    if (*kind == BesideKind::panel ? !panel.empty() : accelerometer.has_value())
      return Error{fmt::format(
          "{}: is a second one of its kind; expected one panel's log and one accelerometer's", file)};
    if (*kind == BesideKind::panel) {
      panel = file;
      continue;
    }
    auto felt = read_accelerometer_file(file, columns);
    if (!felt) return felt.error();
    const auto clock = read_clock(options.with_clock, *felt);
    if (!clock) return clock.error();
    accelerometer = {std::move(*felt), *clock};
  }
  if (!options.with_clock.empty() && !accelerometer)
    return Error{"--with-clock goes with an accelerometer's log; expected one behind --with"};
  return panel;
}

Result<DebriefRequest> read_request(const std::string& file, const DebriefOptions& as_typed,
                                    std::vector<std::string>& assumed) {
  std::optional<SavedPlanFile> plan;
  const auto completed = with_saved_plan(as_typed, plan);
  if (!completed) return completed.error();
  const auto looked_up = with_the_fleet(*completed);
  if (!looked_up) return looked_up.error();
  const DebriefOptions& options = *looked_up;
  if (const auto error = outside(options.temperature_c, k_temperature_range)) return *error;
  if (const auto error = outside(options.weight_lb, k_weight_range)) return *error;
  if (const auto error = outside(options.touchdown_point_ft, k_touchdown_point_range)) return *error;
  const auto altimeter = read_altimeter(options.altimeter_hpa, options.altimeter_inhg);
  if (!altimeter) return altimeter.error();

  DebriefRequest request;
  if (options.fleet_airplane) {
    request.airplane = fit_airplane(options.fleet_airplane->handbook);
  } else {
    auto airplane = read_airplane(options.airplane, assumed);
    if (!airplane) return airplane.error();
    request.airplane = std::move(*airplane);
  }
  if (options.fleet_runway) {
    request.runway = options.fleet_runway;
  } else if (!options.runway.empty()) {
    const auto runway = read_runway(options.runway, assumed);
    if (!runway) return runway.error();
    request.runway = *runway;
  }
  if (plan) {
    if (const auto wrong = other_airplane(request, options, *plan)) return *wrong;
    request.plan = plan->plan;
    if (!request.runway) request.runway = plan->runway;
  }
  auto standards = options.known_standard ? std::vector<Standard>{*options.known_standard}
                                          : read_standards(options.standards);
  if (!standards) return standards.error();
  request.standards = std::move(*standards);
  request.touchdown_point = Feet{options.touchdown_point_ft.value_or(1000.0)};
  if (!options.touchdown_point_ft) assumed.push_back("touchdown point 1,000 ft past the threshold");
  if (request.runway && request.touchdown_point >= request.runway->length) {
    return Error{fmt::format("--touchdown-point-ft {:.0f} ft lies past the end of the runway of {:.0f} ft",
                             request.touchdown_point.value, request.runway->length.value)};
  }
  if (!options.traffic.empty()) request.traffic = options.traffic == "right" ? Traffic::right : Traffic::left;
  request.weight_lb = options.weight_lb;
  auto marks = read_marks(options);
  if (!marks) return marks.error();
  request.marks = std::move(*marks);
  const auto beside = read_beside(options, request.accelerometer);
  if (!beside) return beside.error();
  auto log =
      read_log({file, *beside, request.accelerometer ? std::string() : options.columns, options.height_unit});
  if (!log) return log.error();
  request.log = std::move(*log);
  const double middle_s =
      0.5 * (request.log.fixes.front().time_unix_s + request.log.fixes.back().time_unix_s);
  const auto weather =
      read_weather({options.wind, options.metar, options.temperature_c, *altimeter}, middle_s);
  if (!weather) return weather.error();
  request.reported_wind = weather->wind;
  if (!request.reported_wind && plan) request.reported_wind = plan->plan.wind;
  request.temperature_c = weather->temperature_c;
  request.altimeter_hpa = weather->altimeter_hpa;
  assumed.insert(assumed.end(), weather->said.begin(), weather->said.end());
  return request;
}

PictureWish picture_wish(const CommandOptions& options) {
  if (options.no_picture) return PictureWish::leave_out;
  return options.picture ? PictureWish::draw : PictureWish::as_the_output_is;
}

Pictures pictures(PictureWish wish) {
  const bool drawn = wish == PictureWish::draw || (wish == PictureWish::as_the_output_is &&
                                                   standard_output_kind() == OutputKind::terminal);
  return drawn ? Pictures::drawn : Pictures::none;
}

Result<DebriefedLog> debriefed_log(const std::string& file, const DebriefOptions& options,
                                   const std::function<void(Debrief&, const Airplane&)>& complete) {
  std::vector<std::string> assumed;
  const auto request = read_request(file, options, assumed);
  if (!request) return request.error();
  auto answer = make_debrief(*request);
  if (!answer.debrief) return Error{file + ": " + answer.reason};
  complete(*answer.debrief, request->airplane);
  DebriefedLog one{file, request->airplane.id, request->airplane.name, std::move(*answer.debrief)};
  one.debrief.assumed.insert(one.debrief.assumed.begin(), assumed.begin(), assumed.end());
  return one;
}

/// How the CSV is read, for the user to confirm, correct and save.
ExitCode show_columns(const CommandOptions& options) {
  const auto& debrief = options.debrief;
  const std::string& file = debrief.with.empty() ? debrief.logs.front() : debrief.with.front();
  auto bytes = read_file(file);
  if (!bytes) return input_is_at_fault(bytes.error());
  const auto content = unpack_where_packed(*std::move(bytes), file);
  if (!content) return input_is_at_fault(content.error());
  std::optional<CsvMapping> mapping;
  if (!debrief.columns.empty()) {
    auto columns = read_columns(debrief.columns);
    if (!columns) return input_is_at_fault(columns.error());
    mapping = *std::move(columns);
  }
  const auto columns = show_csv_columns(content->bytes, content->name, mapping ? &*mapping : nullptr);
  if (!columns) return input_is_at_fault(columns.error());
  if (options.json) {
    write_json(csv_mapping_to_json(columns->header));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(columns_text(*columns, file, page), page));
  }
  return ExitCode::done;
}

/// The name's ending says what it is.
std::optional<Error> write_report(const std::string& file, const DebriefedLog& debriefed) {
  if (!file.ends_with(".pdf")) return write_file_atomically(file, debrief_report_html(debriefed));
  const auto pdf = debrief_report_pdf(debriefed);
  return pdf ? write_file_atomically(file, *pdf) : std::optional(pdf.error());
}

bool is_html_or_pdf(const std::string& file) {
  return file.ends_with(".html") || file.ends_with(".pdf");
}

ExitCode run(const CommandOptions& options) {
  const auto& debrief = options.debrief;
  const bool folder = std::any_of(debrief.logs.begin(), debrief.logs.end(), is_folder);
  if ((debrief.logs.size() > 1 || folder) &&
      (!debrief.with.empty() || !debrief.marks.empty() || !debrief.seen.empty() || !options.report.empty())) {
    write_error(
        "--with, --marks, --touchdown-seen and --report belong to one log; debrief the logs one by one");
    return ExitCode::wrong_usage;
  }
  if (options.show_columns && (debrief.logs.size() > 1 || folder)) {
    write_error("--show-columns shows one log");
    return ExitCode::wrong_usage;
  }
  if (debrief.with.size() > 1 && (options.show_columns || !debrief.columns.empty())) {
    write_error("--columns and --show-columns are for one CSV; name it alone behind --with");
    return ExitCode::wrong_usage;
  }
  if (options.show_columns) return show_columns(options);
  if (folder) return debrief_folders(debrief, options.journal, options.json);
  if (!options.journal.empty()) {
    write_error("--journal goes with a folder of logs");
    return ExitCode::wrong_usage;
  }
  if (options.with_path && !options.json) {
    write_error("--with-path goes with --json");
    return ExitCode::wrong_usage;
  }
  if (!options.report.empty() && !is_html_or_pdf(options.report)) {
    write_error("--report " + options.report + ": expected a name that ends in .html or .pdf");
    return ExitCode::wrong_usage;
  }
  // Everything is read and debriefed before a word is printed: nothing stands half there when a log is at
  // fault.
  std::vector<DebriefedLog> debriefed;
  for (const auto& file : options.debrief.logs) {
    const Progress progress("debriefing " + file);
    auto one = debrief_log(file, options.debrief);
    if (!one) return input_is_at_fault(one.error());
    debriefed.push_back(std::move(*one));
  }
  if (!options.report.empty()) {
    const auto failed = write_report(options.report, debriefed.front());
    if (failed) return input_is_at_fault(*failed);
  }
  if (options.json) {
    const JsonPath path = options.with_path ? JsonPath::with_path : JsonPath::left_out;
    write_json(debriefed.size() == 1 ? debrief_to_json(debriefed.front(), path)
                                     : debriefs_to_json(debriefed, path));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  for (const auto& one : debriefed) {
    write_standard_output(printed(debrief_text(one, page, pictures(picture_wish(options))), page));
  }
  return ExitCode::done;
}

}  // namespace

Result<DebriefedLog> debrief_log_without_bands(const std::string& file, const DebriefOptions& options) {
  return debriefed_log(file, options, [](Debrief&, const Airplane&) {});
}

Result<DebriefedLog> debrief_log(const std::string& file, const DebriefOptions& options) {
  return debriefed_log(file, options, [](Debrief& debrief, const Airplane& airplane) {
    add_bands(debrief, airplane, on_all_cores());
  });
}

void add_debrief(Program& program) {
  const auto options = std::make_shared<CommandOptions>();
  auto& debrief = options->debrief;
  const auto command = program.add_command(
      "debrief", "find every attempt in a track log, where it touched down, and what made it long or short");
  command
      .add_option(
          "LOG", debrief.logs,
          "track logs: GPX, KML, IGC, NMEA or CSV, known by their content; packed as .gz or .kmz too; "
          "a folder is debriefed as a whole, a row for each attempt")
      .required();
  command
      .add_option(
          "--with", debrief.with,
          "a CSV without positions for the one log: what the panel recorded, or a phone's accelerometer, "
          "once for each")
      .type_name("FILE")
      .repeatable();
  command
      .add_option(
          "--with-clock", debrief.with_clock,
          "the accelerometer's clock: same where one device wrote both files, +2.5 where it is so many "
          "seconds ahead of the log's, the moment of its 0 where it counts; else found by comparing")
      .type_name("CLOCK");
  command
      .add_option(
          "--columns", debrief.columns,
          "how to read the columns of a CSV, the panel's where --with is given: a file as --show-columns "
          "--json prints it")
      .type_name("FILE");
  add_height_unit_option(command, debrief.height_unit);
  command.add_flag(
      "--show-columns", options->show_columns,
      "show how the columns of the CSV are read, for you to confirm or correct, and nothing else");
  command
      .add_option("--touchdown-seen", debrief.seen,
                  "where the wheels were seen to touch, attempt:feet past the point, once for each: 2:+120")
      .type_name("N:FT")
      .repeatable();
  command
      .add_option("--plan", debrief.plan,
                  "the plan that was flown, as brief --json wrote it: causes are measured against it, and "
                  "runway, point, airplane, weight and wind are its own where nothing else is said")
      .type_name("FILE");
  command.add_option("--marks", debrief.marks, "a file with what was seen and who flew, for the one log")
      .type_name("FILE");
  command
      .add_option("--runway", debrief.runway,
                  "a JSON file, AIRFIELD/DESIGNATOR, or lat,lon,true-bearing,elevation-ft,length-ft; else "
                  "found in the log")
      .type_name("R");
  command.add_option("--touchdown-point-ft", debrief.touchdown_point_ft, "past the threshold; else 1000")
      .type_name("FT");
  command.add_option("--traffic", debrief.traffic, "only attempts from this side: left or right")
      .type_name("SIDE")
      .one_of({"left", "right"});
  command.add_option("--airplane", debrief.airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  add_fleet_option(command, debrief.records);
  command
      .add_option("--wind", debrief.wind,
                  "as reported before the flight, true, from/speed in knots: 240/12; the causes need it")
      .type_name("W");
  add_metar_option(command, debrief.metar);
  command.add_option("--temperature-c", debrief.temperature_c, "at the field; else the standard's")
      .type_name("C");
  add_altimeter_options(command, debrief.altimeter_hpa, debrief.altimeter_inhg,
                        "altimeter setting; else 1013.25");
  command.add_option("--weight-lb", debrief.weight_lb, "of the day").type_name("LB");
  command
      .add_option(
          "--standard", debrief.standards,
          "a standard's file, a school's own too, or its id in data/standards, once for each; else all")
      .type_name("S")
      .repeatable();
  command
      .add_option("--report", options->report,
                  "also write the debrief to send: FILE.html, one page that needs no network, or FILE.pdf, "
                  "two sheets of A4 for three attempts")
      .type_name("FILE");
  command
      .add_option(
          "--journal", options->journal,
          "for a folder: keeps each log's row as it is done; the same command goes on where it was stopped")
      .type_name("FILE");
  add_json_flag(command, options->json);
  command.add_flag(
      "--with-path", options->with_path,
      "with --json: also what was flown and planned, second by second, and where it led in 20 s");
  const auto draw = command.add_flag("--picture", options->picture,
                                     "draw the runway ruler and the ledger also into a pipe");
  command.add_flag("--no-picture", options->no_picture, "words only, also on a terminal").excludes(draw);
  add_examples(
      command,
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx "
      "--runway data/demo/reference-flight/runway.json --touchdown-point-ft 600 --wind 210/9\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx "
      "--touchdown-seen 1:+400 --touchdown-seen 3:+90~15\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx --wind 210/9 --json\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx --wind 210/9 --json --with-path\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx --wind 210/9 --report "
      "build/lesson.html\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx --wind 210/9 --report "
      "build/lesson.pdf\n"
      "  glidewright debrief data/demo/reference-flight/touch-and-goes.gpx --standard "
      "data/demo/house-standard.json\n"
      "  glidewright debrief tests/data/flights/F08/F08.gpx --with "
      "tests/data/flights/F08/F08_avionics.csv --show-columns\n"
      "  glidewright debrief tests/data/flights/F22 --journal build/season.jsonl\n"
      "Several logs are debriefed one after the other; with --json they stand in one object. In a folder a "
      "file that cannot\n"
      "be debriefed is named with its reason and the rest goes on; exit code 0 when any was debriefed and "
      "none "
      "was left.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

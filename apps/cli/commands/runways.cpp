#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/runway_data.hpp"
#include "apps/cli/terminal.hpp"
#include "engine/magnetic/field.hpp"
#include "formats/file.hpp"
#include "formats/json_write.hpp"
#include "formats/shown.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct RunwaysOptions {
  std::string action;
  std::string text;
  std::string table;  ///< searched instead of the imported one
  bool json = false;
};

std::string count(std::size_t number) {
  return whole(static_cast<double>(number));
}

ExitCode import_table(const RunwaysOptions& options) {
  const auto bytes = read_file(options.text);
  if (!bytes) return input_is_at_fault(bytes.error());
  const auto counts = check_runway_table(*bytes, options.text);
  if (!counts) return input_is_at_fault(counts.error());
  if (counts->ends == 0) return input_is_at_fault({options.text + ": no runway in it can be used"});
  const auto file = runway_data_file();
  if (!file) return input_is_at_fault(file.error());
  std::error_code failed;
  std::filesystem::create_directories(std::filesystem::path(*file).parent_path(), failed);
  if (const auto error = write_file_atomically(*file, *bytes)) return input_is_at_fault(*error);
  if (options.json) {
    write_json({{"schema", "glidewright.runways-import/1"},
                {"file", *file},
                {"rows", counts->rows},
                {"landing_directions", counts->ends},
                {"closed", counts->closed},
                {"without_place", counts->without_place},
                {"without_direction", counts->without_direction},
                {"unreadable", counts->unreadable}});
    return ExitCode::done;
  }
  write_standard_output(
      fmt::format("{} landing directions of {} runways can be used, from {}.\nLeft out: {} closed, {} "
                  "without coordinates, {} ends "
                  "without a direction, {} rows that cannot be read.\n",
                  count(counts->ends), count(counts->rows), options.text, count(counts->closed),
                  count(counts->without_place), count(counts->without_direction), count(counts->unreadable)));
  return ExitCode::done;
}

/// An end as a compass shows it on the day of the search.
struct ByCompass {
  std::optional<double> variation_deg;  ///< east positive; none where no model holds
  std::optional<double> bearing_deg;    ///< magnetic
  std::string doubt;                    ///< its number says another direction; may be empty
};

ByCompass by_compass(const Runway& runway, double year) {
  ByCompass seen;
  seen.variation_deg = magnetic_variation_deg(runway.threshold, year);
  if (!seen.variation_deg) return seen;
  const double bearing_deg = wrap_360_deg(runway.true_bearing.value - *seen.variation_deg);
  seen.bearing_deg = bearing_deg;
  // Numbers are rounded to ten degrees, and older than the day: more than 15 is a slip in one of them. Common
  // practice, no source. In the far north they are true: there the model says nothing, as a rule.
  constexpr double k_apart_deg = 15.0;
  const double number_deg = 10.0 * std::atoi(runway.designator.c_str());
  if (number_deg > 0.0 && std::abs(wrap_180_deg(bearing_deg - number_deg)) > k_apart_deg)
    seen.doubt = fmt::format("its number says {:03.0f}° magnetic: check the table's coordinates", number_deg);
  return seen;
}

Json end_to_json(const RunwayEnd& end, double year) {
  const ByCompass compass = by_compass(end.runway, year);
  Json object = runway_to_json(end.runway, Feet{0.0});
  object["magnetic_variation_deg"] =
      compass.variation_deg ? number(*compass.variation_deg, 1) : Json(nullptr);
  object["magnetic_bearing_deg"] = compass.bearing_deg ? number(*compass.bearing_deg, 0) : Json(nullptr);
  object["notes"] = end.notes;
  if (!compass.doubt.empty()) object["notes"].push_back(compass.doubt);
  return object;
}

std::string end_line(const RunwayEnd& end, double year) {
  const Runway& runway = end.runway;
  const ByCompass compass = by_compass(runway, year);
  std::string notes, magnetic;
  if (compass.variation_deg)
    magnetic = fmt::format(", {:03.0f}° magnetic (variation {:.0f}° {})", *compass.bearing_deg,
                           std::abs(*compass.variation_deg), *compass.variation_deg < 0.0 ? "west" : "east");
  if (!compass.doubt.empty()) notes += "; " + compass.doubt;
  for (const auto& note : end.notes) notes += "; " + note;
  return fmt::format("  {}/{}  {:03.0f}° true{}, {} ft long, elevation {} ft{}\n", runway.airfield,
                     runway.designator, runway.true_bearing.value, magnetic, whole(runway.length.value),
                     whole(runway.elevation.value), notes);
}

Json left_out_to_json(const std::vector<LeftOutEnd>& left_out) {
  Json list = Json::array();
  for (const auto& end : left_out)
    list.push_back({{"airfield", end.airfield}, {"designator", end.designator}, {"reason", end.reason}});
  return list;
}

std::string left_out_line(const LeftOutEnd& end) {
  return fmt::format("  {}/{}  left out: {}\n", end.airfield, end.designator.empty() ? "?" : end.designator,
                     end.reason);
}

ExitCode search_table(const RunwaysOptions& options) {
  const auto bytes = options.table.empty() ? runway_data() : read_file(options.table);
  if (!bytes) return input_is_at_fault(bytes.error());
  const std::string name = options.table.empty() ? "runway data" : options.table;
  const auto runways = runways_of(*bytes, name, options.text);
  if (!runways) return input_is_at_fault(runways.error());
  constexpr std::size_t most = 40;
  const auto idents = idents_beginning(*bytes, name, options.text, most);
  if (!idents) return input_is_at_fault(idents.error());
  if (idents->empty())
    return input_is_at_fault(
        {fmt::format("nothing in the runway data begins with '{}'", shown(options.text))});
  const double year = decimal_year(now_unix_s());
  if (options.json) {
    Json object = {{"schema", "glidewright.runways/1"}, {"runways", Json::array()}, {"airfields", *idents}};
    for (const auto& end : runways->ends) object["runways"].push_back(end_to_json(end, year));
    object["left_out"] = left_out_to_json(runways->left_out);
    write_json(object);
    return ExitCode::done;
  }
  std::string text;
  for (const auto& end : runways->ends) text += end_line(end, year);
  for (const auto& end : runways->left_out) text += left_out_line(end);
  if (text.empty()) {
    text = "  Airfields that begin so:";
    for (const auto& ident : *idents) text += " " + ident;
    text += idents->size() == most ? " ...\n" : "\n";
  }
  const Page page = standard_output_page();
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

/// A runway of the user's own as it is landed on: beyond the displaced threshold.
ExitCode show_runway(const RunwaysOptions& options) {
  RunwayEnd end;
  const auto runway = read_runway(options.text, end.notes);
  if (!runway) return input_is_at_fault(runway.error());
  end.runway = *runway;
  const double year = decimal_year(now_unix_s());
  if (options.json) {
    Json object = {{"schema", "glidewright.runways/1"},
                   {"runways", Json::array()},
                   {"airfields", Json::array()},
                   {"left_out", Json::array()}};
    object["runways"].push_back(end_to_json(end, year));
    write_json(object);
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  write_standard_output(printed(end_line(end, year), page));
  return ExitCode::done;
}

ExitCode run(const RunwaysOptions& options) {
  if (options.action == "import") return import_table(options);
  return options.action == "show" ? show_runway(options) : search_table(options);
}

}  // namespace

void add_runways(Program& program) {
  const auto options = std::make_shared<RunwaysOptions>();
  const auto command =
      program.add_command("runways", "bring in the open table runways.csv, and search it for --runway");
  command
      .add_option("ACTION", options->action,
                  "import: the file TEXT; search: airfields that begin with TEXT; show: the runway TEXT, as "
                  "for --runway")
      .one_of({"import", "search", "show"})
      .required();
  command.add_option("TEXT", options->text, "a file, or an airfield's ident").required();
  command.add_option("--table", options->table, "search this file instead of the imported one")
      .type_name("FILE");
  add_json_flag(command, options->json);
  command.footer(
      "Kept in the user's data folder, or where GLIDEWRIGHT_RUNWAYS says. A runway is then named as "
      "AIRFIELD/DESIGNATOR:\n"
      "  glidewright runways import runways.csv\n"
      "  glidewright runways search EDXX\n"
      "  glidewright runways show data/demo/harrow-fen-24.json\n"
      "  glidewright brief --runway EDXX/24 --wind 240/12\n");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

#include "apps/cli/commands/commands.hpp"

#include "apps/cli/terminal.hpp"

namespace glidewright {

void add_altimeter_options(const Command& command, std::optional<double>& hpa, std::optional<double>& inhg,
                           const std::string& help) {
  const auto in_hpa = command.add_option("--altimeter-hpa", hpa, help).type_name("HPA");
  command.add_option("--altimeter-inhg", inhg, "the same in inches").type_name("INHG").excludes(in_hpa);
}

void add_metar_option(const Command& command, std::string& metar) {
  command
      .add_option(
          "--metar", metar,
          "weather reports as text, for wind, temperature and altimeter; of several the nearest in time")
      .type_name("TEXT");
}

void add_height_unit_option(const Command& command, std::string& height_unit) {
  command
      .add_option(
          "--height-unit", height_unit,
          "what the log's heights are written in, ft or m, where its format or header say otherwise and the "
          "quality of the log doubts them")
      .type_name("UNIT")
      .one_of({"ft", "m"});
}

void add_plan_options(const Command& command, SettingOptions& options) {
  command
      .add_option(
          "--runway", options.runway,
          "a JSON file, AIRFIELD/DESIGNATOR, or lat,lon,true-bearing,elevation-ft,length-ft of the threshold")
      .type_name("R")
      .required();
  command.add_option("--wind", options.wind, "true, from/speed in knots: 240/12, 240/12G18, calm")
      .type_name("W");
  add_metar_option(command, options.metar);
  add_setting_options(command, options);
}

void add_fleet_option(const Command& command, std::string& records) {
  command
      .add_option(
          "--records", records,
          "a school's records, whose airplanes and airfields may then be named: a file, or postgresql://...")
      .type_name("FILE");
}

void add_setting_options(const Command& command, SettingOptions& options) {
  command.add_option("--airplane", options.airplane, "a profile's file, or its id in data/airplanes")
      .type_name("A");
  add_fleet_option(command, options.records);
  command.add_option("--temperature-c", options.temperature_c, "at the field; else the standard's")
      .type_name("C");
  add_altimeter_options(command, options.altimeter_hpa, options.altimeter_inhg,
                        "altimeter setting; else 1013.25");
  command.add_option("--weight-lb", options.weight_lb, "of the day; else the maximum").type_name("LB");
  command.add_option("--touchdown-point-ft", options.touchdown_point_ft, "past the threshold; else 1000")
      .type_name("FT");
  command.add_option("--pattern-height-ft", options.pattern_height_ft, "above the field; else 1000")
      .type_name("FT");
  command.add_option("--spacing-nm", options.spacing_nm, "downwind from the runway; else 0.5")
      .type_name("NM");
  command.add_option("--pattern-speed-kt", options.pattern_speed_kt, "at abeam; else 85").type_name("KT");
  command.add_option("--traffic", options.traffic, "left or right; else left")
      .type_name("SIDE")
      .one_of({"left", "right"});
  command
      .add_option("--technique", options.technique,
                  "speeds, flaps, slip as a JSON file; else as usually taught")
      .type_name("F");
}

Option add_json_flag(const Command& command, bool& json) {
  return command.add_flag("--json", json, "print one JSON object and nothing else");
}

void add_examples(const Command& command, const std::string& examples) {
  command.footer("Examples, from the folder of the clone:\n" + examples);
}

ExitCode input_is_at_fault(const Error& error) {
  write_error(error.sentence);
  return ExitCode::input_at_fault;
}

void write_json(const Json& object) {
  // A file's name need not be UTF-8.
  write_standard_output(object.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

ExitCode say(const std::string& sentence) {
  const Page page = standard_output_page();
  write_standard_output(printed(wrapped(sentence, {}, page), page));
  return ExitCode::done;
}

void add_records_option(const Command& command, std::string& records, const std::string& help) {
  command.add_option("--records", records, help).type_name("FILE").required();
}

void add_by_option(const Command& command, std::string& by) {
  command.add_option("--by", by, "who does it: kept with what is changed").type_name("NAME").required();
}

}  // namespace glidewright

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/log_file.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/desk_log.hpp"
#include "formats/file.hpp"
#include "formats/track_writers.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct ConvertOptions {
  std::string log;
  std::string to;
  std::string columns;
  std::string height_unit;
  bool force = false;
  bool json = false;
};

struct Writer {
  const char* ending;
  std::string (*write)(const TrackLog&);
  bool holds_panel;
};

constexpr Writer k_writers[] = {
    {".gpx", write_gpx, false}, {".csv", write_csv, true}, {".geojson", write_geojson, false}};

const Writer* writer_of(const std::string& file) {
  const auto writer = std::find_if(std::begin(k_writers), std::end(k_writers),
                                   [&](const Writer& one) { return file.ends_with(one.ending); });
  return writer == std::end(k_writers) ? nullptr : writer;
}

std::size_t segments_of(const TrackLog& log) {
  std::size_t segments = log.fixes.empty() ? 0 : 1;
  for (std::size_t i = 1; i < log.fixes.size(); ++i)
    segments += log.fixes[i].segment != log.fixes[i - 1].segment;
  return segments;
}

std::optional<Error> write_out(const ConvertOptions& options, const std::string& bytes) {
  if (options.force) return write_file_atomically(options.to, bytes);
  std::error_code ignored;
  if (std::filesystem::exists(options.to, ignored))
    return Error{options.to + ": is there already; --force replaces it"};
  return write_new_file_atomically(options.to, bytes);
}

/// What of the log the new file does not hold, and what was repaired in reading it.
std::vector<std::string> notes_of(const TrackLog& log, const Writer& writer) {
  auto notes = log.notes;
  if (!log.panel.empty() && !writer.holds_panel)
    notes.push_back(fmt::format("{} rows of the panel are left out; only .csv holds them", log.panel.size()));
  return notes;
}

Json report_of(const ConvertOptions& options, const TrackLog& log, const std::vector<std::string>& notes) {
  Json object;
  object["schema"] = "glidewright.convert/1";
  object["log"] = {{"file", options.log}, {"format", log.format}, {"sha256", log.sha256}};
  object["written"] = options.to;
  object["fixes"] = log.fixes.size();
  object["segments"] = segments_of(log);
  object["notes"] = notes;
  return object;
}

ExitCode run(const ConvertOptions& options) {
  const auto* writer = writer_of(options.to);
  if (writer == nullptr) {
    write_error("--to " + options.to + ": expected a name that ends in .gpx, .csv or .geojson");
    return ExitCode::wrong_usage;
  }
  const auto log = read_log({options.log, {}, options.columns, options.height_unit});
  if (!log) return input_is_at_fault(log.error());
  if (is_desk_flight(log->notes)) return input_is_at_fault({options.log + ": is " + k_desk_note});
  if (const auto failed = write_out(options, writer->write(*log))) return input_is_at_fault(*failed);
  const auto notes = notes_of(*log, *writer);
  if (options.json) {
    write_json(report_of(options, *log, notes));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  const auto segments = segments_of(*log);
  std::string text =
      wrapped(fmt::format("{} fixes in {} {} written to {}.", whole(static_cast<double>(log->fixes.size())),
                          segments, segments == 1 ? "segment" : "segments", options.to),
              {}, page);
  for (const auto& note : notes) text += wrapped("- " + note, {2, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

}  // namespace

void add_convert(Program& program) {
  const auto options = std::make_shared<ConvertOptions>();
  const auto command = program.add_command("convert", "write a track log as GPX, CSV or GeoJSON");
  command.add_option("LOG", options->log, "a track log, as for debrief").required();
  command
      .add_option("--to", options->to,
                  "the new file; its ending, .gpx, .csv or .geojson, says what it becomes")
      .type_name("FILE")
      .required();
  command
      .add_option("--columns", options->columns, "how to read the columns of a CSV: debrief --show-columns")
      .type_name("FILE");
  add_height_unit_option(command, options->height_unit);
  command.add_flag("--force", options->force, "replace FILE where it is there");
  add_json_flag(command, options->json);
  add_examples(
      command,
      "  glidewright convert data/demo/reference-flight/touch-and-goes.gpx --to build/lesson.csv --force\n"
      "  glidewright convert tests/data/flights/F12/F12.nmea --to build/lesson.geojson --force\n"
      "Repairs of reading are made (order of times, unreadable values) and listed; nothing is smoothed.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

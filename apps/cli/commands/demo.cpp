#include <fmt/format.h>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "apps/cli/words/debrief_text.hpp"
#include "formats/file.hpp"
#include "formats/lesson_json.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

// The wind of the reference flight as a report would have given it: its README says 9 kt from 209 degrees.
constexpr const char* k_reference_wind = "210/9";
constexpr double k_reference_point_ft = 600.0;

std::string title(const std::string& text) {
  return inked(ink::k_strong, "== " + text + " ==") + "\n\n";
}

Result<std::string> lesson_part(const std::filesystem::path& demo, const Page& page) {
  const auto lesson_path = demo / "lesson.json";
  const auto bytes = read_file(lesson_path.string());
  if (!bytes) return bytes.error();
  const auto lesson = read_lesson_json(*bytes, shown_path(lesson_path));
  if (!lesson) return lesson.error();

  std::string text = title("1  Before flight: today's plan");
  text += wrapped(lesson->description + " The airfield and the airplane are invented too.", {0, 0}, page);
  for (const auto& student : lesson->students) {
    text += wrapped(
        fmt::format("{}, {} landings so far. {}", student.name, whole(student.landings_so_far), student.note),
        {2, 4}, page);
  }
  SettingOptions options;
  options.runway = shown_path(demo / lesson->runway_file);
  options.airplane = lesson->airplane;
  options.wind = lesson->wind;
  options.traffic = lesson->traffic;
  options.temperature_c = lesson->temperature_c;
  options.altimeter_hpa = lesson->altimeter_hpa;
  options.touchdown_point_ft = lesson->touchdown_point_ft;
  const auto brief = make_brief(options, lesson->standard);
  if (!brief) return brief.error();
  return text + "\n" + brief_text(*brief, page);
}

Result<std::string> debrief_part(const std::filesystem::path& demo, const Page& page) {
  DebriefOptions options;
  const auto folder = demo / "reference-flight";
  options.runway = shown_path(folder / "runway.json");
  options.touchdown_point_ft = k_reference_point_ft;
  options.wind = k_reference_wind;
  const auto one = debrief_log(shown_path(folder / "touch-and-goes.gpx"), options);
  if (!one) return one.error();
  std::string text = "\n\n" + title("2  After flight: the debrief of a track log");
  text += wrapped(
      "This log is not of the lesson above: it is a reference flight flown by a public flight-dynamics "
      "library, three "
      "approaches with known touchdowns (+389, \u2212266 and +88 ft past the point). Its README tells how it "
      "was made.",
      {0, 0}, page);
  return text + "\n" + debrief_text(*one, page, Pictures::drawn);
}

std::string next_part(const std::filesystem::path& demo) {
  const std::string folder = shown_path(demo);
  std::string text = "\n\n" + title("3  Next, with your own");
  for (const auto& line :
       {fmt::format("build/release/glidewright brief --runway {}/harrow-fen-24.json --wind 270/10", folder),
        fmt::format("build/release/glidewright debrief {}/reference-flight/touch-and-goes.gpx --wind {}",
                    folder, k_reference_wind),
        std::string("build/release/glidewright debrief YOUR.gpx --wind 240/12"),
        std::string("build/release/glidewright --help")}) {
    text += "  " + line + '\n';  // never wrapped: a command must survive being copied
  }
  return text;
}

ExitCode run() {
  const auto data = data_folder();
  if (!data) return input_is_at_fault(data.error());
  const auto demo = *data / "demo";
  const Page page = standard_output_page();
  for (const auto& part : {lesson_part(demo, page), debrief_part(demo, page)}) {
    if (!part) return input_is_at_fault(part.error());
    write_standard_output(printed(*part, page));
  }
  write_standard_output(printed(next_part(demo), page));
  return ExitCode::done;
}

}  // namespace

void add_demo(Program& program) {
  const auto command = program.add_command("demo", "a plan and a debrief on data that come with the program");
  command.footer(
      "The lesson, its airfield and its students are invented; the track log is a simulated reference "
      "flight.");
  command.runs(run);
}

}  // namespace glidewright

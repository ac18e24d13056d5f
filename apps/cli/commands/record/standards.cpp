// record standard: the texts by which attempts were judged
#include "apps/cli/inputs/standards.hpp"

#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"
#include "store/record_json.hpp"

namespace glidewright::record {
namespace {

/// "version 2, set by the chief instructor", or the edition.
std::string whose(const Standard& standard) {
  if (standard.version.empty()) return standard.edition;
  return fmt::format("version {}, set by {}", standard.version, standard.set_by);
}

ExitCode add(const Options& options) {
  const auto file = find_standard_file(options.file);
  if (!file) return input_is_at_fault(file.error());
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto kept = records->keep_standard(file->standard.id, file->bytes, stamp_of(options));
  if (!kept) return input_is_at_fault(kept.error());
  return say(fmt::format("{} is kept, {}; --standard {} names it.", kept->standard.id, whose(kept->standard),
                         kept->standard.id));
}

ExitCode list(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto kept = records->kept_standards();
  if (!kept) return input_is_at_fault(kept.error());
  if (options.json) {
    write_json(standards_to_json(*kept));
    return ExitCode::done;
  }
  if (kept->empty()) return say("No standard is kept yet; the first attempt that is filed brings its own.");
  const Page page = standard_output_page();
  std::string text;
  for (const KeptStandard& one : *kept)
    text += wrapped(fmt::format("{}: {}, {}{}; kept since {} by {}", one.standard.id, one.standard.name,
                                whose(one.standard),
                                one.standard.box ? ", " + box_words(*one.standard.box) : std::string(),
                                iso8601_utc(one.added.unix_s, 0).substr(0, 10), one.added.by),
                    {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

/// The text itself, to be kept as a file again.
ExitCode show(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto kept = records->kept_standard(options.name);
  if (!kept) return input_is_at_fault(kept.error());
  if (!*kept)
    return input_is_at_fault(
        {fmt::format("no standard {} is kept; record standard list names them", options.name)});
  write_standard_output(Json::parse((*kept)->content).dump(2) + "\n");
  return ExitCode::done;
}

}  // namespace

void add_standards(const Command& record, const Shared& options) {
  const auto command = record.add_command(
      "standard", "the standards by which attempts were judged, each with its text as it was then");
  const auto added =
      part(command, options, "add", "keep one before anything is judged by it, for the page to offer", add);
  added.add_option("FILE", options->file, "a standard's file, or its id in data/standards").required();
  add_by(added, options);
  const auto listed = part(command, options, "list", "all of them, every version", list);
  add_json_flag(listed, options->json);
  const auto shown = part(command, options, "show", "the text of one, as a file to read again", show);
  shown.add_option("NAME", options->name, "ID, or ID:VERSION of a house standard").required();
}

}  // namespace glidewright::record

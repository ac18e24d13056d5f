// record airplane, airfield: what the school has once for all its students
#include "apps/cli/inputs/fleet.hpp"

#include <fmt/format.h>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "formats/file.hpp"
#include "formats/runway_json.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"
#include "store/record_json.hpp"

namespace glidewright::record {
namespace {

std::string day_of(double unix_s) {
  return iso8601_utc(unix_s, 0).substr(0, 10);
}

std::string capital(std::string text) {
  text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

/// A profile as it stands in its file, or all the runways in one list; wrong ones are named by file and line.
Result<std::string> content_of(FleetKind kind, const Options& options) {
  if (kind == FleetKind::airplane) {
    auto file = find_airplane_file(options.file);
    if (!file) return file.error();
    return std::move(file->bytes);
  }
  Json list = Json::array();
  for (const std::string& name : options.files) {
    const auto bytes = read_file(name);
    if (!bytes) return bytes.error();
    const auto runway = read_runway_json(*bytes, name);
    if (!runway) return runway.error();
    list.push_back(Json::parse(*bytes));
  }
  return list.dump();
}

ExitCode add(FleetKind kind, const Options& options) {
  const auto content = content_of(kind, options);
  if (!content) return input_is_at_fault(content.error());
  auto records = Records::open(options.records);
  if (!records) return input_is_at_fault(records.error());
  const auto item = records->add_to_fleet(kind, options.name, *content, stamp_of(options));
  if (!item) return input_is_at_fault(item.error());
  return say(fmt::format("{} is {} {}.", item->name, name_of(kind), item->number));
}

/// Opens records that are there, and finds the airplane or airfield of the options in them.
struct OpenedFleet {
  Records records;
  FleetItem item;
};
Result<OpenedFleet> open_for_item(FleetKind kind, const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return records.error();
  auto item = records->find_in_fleet(kind, options.name);
  if (!item) return item.error();
  return OpenedFleet{std::move(*records), std::move(*item)};
}

ExitCode change(FleetKind kind, const Options& options) {
  const auto content = content_of(kind, options);
  if (!content) return input_is_at_fault(content.error());
  auto opened = open_for_item(kind, options);
  if (!opened) return input_is_at_fault(opened.error());
  const auto item =
      opened->records.change_in_fleet(kind, opened->item.number, *content, options.reason, stamp_of(options));
  if (!item) return input_is_at_fault(item.error());
  return say(fmt::format("{} {} has version {} now; the earlier ones stay.", capital(name_of(kind)),
                         item->name, item->versions.size()));
}

ExitCode list(FleetKind kind, const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto items = options.trash ? records->fleet_in_trash(kind) : records->fleet(kind);
  if (!items) return input_is_at_fault(items.error());
  if (options.json) {
    write_json(fleet_to_json(kind, *items));
    return ExitCode::done;
  }
  if (items->empty())
    return say(options.trash ? fmt::format("No {} is in the trash.", name_of(kind))
                             : fmt::format("No {0}s yet; record {0} add makes the first.", name_of(kind)));
  const Page page = standard_output_page();
  std::string text;
  for (const FleetItem& one : *items)
    text += wrapped(fmt::format("{} {}: {}, version {} of {} by {}", name_of(kind), one.number, one.name,
                                one.versions.size(), day_of(one.versions.back().stamp.unix_s),
                                one.versions.back().stamp.by),
                    {0, 4}, page);
  write_standard_output(printed(text, page));
  return ExitCode::done;
}

Result<std::string> contents_text(const FleetItem& item, const Page& page) {
  if (item.kind == FleetKind::airplane) {
    const auto file = airplane_file_of(item);
    if (!file) return file.error();
    const Handbook& known = file->handbook;
    std::string text = labelled("Profile", known.name.substr(item.name.size() + 2), page);
    return text + labelled("Glide",
                           fmt::format("{} at {:.0f} kt, {}", decimal(known.best_glide_ratio.value, 1),
                                       known.best_glide_speed_kcas.value, known.best_glide_ratio.source),
                           page);
  }
  std::string text;
  for (const Json& one : Json::parse(item.versions.back().content)) {
    const auto runway = read_runway_json(one.dump(), item.name);
    if (!runway) return runway.error();
    text += labelled(
        text.empty() ? "Runways" : "",
        fmt::format("{}: {} ft long, {:.0f}° true, {} ft above the sea", runway->designator,
                    whole(runway->length.value), runway->true_bearing.value, whole(runway->elevation.value)),
        page);
  }
  return text;
}

std::string versions_text(const FleetItem& item, const Page& page) {
  std::string text = heading("Versions");
  for (std::size_t i = 0; i < item.versions.size(); ++i) {
    const FleetVersion& one = item.versions[i];
    text += wrapped(fmt::format("{}: {} by {}{}{}", i + 1, iso8601_utc(one.stamp.unix_s, 0), one.stamp.by,
                                one.reason.empty() ? "" : ": ", one.reason),
                    {2, 4}, page);
  }
  return text;
}

constexpr int k_attempts_shown = 20;

std::string flown_text(const std::vector<FleetAttempt>& flown, const Page& page) {
  std::string text = heading("Filed last");
  if (flown.empty()) text += wrapped("No attempt is filed under it yet.", {2, 4}, page);
  for (const FleetAttempt& one : flown)
    text += wrapped(fmt::format("attempt {} of student {}: {}, {} of {}", one.attempt, one.student,
                                iso8601_utc(one.time_unix_s, 0), one.index, one.log_name),
                    {2, 4}, page);
  return text;
}

ExitCode show(FleetKind kind, const Options& options) {
  auto opened = open_for_item(kind, options);
  if (!opened) return input_is_at_fault(opened.error());
  std::vector<FleetAttempt> flown;
  if (kind == FleetKind::airplane) {
    auto latest = opened->records.latest_attempts_in(opened->item.uid, k_attempts_shown);
    if (!latest) return input_is_at_fault(latest.error());
    flown = std::move(*latest);
  }
  if (options.json) {
    write_json(fleet_item_shown_to_json(opened->item, flown));
    return ExitCode::done;
  }
  const Page page = standard_output_page();
  const auto contents = contents_text(opened->item, page);
  if (!contents) return input_is_at_fault(contents.error());
  write_standard_output(printed(labelled(capital(name_of(kind)), opened->item.name, page) + *contents +
                                    versions_text(opened->item, page) +
                                    (kind == FleetKind::airplane ? flown_text(flown, page) : ""),
                                page));
  return ExitCode::done;
}

ExitCode remove(FleetKind kind, const Options& options) {
  auto opened = open_for_item(kind, options);
  if (!opened) return input_is_at_fault(opened.error());
  if (const auto failed = opened->records.throw_from_fleet(kind, opened->item.number, stamp_of(options)))
    return input_is_at_fault(*failed);
  return say(fmt::format(
      "{} {} is in the trash; what was filed under it stays. `record undo --by '{}'` takes it out "
      "again.",
      capital(name_of(kind)), opened->item.name, options.by));
}

template <FleetKind kind, ExitCode (*run)(FleetKind, const Options&)>
ExitCode of(const Options& options) {
  return run(kind, options);
}

void add_content(const Command& command, const Shared& options, FleetKind kind) {
  if (kind == FleetKind::airplane)
    command.add_option("PROFILE", options->file, "a profile's file, or its id in data/airplanes").required();
  else
    command
        .add_option("RUNWAY", options->files, "the file of each of its runways, one landing direction each")
        .required();
}

template <FleetKind kind>
void add_kind(const Command& record, const Shared& options) {
  const std::string word = name_of(kind);
  const auto command =
      record.add_command(word, kind == FleetKind::airplane
                                   ? "the airplanes of the school, each with its profile and who said it"
                                   : "the airfields of the school, each with its runways and who said it");
  const std::string name_help = "as the school calls it, or its number";
  const auto added = part(command, options, "add", ("an " + word).c_str(), of<kind, add>);
  added.add_option("NAME", options->name, "as the school calls it").required();
  add_content(added, options, kind);
  add_by(added, options);
  const auto changed =
      part(command, options, "change", "say it anew; what was said before stays", of<kind, change>);
  changed.add_option("NAME", options->name, name_help).required();
  add_content(changed, options, kind);
  changed.add_option("--reason", options->reason, "why").type_name("TEXT").required();
  add_by(changed, options);
  const auto listed = part(command, options, "list", "all of them, by name", of<kind, list>);
  listed.add_flag("--trash", options->trash, "those that were removed");
  add_json_flag(listed, options->json);
  const auto shown = part(command, options, "show", "one of them, with every version", of<kind, show>);
  shown.add_option("NAME", options->name, name_help).required();
  add_json_flag(shown, options->json);
  if (kind == FleetKind::airplane) add_fleet_fit(command, options);
  const auto removed =
      part(command, options, "remove", "into the trash; record undo takes it out again", of<kind, remove>);
  removed.add_option("NAME", options->name, name_help).required();
  add_by(removed, options);
}

}  // namespace

void add_fleet(const Command& record, const Shared& options) {
  add_kind<FleetKind::airplane>(record, options);
  add_kind<FleetKind::airfield>(record, options);
}

}  // namespace glidewright::record

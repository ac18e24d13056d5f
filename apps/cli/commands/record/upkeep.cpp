// record backup, check, restore
#include <fmt/format.h>

#include <filesystem>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/terminal.hpp"
#include "formats/time.hpp"

namespace glidewright::record {
namespace {

ExitCode back_up(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  if (const auto failed = records->back_up(options.file)) return input_is_at_fault(*failed);
  return say("A whole copy lies in " + options.file + ".");
}

ExitCode check(const Options& options) {
  auto records = Records::open(options.records, Records::Opening::existing);
  if (!records) return input_is_at_fault(records.error());
  const auto logs = records->check_whole();
  if (!logs) return input_is_at_fault(logs.error());
  return say(fmt::format("Whole: every table, and the bytes of {}.", counted(*logs, "log")));
}

/// With the journal's files, which belong to the records of before and would spoil those of the backup.
void move_aside(const std::string& file, const std::string& aside) {
  for (const char* end : {"", "-wal", "-shm"})
    if (std::filesystem::exists(file + end)) std::filesystem::rename(file + end, aside + end);
}

/// Made from the backup beside the target first, so that the target is there whole or not at all.
std::optional<Error> copy_whole(const std::string& backup, const std::string& target) {
  auto records = Records::open(backup, Records::Opening::existing);
  if (!records) return records.error();
  const auto logs = records->check_whole();
  if (!logs) return logs.error();
  return records->back_up(target);
}

ExitCode restore(const Options& options) {
  const std::string& target = options.records;
  std::error_code ignored;
  const bool there = std::filesystem::exists(target, ignored);
  if (there && !options.replace)
    return input_is_at_fault({target + ": is there already; --replace moves it aside first"});
  const std::string fresh = target + ".restored";
  std::filesystem::remove(fresh, ignored);
  if (const auto failed = copy_whole(options.file, fresh)) return input_is_at_fault(*failed);
  std::string aside;
  try {
    if (there) {
      std::string moment = iso8601_utc(stamp_of(options).unix_s, 0);
      std::replace(moment.begin(), moment.end(), ':', '-');
      aside = target + ".replaced-" + moment;
      move_aside(target, aside);
    }
    std::filesystem::rename(fresh, target);
  } catch (const std::filesystem::filesystem_error& error) {
    return input_is_at_fault({target + ": " + error.code().message()});
  }
  return say(fmt::format("{} is what {} was, read through and whole.{}", target, options.file,
                         aside.empty() ? "" : " What was there lies in " + aside + "."));
}

}  // namespace

void add_upkeep(const Command& record, const Shared& options) {
  part(record, options, "backup", "a copy, whole also while others write", back_up)
      .add_option("FILE", options->file, "the copy; must not be there yet")
      .required();
  part(record, options, "check", "read all records and logs, and say whether they are whole", check);
  const auto restored =
      part(record, options, "restore", "bring a backup back, after reading it through", restore);
  restored.add_option("BACKUP", options->file, "what record backup wrote").required();
  restored.add_flag("--replace", options->replace, "move aside what is there");
}

}  // namespace glidewright::record

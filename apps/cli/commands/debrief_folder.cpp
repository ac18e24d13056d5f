#include "apps/cli/commands/debrief_folder.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/log_folder.hpp"
#include "apps/cli/inputs/stop_wish.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/summary_text.hpp"
#include "formats/file.hpp"
#include "formats/sha256.hpp"
#include "formats/summary_json.hpp"

namespace glidewright {
namespace {

/// A file that is added to, a whole line at a time.
class Journal {
 public:
  /// Error where it cannot be written.
  static Result<std::unique_ptr<Journal>> open(const std::string& path) {
    std::map<std::string, SummaryRow> done;
    bool torn = false;
    if (const auto bytes = read_file(path)) {
      for (auto& row : read_journal(*bytes)) done[row.key] = std::move(row);
      torn = !bytes->empty() && bytes->back() != '\n';
    }
    std::FILE* file = std::fopen(path.c_str(), "ab");
    if (file == nullptr) return Error{path + ": the journal cannot be written"};
    // A line that was cut off stays by itself.
    if (torn) std::fputc('\n', file);
    return std::unique_ptr<Journal>(new Journal(file, std::move(done)));
  }
  ~Journal() { std::fclose(file_); }
  Journal(const Journal&) = delete;
  Journal& operator=(const Journal&) = delete;

  const SummaryRow* find(const std::string& key) const {
    const auto at = done_.find(key);
    return at == done_.end() ? nullptr : &at->second;
  }
  /// False where the disk is full or the like.
  bool add(const SummaryRow& row) {
    const auto line = journal_line(row);
    return std::fwrite(line.data(), 1, line.size(), file_) == line.size() && std::fflush(file_) == 0;
  }

 private:
  Journal(std::FILE* file, std::map<std::string, SummaryRow> done) : file_(file), done_(std::move(done)) {}

  std::FILE* file_;
  std::map<std::string, SummaryRow> done_;
};

/// All that the answers depend on beside the logs: the options, and what stands in the files that they name.
std::string question_of(const DebriefOptions& options) {
  std::string question = GLIDEWRIGHT_VERSION;
  const auto add = [&](const std::string& text) {
    question += '\n' + text;
    if (text.empty() || is_folder(text)) return;
    if (const auto bytes = read_file(text)) question += '\n' + sha256_hex(*bytes);
  };
  std::vector<std::string> ignored;
  const auto airplane = find_airplane_file(airplane_or_generic(options.airplane, ignored));
  question += airplane ? sha256_hex(airplane->bytes) : options.airplane;
  if (!options.records.empty()) {
    // What the school knows of them may be another version by now.
    const auto named = named_in_records(options.records, options.airplane, options.runway);
    if (named && named->airplane) question += '\n' + named->airplane->profile_sha256;
    if (named && named->runway) {
      const Runway& runway = *named->runway;
      question +=
          fmt::format("\n{},{},{},{},{}", runway.threshold.latitude_deg, runway.threshold.longitude_deg,
                      runway.true_bearing.value, runway.elevation.value, runway.length.value);
    }
  }
  for (const auto* text :
       {&options.plan, &options.columns, &options.runway, &options.wind, &options.metar, &options.traffic})
    add(*text);
  question += '\n' + options.height_unit;
  for (const auto& standard : options.standards) add(standard);
  for (const auto& number : {options.touchdown_point_ft, options.temperature_c, options.altimeter_hpa,
                             options.altimeter_inhg, options.weight_lb}) {
    question += number ? fmt::format("\n{}", *number) : "\n-";
  }
  return question;
}

SummaryRow debrief_file(const std::string& file, const DebriefOptions& options) {
  SummaryRow row;
  // A share of work must not throw: one log takes the blame for itself.
  try {
    const auto one = debrief_log_without_bands(file, options);
    if (one) return summary_row(*one);
    row.not_debriefed_because = one.error().sentence;
  } catch (const std::bad_alloc&) {
    row.not_debriefed_because = file + ": out of memory";
  } catch (const std::exception& error) {
    row.not_debriefed_because = file + ": this should not have happened: " + error.what();
  }
  row.file = file;
  return row;
}

class FolderRun {
 public:
  FolderRun(std::vector<std::string> files, const DebriefOptions& options, Journal* journal)
      : files_(std::move(files)),
        options_(options),
        journal_(journal),
        question_(question_of(options)),
        rows_(files_.size()) {}

  Summary work() {
    const StopWish stop;
    Progress shown("debriefing");
    progress_ = &shown;
    on_all_cores()(static_cast<int>(files_.size()), [&](int i) {
      if (!StopWish::made()) work_on(static_cast<std::size_t>(i));
    });
    progress_ = nullptr;
    Summary summary;
    summary.files = files_.size();
    for (auto& row : rows_) {
      if (row) summary.rows.push_back(*std::move(row));
    }
    return summary;
  }
  bool journal_failed() const { return journal_failed_; }

 private:
  void work_on(std::size_t i) {
    const auto key = key_of(files_[i]);
    const SummaryRow* before = journal_ != nullptr && !key.empty() ? journal_->find(key) : nullptr;
    // A reason names the file; a log that was moved gets its own.
    if (before != nullptr && !before->not_debriefed_because.empty() && before->file != files_[i])
      before = nullptr;
    SummaryRow row = before != nullptr ? *before : debrief_file(files_[i], options_);
    row.file = files_[i];
    row.key = key;
    const std::lock_guard lock(mutex_);
    if (before == nullptr && journal_ != nullptr && !key.empty())
      journal_failed_ = !journal_->add(row) || journal_failed_;
    refused_ += row.not_debriefed_because.empty() ? 0 : 1;
    rows_[i] = std::move(row);
    ++done_;
    say_how_far();
  }

  /// Empty where the file cannot be read, which is not worth keeping.
  std::string key_of(const std::string& file) const {
    if (journal_ == nullptr) return {};
    const auto bytes = read_file(file);
    return bytes ? sha256_hex(question_ + '\n' + sha256_hex(*bytes)) : std::string();
  }

  void say_how_far() {
    const auto now = std::chrono::steady_clock::now();
    if (done_ < files_.size() && now - said_ < std::chrono::milliseconds(100)) return;
    said_ = now;
    progress_->say(progress_words(done_, files_.size(), refused_));
  }

  std::vector<std::string> files_;
  const DebriefOptions& options_;
  Journal* journal_;
  std::string question_;
  std::vector<std::optional<SummaryRow>> rows_;
  std::mutex mutex_;
  std::size_t done_ = 0;
  std::size_t refused_ = 0;
  bool journal_failed_ = false;
  Progress* progress_ = nullptr;
  std::chrono::steady_clock::time_point said_{};
};

}  // namespace

ExitCode debrief_folders(const DebriefOptions& options, const std::string& journal, bool json) {
  auto files = files_below(options.logs);
  if (!files) return input_is_at_fault(files.error());
  std::error_code ignored;
  std::erase_if(*files, [&](const std::string& file) {
    return !journal.empty() && std::filesystem::equivalent(file, journal, ignored);
  });
  if (files->empty())
    return input_is_at_fault(Error{options.logs.front() + ": no file in this folder; expected track logs"});
  std::unique_ptr<Journal> kept;
  if (!journal.empty()) {
    auto opened = Journal::open(journal);
    if (!opened) return input_is_at_fault(opened.error());
    kept = *std::move(opened);
  }
  FolderRun run(*std::move(files), options, kept.get());
  const auto summary = run.work();
  if (json) {
    write_json(summary_to_json(summary));
  } else {
    const Page page = standard_output_page();
    write_standard_output(printed(summary_text(summary, page), page));
  }
  if (run.journal_failed())
    return input_is_at_fault(Error{journal + ": the journal could not be written to the end"});
  if (summary.rows.size() < summary.files) {
    write_error(fmt::format("stopped after {} of {} files{}", summary.rows.size(), summary.files,
                            journal.empty() ? "" : "; the same command goes on from there"));
    return ExitCode::input_at_fault;
  }
  return totals_of(summary).debriefed > 0 ? ExitCode::done : ExitCode::input_at_fault;
}

}  // namespace glidewright

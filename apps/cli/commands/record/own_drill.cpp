// record drill: moments of a student's own flights, to be judged before anything is told
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/asked_answer.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/fleet.hpp"
#include "apps/cli/inputs/working_folder.hpp"
#include "apps/cli/picture/drill_sketch.hpp"
#include "apps/cli/picture/on_page.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/drill/own_flight.hpp"
#include "engine/lanes/philox.hpp"
#include "formats/drill_over_time.hpp"
#include "formats/file.hpp"
#include "formats/own_drill_json.hpp"
#include "formats/time.hpp"
#include "formats/words/drill_words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/own_drill_words.hpp"

namespace glidewright::record {
namespace {

constexpr double k_usual_count = 10.0;

/// Runways of the records by what a debrief calls them.
Result<std::map<std::string, Runway>> runways_of(Records& records) {
  const auto fleet = records.whole_fleet();
  if (!fleet) return fleet.error();
  std::map<std::string, Runway> found;
  for (const FleetItem& one : *fleet) {
    if (one.kind != FleetKind::airfield || one.in_trash) continue;
    for (const Json& each : Json::parse(one.versions.back().content)) {
      const auto runway = runway_of(one, each.at("designator").get<std::string>());
      if (!runway) return runway.error();
      found[runway_name(*runway)] = *runway;
    }
  }
  return found;
}

/// Draws moments from the attempts of a student, each log debriefed once.
class Drawing {
 public:
  Drawing(Records& records, const Options& options, const std::string& standard_id,
          std::map<std::string, Runway> runways)
      : records_(records), options_(options), standard_id_(standard_id), runways_(std::move(runways)) {}

  /// In an order that the seed decides, until there are enough.
  Result<OwnDrill> draw(std::vector<FiledAttempt> attempts, std::uint64_t seed, std::size_t count) {
    OwnDrill drill;
    drill.seed = seed;
    std::erase_if(attempts, [](const FiledAttempt& one) { return one.in_trash; });
    shuffle(attempts, seed);
    const Progress progress("debriefing flights to ask about");
    for (const FiledAttempt& attempt : attempts) {
      if (drill.asked.size() == count) break;
      if (const auto failed = add(attempt, drill)) return *failed;
    }
    return drill;
  }

 private:
  static void shuffle(std::vector<FiledAttempt>& attempts, std::uint64_t seed) {
    const auto place = [&](const FiledAttempt& one) {
      return words_of_flight(seed, static_cast<std::uint64_t>(one.number), 0).word[0];
    };
    std::stable_sort(attempts.begin(), attempts.end(),
                     [&](const FiledAttempt& a, const FiledAttempt& b) { return place(a) < place(b); });
  }

  std::optional<Error> add(const FiledAttempt& attempt, OwnDrill& drill) {
    const Assessment* now = newest_by(attempt, standard_id_);
    if (now == nullptr) {
      ++drill.left_out["judged by another standard"];
      return std::nullopt;
    }
    const auto log = debriefed(attempt, now->circumstances);
    if (!log) return log.error();
    if (*log == nullptr) {
      ++drill.left_out["the log can no longer be debriefed"];
      return std::nullopt;
    }
    const Debrief& debrief = (*log)->debrief;
    const auto same =
        std::find_if(debrief.attempts.begin(), debrief.attempts.end(),
                     [&](const AttemptDebrief& one) { return one.attempt.index == attempt.index; });
    if (same == debrief.attempts.end()) {
      ++drill.left_out["no longer found in its log"];
      return std::nullopt;
    }
    auto answer =
        own_moment(*same, debrief, now->said.in_box, drill.seed, static_cast<int>(drill.asked.size()) + 1);
    if (!answer.moment) {
      ++drill.left_out[answer.left_out];
      return std::nullopt;
    }
    drill.asked.push_back({attempt.number, attempt.time_unix_s, attempt.log_name, attempt.index,
                           setting_words(**log), ground_of(debrief, same->attempt.traffic),
                           std::move(*answer.moment)});
    return std::nullopt;
  }

  static std::string setting_words(const DebriefedLog& log) {
    const WindEstimate& wind = log.debrief.wind;
    return fmt::format("own flight, {}, {:03.0f}° {:.0f} kt, {}", runway_name(log.debrief.frame.runway()),
                       wind.from_true_deg, wind.speed_kt, log.airplane_name);
  }

  static OwnGround ground_of(const Debrief& debrief, Traffic traffic) {
    return {debrief.frame.runway().true_bearing.value, traffic, debrief.box,
            debrief.frame.threshold_along_ft(), debrief.frame.runway_end_along_ft()};
  }

  /// As it was filed: its point and airplane; its runway where the records have it, else as the log shows it.
  Result<const DebriefedLog*> debriefed(const FiledAttempt& attempt, const Circumstances& how) {
    const std::string key =
        attempt.log_sha256 + how.runway + std::to_string(how.touchdown_point_ft.value_or(0.0));
    if (const auto known = logs_.find(key); known != logs_.end())
      return known->second ? &*known->second : nullptr;
    auto bytes = records_.original(attempt.log_sha256);
    if (!bytes) return bytes.error();
    const WorkingFolder folder;
    const std::string file = folder.file("log");
    if (const auto failed = write_file_atomically(file, *bytes)) return *failed;
    DebriefOptions options = options_.debrief;
    options.touchdown_point_ft = how.touchdown_point_ft;
    options.standards = {options_.standard.empty() ? std::string(k_usual_standard) : options_.standard};
    if (const auto runway = runways_.find(how.runway); runway != runways_.end() && options.runway.empty())
      options.fleet_runway = runway->second;
    if (const auto airplane = find_airplane_of(how)) options.fleet_airplane = *airplane;
    auto log = debrief_log(file, options);
    auto& kept = logs_[key];
    if (log) kept = std::move(*log);
    return kept ? &*kept : nullptr;
  }

  std::optional<AirplaneFile> find_airplane_of(const Circumstances& how) {
    if (how.airplane.empty()) return std::nullopt;
    if (!how.fleet_airplane.empty())
      if (auto known = find_fleet_airplane(records_, how.airplane); known && *known) return **known;
    auto file = find_airplane_file(how.airplane);
    return file ? std::optional<AirplaneFile>(std::move(*file)) : std::nullopt;
  }

  Records& records_;
  const Options& options_;
  const std::string& standard_id_;
  std::map<std::string, Runway> runways_;
  std::map<std::string, std::optional<DebriefedLog>> logs_;
};

std::string left_out_words(const OwnDrill& drill) {
  std::string words;
  for (const auto& [reason, count] : drill.left_out)
    words += fmt::format("{}{}: {}", words.empty() ? "" : "; ", counted(count, "attempt"), reason);
  return words.empty() ? words : "Not asked about: " + words + ".";
}

class Lesson {
 public:
  Lesson(const OwnDrill& drill, const std::vector<KeptAnswer>& before)
      : drill_(drill), all_(before), page_(standard_output_page()) {}

  std::vector<KeptAnswer> hold() {
    show(wrapped(
        fmt::format("Drill {}. Each picture is a moment of your own flights, frozen. As you then flew it: "
                    "did it end short of the box, in it, or beyond it? Where was it 20 s later? What you "
                    "did afterwards counts; heights are hidden until you answer.",
                    drill_.seed),
        {}, page_));
    for (const OwnAsked& one : drill_.asked)
      if (!ask(one)) break;
    if (given_.empty()) show(wrapped("Nothing was answered.", {}, page_));
    return given_;
  }

 private:
  void show(const std::string& text) const { write_standard_output(printed(text, page_)); }

  std::string picture(const OwnAsked& one, bool told, const std::optional<RunwayPoint>& mark) const {
    const PlanRequest plan = plan_of(one.ground);
    return drill_sketch({plan, one.own.pattern}, {&one.own.situation, told, mark}, picture_style(page_));
  }

  bool ask(const OwnAsked& one) {
    show(heading(fmt::format("Picture {} of {}", one.own.situation.number, drill_.asked.size())) +
         wrapped(own_picture_words(one.own), {}, page_) + picture(one, false, std::nullopt));
    const auto typed = ask_for_answer("20 s later", page_);
    if (typed) tell(one, *typed);
    return typed.has_value();
  }

  void tell(const OwnAsked& one, const TypedAnswer& typed) {
    const KeptAnswer kept = kept_own_answer(one, typed.said, typed.sureness, typed.mark, now_unix_s());
    given_.push_back(kept);
    all_.push_back(kept);
    const Situation& situation = one.own.situation;
    std::string text = "\n" + inked(ink::k_strong, own_verdict_words(one.own)) + "\n";
    text += wrapped(fmt::format("Attempt {} of {}, {}. You said {}, {}. Height {} ft; 20 s later {} ft.",
                                one.index, one.log_name, iso8601_utc(one.time_unix_s, 0),
                                energy_name(typed.said), sureness_name(typed.sureness),
                                feet(situation.now.height_ft), feet(situation.in_20_s.height_ft)),
                    {}, page_);
    text += picture(one, true, typed.mark);
    text += wrapped(fmt::format("○ to come, @ 20 s later{}, T touchdown.", typed.mark ? ", X your mark" : ""),
                    {}, page_);
    if (kept.answer.mark_ahead_ft)
      text += wrapped(fmt::format("20 s ahead: your mark was {} ft off.",
                                  feet(std::hypot(*kept.answer.mark_ahead_ft, *kept.answer.mark_right_ft))),
                      {}, page_);
    text += wrapped("What would have mended it: " + own_remedy_words(one.own), {}, page_);
    std::string so_far = "So far:";
    for (const std::string& sentence : drill_score_words(score_of_kept(all_))) so_far += " " + sentence;
    show(text + wrapped(so_far, {}, page_));
  }

  const OwnDrill& drill_;
  std::vector<KeptAnswer> all_, given_;
  Page page_;
};

ExitCode drill(const Options& options) {
  for (const auto& error : {outside(options.count, {"--count", "", 1.0, 200.0}),
                            outside(options.seed, {"--seed", "", 0.0, 9007199254740992.0})})
    if (error) return input_is_at_fault(*error);
  const auto standard = find_standard(options.standard.empty() ? k_usual_standard : options.standard);
  if (!standard) return input_is_at_fault(standard.error());
  if (!standard->box)
    return input_is_at_fault({standard->id + " has no box to land in, so nothing can be asked"});
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  Records& records = opened->records;
  const auto attempts = records.attempts_of(opened->student.number);
  if (!attempts) return input_is_at_fault(attempts.error());
  auto before = records.answers_of(opened->student.number);
  if (!before) return input_is_at_fault(before.error());
  auto runways = runways_of(records);
  if (!runways) return input_is_at_fault(runways.error());
  Options with_runway = options;
  if (const auto failed = look_up_in_fleet(records, with_runway.debrief)) return input_is_at_fault(*failed);
  Drawing drawing(records, with_runway, standard->id, std::move(*runways));
  const auto drawn = drawing.draw(*attempts, drill_seed(options.seed),
                                  static_cast<std::size_t>(options.count.value_or(k_usual_count)));
  if (!drawn) return input_is_at_fault(drawn.error());
  if (drawn->asked.empty())
    return input_is_at_fault(
        {fmt::format("{}: none of {} filed can be asked about. {}", opened->student.name,
                     counted(static_cast<int>(attempts->size()), "attempt"), left_out_words(*drawn))});
  if (options.json) {
    write_json(own_drill_to_json(*drawn, *before));
    return ExitCode::done;
  }
  const auto given = Lesson(*drawn, *before).hold();
  const Page page = standard_output_page();
  if (!given.empty()) {
    const auto added = records.add_answers(opened->student.number, given, stamp_of(options));
    if (!added) return input_is_at_fault(added.error());
    before->insert(before->end(), given.begin(), given.end());
    std::string text =
        wrapped(fmt::format("{} filed for {}.", counted(*added, "answer"), opened->student.name), {}, page);
    for (const std::string& sentence : drill_period_words(drill_periods(*before)))
      text += wrapped(sentence, {2, 4}, page);
    write_standard_output(printed(text, page));
  }
  if (const auto words = left_out_words(*drawn); !words.empty())
    write_standard_output(printed(wrapped(words, {}, page), page));
  return ExitCode::done;
}

}  // namespace

void add_own_drill(const Command& record, const Shared& options) {
  const auto command =
      part(record, options, "drill",
           "moments of the student's own flights: high, low or on, and where 20 s later? The "
           "answers are filed",
           drill);
  add_student_argument(command, options);
  command
      .add_option("--runway", options->debrief.runway,
                  "of all the logs, as for debrief; else as the records have it, or the log shows it")
      .type_name("R");
  command.add_option("--count", options->count, "so many pictures; else 10").type_name("N");
  command.add_option("--seed", options->seed, "the same pictures again").type_name("N");
  add_standard(command, options);
  add_by(command, options);
  add_json_flag(command, options->json);
}

}  // namespace glidewright::record

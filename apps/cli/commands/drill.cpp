// drill: frozen moments of approaches, to be judged before the answer is shown.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/commands.hpp"
#include "apps/cli/inputs/asked_answer.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/cores.hpp"
#include "apps/cli/picture/drill_sketch.hpp"
#include "apps/cli/picture/on_page.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/drill/score.hpp"
#include "formats/drill_json.hpp"
#include "formats/file.hpp"
#include "formats/number.hpp"
#include "formats/time.hpp"
#include "formats/words/drill_words.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

struct DrillOptions {
  SettingOptions setting;
  std::string standard;
  std::optional<double> count;
  std::optional<double> seed;
  std::string answers;
  std::string before;
  std::vector<std::string> given;
  bool json = false;
};

Result<Drill> drill_of(const DrillOptions& options) {
  if (auto error = outside(options.count, {"--count", "", 1.0, 200.0})) return *error;
  if (auto error = outside(options.seed, {"--seed", "", 0.0, 9007199254740992.0})) return *error;
  const auto asked = ask_brief(options.setting, options.standard);
  if (!asked) return asked.error();
  const Progress progress("flying approaches to ask about");
  auto setting = drill_setting(asked->brief.request, on_all_cores());
  if (!setting.setting) return Error{"no drill is offered: " + setting.refusal};
  constexpr double k_usual_count = 10.0;
  Drill drill{asked->brief.runway,
              asked->brief.touchdown_point,
              std::move(*setting.setting),
              drill_seed(options.seed),
              {},
              asked->setting.assumed};
  const int count = static_cast<int>(options.count.value_or(k_usual_count));
  for (int number = 1; number <= count; ++number)
    drill.situations.push_back(situation_of(drill.setting, drill.seed, number));
  return drill;
}

class Lesson {
 public:
  Lesson(const Drill& drill, const std::vector<KeptAnswer>& before)
      : drill_(drill), before_(before), page_(standard_output_page()) {}

  /// Until all are answered, or nobody answers any more.
  void hold() {
    show(
        labelled("Setting", drill_setting_words(drill_), page_) +
        wrapped(fmt::format(
                    "Drill {}. Each picture is an approach at idle, frozen. Left alone (flaps as planned, no "
                    "slip, nothing mended), does it end short of the box, in it, or beyond it? Heights "
                    "are hidden until you answer.",
                    drill_.seed),
                {}, page_));
    for (const Situation& situation : drill_.situations)
      if (!ask(situation)) break;
    if (kept_.empty()) show(wrapped("Nothing was answered.", {}, page_));
  }
  const std::vector<KeptAnswer>& kept() const { return kept_; }

 private:
  void show(const std::string& text) const { write_standard_output(printed(text, page_)); }

  bool ask(const Situation& situation) {
    show(heading(fmt::format("Picture {} of {}", situation.number, drill_.situations.size())) +
         wrapped(drill_picture_words(situation), {}, page_) +
         drill_sketch(ground_of(drill_), {&situation, false, std::nullopt}, picture_style(page_)));
    const auto typed = ask_for_answer("in 20 s", page_);
    if (typed) tell(situation, *typed);
    return typed.has_value();
  }

  void tell(const Situation& situation, const TypedAnswer& typed) {
    const KeptAnswer kept =
        kept_answer(drill_, situation, typed.said, typed.sureness, typed.mark, now_unix_s());
    kept_.push_back(kept);

    std::string text = "\n" + inked(ink::k_strong, drill_verdict_words(situation)) + "\n";
    text += wrapped(
        fmt::format("You said {}, {}. Height {} ft; with as far to go the plan has {}; in 20 s {} ft.",
                    energy_name(typed.said), sureness_name(typed.sureness), feet(situation.now.height_ft),
                    feet(situation.planned_height_ft), feet(situation.in_20_s.height_ft)),
        {}, page_);
    text += drill_sketch(ground_of(drill_), {&situation, true, typed.mark}, picture_style(page_));
    text += wrapped(fmt::format("○ to come, @ in 20 s{}, T touchdown.", typed.mark ? ", X your mark" : ""),
                    {}, page_);
    if (kept.answer.mark_ahead_ft)
      text += wrapped(fmt::format("20 s ahead: your mark was {} ft off.",
                                  feet(std::hypot(*kept.answer.mark_ahead_ft, *kept.answer.mark_right_ft))),
                      {}, page_);
    text += wrapped("What mends it: " + drill_remedy_words(situation, drill_.setting), {}, page_);
    std::string so_far = "So far:";
    for (const std::string& sentence : drill_score_words(score_of_kept(all_answers())))
      so_far += " " + sentence;
    show(text + wrapped(so_far, {}, page_));
  }

  std::vector<KeptAnswer> all_answers() const {
    std::vector<KeptAnswer> all = before_;
    all.insert(all.end(), kept_.begin(), kept_.end());
    return all;
  }

  const Drill& drill_;
  const std::vector<KeptAnswer>& before_;
  Page page_;
  std::vector<KeptAnswer> kept_;
};

/// "3 high sure -2400,-900 @2026-05-14T20:07:14.400Z": the picture, the answer, when.
Result<KeptAnswer> read_given(const std::string& text, const Drill& drill) {
  const Error error{
      "--given \"" + text +
      "\"; expected picture, answer and time: 3 high sure -2400,-900 @2026-05-14T20:07:14.400Z"};
  const auto at = text.find('@');
  const auto blank = text.find(' ');
  if (at == std::string::npos || blank == std::string::npos || blank > at) return error;
  const auto number = read_number(text.substr(0, blank));
  const auto typed = read_typed_answer(text.substr(blank, at - blank));
  const auto time = unix_seconds(text.substr(at + 1));
  if (!number || !typed || !time) return error;
  for (const Situation& one : drill.situations)
    if (static_cast<double>(one.number) == *number)
      return kept_answer(drill, one, typed->said, typed->sureness, typed->mark, *time);
  return Error{"--given \"" + text + "\": the drill has no such picture"};
}

Result<std::vector<KeptAnswer>> answers_before(const DrillOptions& options) {
  if (options.before.empty()) return std::vector<KeptAnswer>{};
  const auto bytes = read_file(options.before);
  if (!bytes) return bytes.error();
  return read_answers_json(*bytes, options.before);
}

ExitCode run(const DrillOptions& options) {
  auto answers = answers_before(options);
  if (!answers) return input_is_at_fault(answers.error());
  const auto drill = drill_of(options);
  if (!drill) return input_is_at_fault(drill.error());
  if (options.json) {
    for (const std::string& text : options.given) {
      const auto one = read_given(text, *drill);
      if (!one) return input_is_at_fault(one.error());
      answers->push_back(*one);
    }
    write_json(drill_to_json(*drill, *answers));
    return ExitCode::done;
  }
  Lesson lesson(*drill, *answers);
  lesson.hold();
  if (!options.answers.empty() && !lesson.kept().empty()) {
    const std::string json = answers_to_json(lesson.kept()).dump(1) + "\n";
    if (const auto failed = write_new_file_atomically(options.answers, json))
      return input_is_at_fault(*failed);
  }
  return ExitCode::done;
}

}  // namespace

void add_drill(Program& program) {
  const auto options = std::make_shared<DrillOptions>();
  const auto command =
      program.add_command("drill", "frozen moments of approaches: high, low or on, and where in 20 s?");
  add_plan_options(command, options->setting);
  command.add_option("--standard", options->standard, "a standard's file, or its id: the box").type_name("S");
  command.add_option("--count", options->count, "so many pictures; else 10").type_name("N");
  command.add_option("--seed", options->seed, "the same pictures again").type_name("N");
  command
      .add_option("--answers", options->answers,
                  "a new file for what was answered; record drills files it for a student")
      .type_name("FILE");
  command.add_option("--before", options->before, "answers of before, which the score goes on from")
      .type_name("FILE");
  const auto json = add_json_flag(command, options->json);
  command
      .add_option("--given", options->given,
                  "an answer already given, once for each (with --json): '3 high sure -2400,-900 "
                  "@2026-05-14T20:07:14.400Z'")
      .type_name("TEXT")
      .repeatable()
      .needs(json);
  add_examples(
      command,
      "  glidewright drill --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 250/11\n"
      "  glidewright drill --runway data/demo/harrow-fen-24.json --airplane demo-trainer --wind 250/11 "
      "--count 2 --seed 7 --json\n"
      "It is asked on the ground. The same seed, runway and wind give the same pictures; with --json the\n"
      "answers stand beside them.");
  command.runs([options] { return run(*options); });
}

}  // namespace glidewright

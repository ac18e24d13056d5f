// record drill: moments of a student's own flights, to be judged before anything is told
#include <fmt/format.h>

#include <cmath>

#include "apps/cli/commands/record/record.hpp"
#include "apps/cli/inputs/asked_answer.hpp"
#include "apps/cli/inputs/clock.hpp"
#include "apps/cli/inputs/own_flights.hpp"
#include "apps/cli/picture/drill_sketch.hpp"
#include "apps/cli/picture/on_page.hpp"
#include "apps/cli/terminal.hpp"
#include "apps/cli/words/brief_text.hpp"
#include "engine/drill/own_flight.hpp"
#include "formats/drill_over_time.hpp"
#include "formats/own_drill_json.hpp"
#include "formats/time.hpp"
#include "formats/words/drill_words.hpp"
#include "formats/words/numbers.hpp"
#include "formats/words/own_drill_words.hpp"

namespace glidewright::record {
namespace {

constexpr double k_usual_count = 10.0;

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
  auto opened = open_for_student(options);
  if (!opened) return input_is_at_fault(opened.error());
  Records& records = opened->records;
  auto before = records.answers_of(opened->student.number);
  if (!before) return input_is_at_fault(before.error());
  const auto drawn = [&] {
    const Progress progress("debriefing flights to ask about");
    return draw_own_drill(
        records, opened->student.number,
        {drill_seed(options.seed), static_cast<std::size_t>(options.count.value_or(k_usual_count)),
         options.standard, options.debrief});
  }();
  if (!drawn) return input_is_at_fault(drawn.error());
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
  if (const auto words = own_left_out_words(*drawn); !words.empty())
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

#include "formats/report/bar_rows.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/words/numbers.hpp"
#include "formats/words/sentences.hpp"

namespace glidewright::report {
namespace {

Side side_of(double along_ft, Box box) {
  if (along_ft > box.high_ft) return Side::to_long;
  return along_ft < box.low_ft ? Side::to_short : Side::inside;
}

RowMark mark_at(double along_ft, Side side) {
  if (side == Side::to_long) return {RowMark::Shape::to_long, along_ft};
  return {side == Side::to_short ? RowMark::Shape::to_short : RowMark::Shape::inside, along_ft};
}

void add_touchdown_bars(BarRow& row, const AttemptDebrief& one, Box box) {
  if (one.attempt.outcome == Outcome::go_around) {
    if (!one.projected_touchdown) return;
    const Touchdown& would = *one.projected_touchdown;
    row.bars.push_back({Bar::Kind::would_have, Side::inside, would.low95_ft, would.high95_ft});
    row.mark = RowMark{RowMark::Shape::went_around, would.along_ft};
    return;
  }
  if (!one.touchdown) return;
  const Touchdown& touchdown = *one.touchdown;
  // What is told less sure lies under it: the log beside a mark, the positions beside an accelerometer.
  if (const auto& log = one.touchdown_from_log ? one.touchdown_from_log : one.touchdown_from_positions)
    row.bars.push_back({Bar::Kind::from_log, Side::inside, log->low95_ft, log->high95_ft});
  const Side side = side_of(touchdown.along_ft, box);
  row.bars.push_back({Bar::Kind::interval, side, touchdown.low95_ft, touchdown.high95_ft});
  row.mark = mark_at(touchdown.along_ft, side);
}

std::string interval_words(const Touchdown& touchdown) {
  return feet_with_interval(touchdown.along_ft, touchdown.low95_ft, touchdown.high95_ft);
}

Runs touchdown_words(const AttemptDebrief& one) {
  if (one.attempt.outcome == Outcome::go_around) {
    if (!one.projected_touchdown) return {{"went around", Tone::strong}};
    return {{"would have " + interval_words(*one.projected_touchdown)}};
  }
  if (!one.touchdown) return {{"–"}};
  if (!one.touchdown_from_log && one.touchdown_from_positions)
    return {{interval_words(*one.touchdown) + " felt", Tone::strong},
            {" "},
            {"positions " + interval_words(*one.touchdown_from_positions), Tone::note}};
  if (!one.touchdown_from_log) return {{interval_words(*one.touchdown), Tone::strong}};
  return {{interval_words(*one.touchdown) + " marked", Tone::strong},
          {" "},
          {"log " + interval_words(*one.touchdown_from_log), Tone::note}};
}

const Grade* first_graded(const AttemptDebrief& one) {
  for (const Grade& grade : one.grades)
    if (grade.verdict != Verdict::not_graded) return &grade;
  return nullptr;
}

/// Effects hang one under the other: each begins where the last one ended.
class Ledger {
 public:
  explicit Ledger(double planned_ft) : sum_ft_(planned_ft) {}

  BarRow next(double effect_ft, double low_ft, double high_ft, double printed_ft, const std::string& name,
              const std::string& sentence) {
    const bool undecided = low_ft <= 0.0 && high_ft >= 0.0;
    const bool adds = effect_ft > 0.0;
    const double next_ft = sum_ft_ + effect_ft;
    BarRow row;
    row.amount = {{signed_feet(printed_ft), undecided ? Tone::undecided
                                            : adds    ? Tone::to_long
                                                      : Tone::to_short}};
    if (undecided) row.amount.push_back({" undecided", Tone::note});
    row.bars = {
        {undecided ? Bar::Kind::undecided_effect : Bar::Kind::effect, adds ? Side::to_long : Side::to_short,
         std::min(sum_ft_, next_ft), std::max(sum_ft_, next_ft)},
        {Bar::Kind::whisker, Side::inside, sum_ft_ + low_ft, sum_ft_ + high_ft}};
    row.words = {
        {name, Tone::strong},
        {" "},
        {"± " + feet(0.5 * (high_ft - low_ft)) + (sentence.empty() ? "" : "; " + sentence), Tone::note}};
    sum_ft_ = next_ft;
    return row;
  }

 private:
  double sum_ft_;
};

}  // namespace

FeetScale scale_of(const Debrief& debrief) {
  FeetScale scale;
  for (const AttemptDebrief& one : debrief.attempts) {
    for (const auto* touchdown :
         {&one.touchdown, &one.touchdown_from_log, &one.touchdown_from_positions, &one.projected_touchdown}) {
      if (!*touchdown) continue;
      scale.include((*touchdown)->low95_ft);
      scale.include((*touchdown)->high95_ft);
    }
    double sum_ft = one.causes.planned_touchdown_ft;
    for (const Cause& cause : one.causes.causes) scale.include(sum_ft += cause.effect_ft);
  }
  return scale;
}

std::vector<BarRow> ruler_rows(const Debrief& debrief) {
  std::vector<BarRow> rows;
  for (const AttemptDebrief& one : debrief.attempts) {
    const double when = one.touchdown ? one.touchdown->time_unix_s : one.attempt.end_time_unix_s;
    BarRow row;
    row.attempt = one.attempt.index;
    row.amount = {{fmt::format("{}", one.attempt.index), Tone::strong},
                  {" " + time_of_day(when).substr(0, 5)}};
    add_touchdown_bars(row, one, debrief.box);
    row.words = touchdown_words(one);
    if (const Grade* grade = first_graded(one)) {
      row.words.push_back({" "});
      row.words.push_back({verdict_words(grade->verdict), Tone::verdict});
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<BarRow> ledger_rows(const AttemptDebrief& one, Box box) {
  const Causes& causes = one.causes;
  std::vector<BarRow> rows{{{{signed_feet(causes.planned_touchdown_ft), Tone::plan}},
                            {},
                            RowMark{RowMark::Shape::planned, causes.planned_touchdown_ft},
                            {{"Planned touchdown", Tone::strong}}}};
  Ledger ledger(causes.planned_touchdown_ft);
  std::vector<double> parts_ft{causes.planned_touchdown_ft};
  double total_ft = causes.planned_touchdown_ft + causes.unexplained_ft;
  for (const Cause& cause : causes.causes) {
    rows.push_back(ledger.next(cause.effect_ft, cause.low95_ft, cause.high95_ft, cause.effect_ft, cause.cause,
                               cause.sentence));
    parts_ft.push_back(cause.effect_ft);
    total_ft += cause.effect_ft;
  }
  if (!one.touchdown) {
    if (!one.projected_touchdown) return rows;
    BarRow last{{{signed_feet(one.projected_touchdown->along_ft), Tone::strong}},
                {},
                {},
                {{"Would have touched", Tone::strong}, {"; it went around", Tone::note}}};
    add_touchdown_bars(last, one, box);
    rows.push_back(std::move(last));
    return rows;
  }
  rows.push_back(ledger.next(causes.unexplained_ft, causes.unexplained_low95_ft, causes.unexplained_high95_ft,
                             remainder_as_printed_ft(parts_ft, total_ft), "not explained",
                             "a small rest proves nothing: a fit can hide gusts in wind and airplane"));
  BarRow last{{{signed_feet(one.touchdown->along_ft), Tone::strong}}, {}, {}, {{"Touchdown", Tone::strong}}};
  add_touchdown_bars(last, one, box);
  rows.push_back(std::move(last));
  return rows;
}

}  // namespace glidewright::report

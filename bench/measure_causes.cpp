// How often the causes of a debrief are right, on approaches whose mistakes are known
// (synthetic_lessons.hpp); and how long they take.

#include <chrono>
#include <map>
#include <optional>

#include "bench/measurement.hpp"
#include "bench/synthetic_lessons.hpp"
#include "engine/debrief/counterfactual.hpp"
#include "formats/debrief_json.hpp"
#include "formats/report/report.hpp"
#include "threads/crew.hpp"

namespace glidewright {
namespace {

constexpr int k_lessons = 400;
constexpr double k_clear_lead_ft = 100.0;

/// One debrief beside the truth.
struct Judged {
  bool offered = false;
  std::string largest_found;
  std::string largest_true;
  double true_lead_ft = 0.0;
  bool named = false;  ///< its lead over the next exceeds its spread
  int decided = 0, sign_right = 0;
  int injected = 0, covered = 0;
  double sum_off_ft = 0.0;
  struct Line {
    bool there = false, decided = false, sign_right = false, covered = false;
    double off_ft = 0.0;  ///< found less true
  };
  std::vector<Line> lines = std::vector<Line>(k_cause_names.size());
};

std::size_t largest(const std::vector<double>& worth_ft) {
  const auto at = std::max_element(worth_ft.begin(), worth_ft.end(),
                                   [](double a, double b) { return std::abs(a) < std::abs(b); });
  return static_cast<std::size_t>(at - worth_ft.begin());
}

double lead_ft(std::vector<double> worth_ft) {
  std::sort(worth_ft.begin(), worth_ft.end(), [](double a, double b) { return std::abs(a) > std::abs(b); });
  return std::abs(worth_ft[0]) - std::abs(worth_ft[1]);
}

void judge_one(const Cause& cause, double true_ft, Judged& judged) {
  if (!cause.undecided()) {
    ++judged.decided;
    judged.sign_right += (cause.effect_ft > 0.0) == (true_ft > 0.0);
  }
  // Worth a word at all: what is nearly as planned tests nothing.
  constexpr double injected_ft = 50.0;
  if (std::abs(true_ft) < injected_ft) return;
  ++judged.injected;
  judged.covered += true_ft >= cause.low95_ft && true_ft <= cause.high95_ft;
}

Judged judge(const SyntheticLesson& lesson, bool with_marks) {
  Judged judged;
  const std::vector<double>& truth_ft = with_marks ? lesson.worth_ft : lesson.worth_flaps_unknown_ft;
  judged.largest_true = k_cause_names[largest(truth_ft)];
  judged.true_lead_ft = lead_ft(truth_ft);
  const auto answer = make_debrief(debrief_of(lesson, with_marks));
  if (!answer.debrief || answer.debrief->attempts.size() != 1) return judged;
  const AttemptDebrief& one = answer.debrief->attempts.front();
  if (one.causes.causes.empty()) return judged;
  judged.offered = true;
  std::vector<double> found(k_cause_names.size(), 0.0);
  double sum_ft = one.causes.planned_touchdown_ft + one.causes.unexplained_ft;
  for (const Cause& cause : one.causes.causes) {
    sum_ft += cause.effect_ft;
    const auto name = std::find(k_cause_names.begin(), k_cause_names.end(), cause.cause);
    if (name == k_cause_names.end()) continue;
    const auto i = static_cast<std::size_t>(name - k_cause_names.begin());
    found[i] = cause.effect_ft;
    judge_one(cause, truth_ft[i], judged);
    const double true_ft = truth_ft[i];
    judged.lines[i] = {true, !cause.undecided(), (cause.effect_ft > 0.0) == (true_ft > 0.0),
                       true_ft >= cause.low95_ft && true_ft <= cause.high95_ft, cause.effect_ft - true_ft};
  }
  if (one.touchdown) judged.sum_off_ft = std::abs(sum_ft - one.touchdown->along_ft);
  judged.largest_found = k_cause_names[largest(found)];
  for (const Cause& cause : one.causes.causes) {
    if (cause.cause == judged.largest_found) {
      judged.named = lead_ft(found) > (cause.high95_ft - cause.low95_ft) / (2.0 * 1.96);
    }
  }
  return judged;
}

double percent(int part, int whole) {
  return whole == 0 ? 0.0 : std::round(1000.0 * part / whole) / 10.0;
}

struct Share {
  int right = 0, all = 0;
  void add(bool is_right) {
    ++all;
    right += is_right;
  }
  double percent_right() const { return percent(right, all); }
};

nlohmann::ordered_json figures_of(const std::vector<Judged>& all, const std::string& how) {
  Share leader, named_right, named, signs, cover, offered;
  double sum_off_ft = 0.0;
  std::map<std::string, std::map<std::string, int>> taken;  ///< true largest cause, found largest cause
  for (const Judged& one : all) {
    offered.add(one.offered);
    if (!one.offered) continue;
    signs.right += one.sign_right;
    signs.all += one.decided;
    cover.right += one.covered;
    cover.all += one.injected;
    sum_off_ft = std::max(sum_off_ft, one.sum_off_ft);
    const bool right = one.largest_found == one.largest_true;
    if (one.true_lead_ft >= k_clear_lead_ft) leader.add(right);
    named.add(one.named);
    if (one.named) named_right.add(right);
    ++taken[one.largest_true][one.largest_found];
  }
  return {{"largest_cause_right_" + how + "_percent", leader.percent_right()},
          {"named_" + how + "_percent", named.percent_right()},
          {"named_right_" + how + "_percent", named_right.percent_right()},
          {"sign_right_" + how + "_percent", signs.percent_right()},
          {"coverage95_" + how + "_percent", cover.percent_right()},
          {"offered_" + how + "_percent", offered.percent_right()},
          {"sum_off_" + how + "_ft", std::round(100.0 * sum_off_ft) / 100.0},
          {"true_largest_taken_for_" + how, taken}};
}

/// Each cause by itself: how far off in the mean and root mean square, and how often its interval and sign
/// are right.
nlohmann::ordered_json lines_of(const std::vector<Judged>& all) {
  nlohmann::ordered_json lines = nlohmann::ordered_json::object();
  for (std::size_t i = 0; i < k_cause_names.size(); ++i) {
    double sum = 0.0, squares = 0.0;
    Share covered, signs;
    for (const Judged& one : all) {
      const auto& line = one.lines[i];
      if (!line.there) continue;
      sum += line.off_ft;
      squares += line.off_ft * line.off_ft;
      covered.add(line.covered);
      if (line.decided) signs.add(line.sign_right);
    }
    if (covered.all == 0) continue;
    lines[k_cause_names[i]] = {{"mean_off_ft", std::round(sum / covered.all)},
                               {"rms_off_ft", std::round(std::sqrt(squares / covered.all))},
                               {"coverage95_percent", covered.percent_right()},
                               {"decided", signs.all},
                               {"sign_right_percent", signs.percent_right()}};
  }
  return lines;
}

double milliseconds_of(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

/// One lesson flown five times, in one log.
TrackLog five_times(const TrackLog& log) {
  TrackLog five = log;
  five.fixes.clear();
  const double lasts_s = log.fixes.back().time_unix_s - log.fixes.front().time_unix_s + 120.0;
  for (int again = 0; again < 5; ++again) {
    for (Fix fix : log.fixes) {
      fix.time_unix_s += again * lasts_s;
      five.fixes.push_back(fix);
    }
  }
  return five;
}

/// The attempt as it was flown, without the log.
std::optional<CausesRequest> causes_request_of(const SyntheticLesson& lesson) {
  const Approach& approach = lesson.log.approach;
  if (!approach.gate || !approach.final_turn) return std::nullopt;
  CausesRequest request{.plan = lesson.plan,
                        .planned_cue_s = lesson.planned_cue_s,
                        .flown = {},
                        .wind = {},
                        .touchdown = Touchdown{}};
  const Technique& flown = lesson.flown;
  AttemptAsFlown& as_flown = request.flown;
  as_flown.idle_s = Read{flown.idle_s_after_abeam, 0.8};
  as_flown.base_turn_s = {flown.base_turn_s_after_abeam, 0.7};
  as_flown.base_course_deg = flown.base_course_deg;
  as_flown.final_turn_room_ft = std::abs(approach.final_turn->cross_ft);
  as_flown.base_speed_kt = {flown.base_speed_kt, 2.0};
  as_flown.final_speed_kt = {flown.final_speed_kt, 2.0};
  as_flown.short_final_speed_kt = {flown.short_final_speed_kt, 2.0};
  as_flown.touchdown_speed_kt = {approach.touchdown->calibrated_airspeed_kt, 3.0};
  as_flown.flaps = as_it_went(flown, approach).flaps;
  as_flown.check_along_ft = approach.gate->along_ft;
  const Wind& wind = lesson.conditions.wind.at_10m;
  const auto [head, cross] = components(wind, Degrees{lesson.conditions.runway_true_deg});
  request.wind.headwind_kt = head.value;
  request.wind.crosswind_from_right_kt = cross.value;
  request.wind.speed_kt = wind.speed.value;
  request.wind.from_true_deg = wind.from_true.value;
  return request;
}

/// Bringing the model to the flown place, an attempt's causes, a debrief with its report of five attempts:
/// medians over some lessons on one core.
nlohmann::ordered_json times_of(const std::vector<SyntheticLesson>& lessons) {
  std::vector<double> fit_ms, causes_ms, report_ms;
  for (std::size_t i = 0; i < std::min<std::size_t>(lessons.size(), 15); ++i) {
    DebriefRequest request = debrief_of(lessons[i], true);
    DebriefRequest without_causes = request;
    without_causes.reported_wind.reset();
    const double debrief_ms = milliseconds_of([&] { make_debrief(request); });
    causes_ms.push_back(debrief_ms - milliseconds_of([&] { make_debrief(without_causes); }));
    if (const auto asked = causes_request_of(lessons[i])) {
      fit_ms.push_back(milliseconds_of([&] { CounterfactualFlights{*asked}; }));
    }
    request.log = five_times(request.log);
    request.marks.clear();
    report_ms.push_back(milliseconds_of([&] {
      const auto answer = make_debrief(request);
      if (answer.debrief)
        debrief_report_html({"lesson.gpx", "demo-trainer", "Demo trainer", *answer.debrief});
    }));
  }
  const auto median = [](std::vector<double> all) {
    std::sort(all.begin(), all.end());
    return all.empty() ? 0.0 : std::round(10.0 * all[all.size() / 2]) / 10.0;
  };
  return {{"fit_ms", median(fit_ms)}, {"causes_ms", median(causes_ms)}, {"report_ms", median(report_ms)}};
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  const Airplane airplane = airplane_of_data("demo-trainer");
  Crew crew(static_cast<int>(std::max(1U, std::thread::hardware_concurrency())));
  std::vector<std::optional<SyntheticLesson>> drawn(k_lessons);
  crew.work(k_lessons, [&](int i) {
    drawn[static_cast<std::size_t>(i)] = synthetic_lesson(airplane, static_cast<std::uint64_t>(i));
  });
  std::vector<SyntheticLesson> lessons;
  for (auto& one : drawn) {
    if (one) lessons.push_back(std::move(*one));
  }
  nlohmann::ordered_json figures = {{"lessons", lessons.size()}};
  for (const bool with_marks : {true, false}) {
    std::vector<Judged> judged(lessons.size());
    crew.work(static_cast<int>(lessons.size()), [&](int i) {
      judged[static_cast<std::size_t>(i)] = judge(lessons[static_cast<std::size_t>(i)], with_marks);
    });
    const std::string how = with_marks ? "with_marks" : "without_marks";
    figures.update(figures_of(judged, how));
    figures["each_cause_" + how] = lines_of(judged);
  }
  // Over both, under the names that stay.
  for (const char* what : {"named", "sign_right", "coverage95"}) {
    const double with = figures[std::string(what) + "_with_marks_percent"];
    const double without = figures[std::string(what) + "_without_marks_percent"];
    figures[std::string(what) + "_percent"] = std::round(5.0 * (with + without)) / 10.0;
  }
  figures.update(times_of(lessons));
  print_measurement("causes", figures);
}

// A whole plan for the demonstration's airplane, as `brief` makes it: how long on all cores, and the same on
// one.

#include <algorithm>
#include <chrono>
#include <vector>

#include "bench/measurement.hpp"
#include "bench/random_approaches.hpp"
#include "engine/plan/plan.hpp"
#include "threads/crew.hpp"

namespace glidewright {
namespace {

PlanRequest demonstration_plan() {
  PlanRequest request;
  request.airplane = airplane_of_data("demo-trainer");
  request.conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  request.conditions.runway_true_deg = 243.0;
  request.conditions.weight_lb = 2400.0;
  request.technique = taught_technique(request.airplane, request.conditions.weight_lb, 0.0);
  request.other_flaps = other_taught_flaps(request.technique);
  request.search_flights = 202500;
  request.flights = 22500;
  return request;
}

double median_ms_of_five(const PlanRequest& request, const ShareOut& share_out, PlanAnswer& answer) {
  std::vector<double> milliseconds;
  for (int again = 0; again < 5; ++again) {
    const auto start = std::chrono::steady_clock::now();
    answer = make_plan(request, share_out);
    milliseconds.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  std::sort(milliseconds.begin(), milliseconds.end());
  return milliseconds[2];
}

bool same(const Plan& a, const Plan& b) {
  return a.cue.seconds_past_abeam == b.cue.seconds_past_abeam &&
         a.success.in_box.probability == b.success.in_box.probability &&
         a.success.median_touchdown_ft == b.success.median_touchdown_ft &&
         a.rules.back().gain == b.rules.back().gain;
}

/// Flights for the odds, those a second early and late, and with a rule left out.
int flights_of(const Plan& plan) {
  const int n = plan.success.flights;
  int runs_without_a_rule = 1;
  for (const char* at : {"base turn", "final turn", "half-mile final"}) {
    runs_without_a_rule += std::any_of(plan.rules.begin(), plan.rules.end(),
                                       [&](const RuleWorth& rule) { return rule.at == at; });
  }
  return plan.search_flights + 2 * n + n / 2 * runs_without_a_rule;
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  const PlanRequest request = demonstration_plan();
  Crew crew(static_cast<int>(std::max(1U, std::thread::hardware_concurrency())));
  PlanAnswer together, alone;
  const double together_ms = median_ms_of_five(
      request, [&](int count, const std::function<void(int)>& piece) { crew.work(count, piece); }, together);
  const double alone_ms = median_ms_of_five(request, one_after_another, alone);
  PlanRequest quick = request;
  quick.search_flights = 0;
  quick.flights = 300;
  PlanAnswer quickly;
  const double quick_ms = median_ms_of_five(quick, one_after_another, quickly);
  print_measurement("plan", {{"plan_ms", static_cast<int>(together_ms)},
                             {"plan_one_core_ms", static_cast<int>(alone_ms)},
                             {"plan_quick_ms", static_cast<int>(quick_ms)},
                             {"plan_approaches", flights_of(*together.plan)},
                             {"same_answer_1_and_2_threads", same(*together.plan, *alone.plan) ? 1 : 0},
                             {"probability", together.plan->success.in_box.probability},
                             {"cue_s", together.plan->cue.seconds_past_abeam},
                             {"unanswered_cue_s", together.plan->unanswered_cue_s}});
}

// A whole plan for the demonstration's airplane, and how many approaches it flies.

#include <algorithm>
#include <chrono>
#include <vector>

#include "bench/measurement.hpp"
#include "engine/plan/plan.hpp"
#include "engine/plan/taught.hpp"
#include "formats/airplane_json.hpp"
#include "formats/file.hpp"

int main() {
  using namespace glidewright;
  const std::string path = std::string(GLIDEWRIGHT_DATA) + "/airplanes/demo-trainer.json";
  PlanRequest request;
  request.airplane = fit_airplane(*read_airplane_json(*read_file(path), path));
  request.conditions.wind.at_10m = {Degrees{270.0}, Knots{10.0}};
  request.conditions.runway_true_deg = 243.0;
  request.conditions.weight_lb = 2400.0;
  request.technique = taught_technique(request.airplane, request.conditions.weight_lb, 0.0);
  std::vector<double> milliseconds;
  int flights = 0;
  for (int again = 0; again < 5; ++again) {
    const auto start = std::chrono::steady_clock::now();
    const PlanAnswer answer = make_plan(request);
    milliseconds.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
    flights = answer.plan->success.flights;
  }
  std::sort(milliseconds.begin(), milliseconds.end());
  print_measurement("plan",
                    {{"plan_ms", static_cast<int>(milliseconds[2])}, {"flights_over_the_spread", flights}});
}

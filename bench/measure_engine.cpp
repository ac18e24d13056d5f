// The batch integrator against the reference: how many approaches a second, and how far apart they touch
// down.

#include <algorithm>
#include <chrono>
#include <cmath>

#include "bench/measurement.hpp"
#include "bench/random_approaches.hpp"
#include "engine/plan/search.hpp"
#include "threads/crew.hpp"

namespace glidewright {
namespace {

constexpr IntegratorSettings k_reference{0.02, Trace::none, Watch::touchdown_only};
constexpr int k_scenes = 800;
constexpr int k_flights_of_a_scene = 25;

double seconds_for(const std::function<void()>& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Flown with the go-around: short of the final leg, given up at the gate, or landed.
int outcome(const FlownOnce& flown) {
  return !flown.aligned ? 0 : !flown.stable ? 1 : 2;
}

constexpr Box k_box;

struct Differences {
  std::vector<double> touchdown_ft;
  int flights = 0;
  int outcomes_flipped = 0;
  int box_flipped = 0;
  int in_box_more = 0;  ///< by the batch than by the reference
};

void add(const std::vector<FlownOnce>& batch, const std::vector<FlownOnce>& reference,
         Differences& differences) {
  for (std::size_t i = 0; i < batch.size(); ++i) {
    ++differences.flights;
    differences.outcomes_flipped += outcome(batch[i]) != outcome(reference[i]);
    differences.box_flipped += in_box(batch[i], k_box) != in_box(reference[i], k_box);
    differences.in_box_more += in_box(batch[i], k_box) - in_box(reference[i], k_box);
    differences.touchdown_ft.push_back(std::abs(batch[i].touchdown_ft - reference[i].touchdown_ft));
  }
}

Differences compare(Crew& crew, double& reference_s) {
  const std::vector<Airplane> airplanes = {airplane_of_data("demo-trainer"),
                                           airplane_of_data("generic-trainer"),
                                           airplane_of_data("generic-low-wing")};
  std::vector<std::vector<FlownOnce>> reference(k_scenes);
  reference_s = seconds_for([&] {
    crew.work(k_scenes, [&](int scene) {
      const auto request = random_scene(airplanes, static_cast<std::uint64_t>(scene), k_flights_of_a_scene);
      reference[static_cast<std::size_t>(scene)] = fly_batch_by_reference(request, k_reference);
    });
  });
  Differences differences;
  for (std::uint64_t scene = 0; scene < k_scenes; ++scene) {
    add(fly_batch(random_scene(airplanes, scene, k_flights_of_a_scene)), reference[scene], differences);
  }
  std::sort(differences.touchdown_ft.begin(), differences.touchdown_ft.end());
  return differences;
}

/// The demonstration's plan over the spread, best of three.
double approaches_per_s(const std::function<void(const BatchRequest&)>& fly_all, std::int64_t count) {
  const Airplane airplane = airplane_of_data("demo-trainer");
  const BatchRequest request = demonstration(airplane, count);
  double best_s = 1e9;
  for (int again = 0; again < 3; ++again) best_s = std::min(best_s, seconds_for([&] { fly_all(request); }));
  return std::round(static_cast<double>(count) / best_s);
}

double rounded(double value, double to) {
  return std::round(value / to) * to;
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  Crew crew(static_cast<int>(std::max(1U, std::thread::hardware_concurrency())));
  double reference_s = 0.0;
  const Differences differences = compare(crew, reference_s);
  const auto& feet = differences.touchdown_ft;
  double squares = 0.0;
  for (const double difference : feet) squares += difference * difference;
  const auto share = [&](double part) {
    return feet[static_cast<std::size_t>(part * static_cast<double>(feet.size() - 1))];
  };
  const auto percent = [&](int part) { return rounded(100.0 * part / differences.flights, 0.01); };
  nlohmann::ordered_json figures = {
      {"reference_approaches_per_s",
       approaches_per_s([](const auto& r) { fly_batch_by_reference(r, k_reference); }, 300)},
      {"batch_approaches_per_s", approaches_per_s([&](const auto& r) { fly_batch(r, crew); }, 100000)},
      {"isa", name_of(widest_instruction_set())},
      {"median_touchdown_difference_ft", rounded(share(0.5), 0.01)},
      {"rms_touchdown_difference_ft", rounded(std::sqrt(squares / static_cast<double>(feet.size())), 0.01)},
      {"p99_touchdown_difference_ft", rounded(share(0.99), 0.1)},
      {"largest_touchdown_difference_ft", rounded(feet.back(), 1.0)},
      {"success_difference_points", std::abs(percent(differences.in_box_more))},
      {"outcome_flips_percent", percent(differences.outcomes_flipped)},
      {"in_box_flips_percent", percent(differences.box_flipped)},
      {"compared_approaches", differences.flights}};
  for (const InstructionSet set : instruction_sets_here()) {
    figures[std::string("batch_one_core_") + name_of(set) + "_approaches_per_s"] =
        approaches_per_s([&](const auto& r) { fly_batch(r, set); }, 50000);
  }
  print_measurement("engine", figures);
}

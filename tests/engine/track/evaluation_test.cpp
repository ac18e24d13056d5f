// How near the key points and the wind come to what was flown, over every recording of the reference flights.
// Goals, not noise bounds: what a debrief needs to be of use.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "engine/debrief/wind.hpp"
#include "engine/track/attempts.hpp"
#include "engine/track/smooth.hpp"
#include "tests/engine/track/reference_flight.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using reference::Flight;

constexpr Feet k_antenna{4.1};

/// Errors by what they are of; a point that was flown and not found counts as far off.
class Errors {
 public:
  void add(const std::string& of, double error) { errors_[of].push_back(std::abs(error)); }
  double median(const std::string& of) const {
    auto sorted = errors_.at(of);
    std::sort(sorted.begin(), sorted.end());
    return sorted[sorted.size() / 2];
  }
  double largest(const std::string& of) const {
    const auto& all = errors_.at(of);
    return *std::max_element(all.begin(), all.end());
  }
  void print() const {
    for (const auto& [of, all] : errors_) {
      std::printf("%-22s %3zu  median %6.2f  largest %6.2f\n", of.c_str(), all.size(), median(of),
                  largest(of));
    }
  }

 private:
  std::map<std::string, std::vector<double>> errors_;
};

void add_time(Errors& errors, const std::string& of, const std::optional<KeyPoint>& found, const json& flown,
              const Flight& flight) {
  if (flown.is_null()) return;
  const double truth_s = flight.start_unix_s() + flown["t_s"].get<double>();
  errors.add(of, found ? found->time_unix_s - truth_s : 1e6);
}

void add_bank(Errors& errors, const std::string& of, const std::optional<BankEstimate>& found,
              const json& flown) {
  if (flown.is_null()) return;
  errors.add(of, found ? found->bank_deg - flown.get<double>() : 1e6);
}

void add_attempt(Errors& errors, const Attempt& found, const json& flown, const Flight& flight) {
  add_time(errors, "abeam, s", found.abeam, flown["abeam"], flight);
  add_time(errors, "base turn, s", found.base_turn, flown["base_turn_start"], flight);
  add_time(errors, "base, s", found.base, flown["wings_level_base"], flight);
  add_time(errors, "final turn, s", found.final_turn, flown["final_turn_start"], flight);
  add_time(errors, "final leg, s", found.final_leg, flown["wings_level_final"], flight);
  if (flown["kind"] == "power-off-180") {
    add_time(errors, "idle, s", found.idle, flown["throttle_idle"], flight);
  }
  add_bank(errors, "base turn bank, deg", found.base_turn_bank, flown["max_bank_base_turn_deg"]);
  add_bank(errors, "final turn bank, deg", found.final_turn_bank, flown["max_bank_final_turn_deg"]);
  const json& gate = flown["gate_200ft"];
  if (gate.is_null()) return;
  errors.add("gate along, ft",
             found.gate ? found.gate->place.along_ft - gate["along_ft"].get<double>() : 1e6);
}

void add_wind(Errors& errors, const WindEstimate& found, const Flight& flight) {
  const json& flown = flight.truth["wind"]["at_10m"];
  const double speed_kt = flown["speed_kt"];
  if (speed_kt <= 5.0) return;  // the direction of a light wind says little
  errors.add("wind, kt", found.speed_kt - speed_kt);
  errors.add("wind from, deg", wrap_180_deg(found.from_true_deg - flown["from_deg_true"].get<double>()));
}

TEST(Evaluation, EveryRecordingOfTheReferenceFlights) {
  Errors errors;
  std::size_t flown_attempts = 0, found_attempts = 0;
  for (const reference::Recording& recording : reference::recordings()) {
    const Flight flight = reference::read_flight(recording.flight);
    const TrackLog log = reference::read(recording);
    const SmoothTrack track = smooth(log, flight.frame(), k_antenna);
    const auto found = find_attempts(track, log, flight.frame());
    const json& flown = flight.truth["attempts"];
    flown_attempts += flown.size();
    found_attempts += found.size();
    ASSERT_EQ(found.size(), flown.size()) << recording.file;
    for (std::size_t i = 0; i < found.size(); ++i) add_attempt(errors, found[i], flown[i], flight);
    add_wind(errors, estimate_wind(track, found, flight.frame(), {}), flight);
  }
  std::printf("attempts flown %zu, found %zu\n", flown_attempts, found_attempts);
  errors.print();
  EXPECT_LT(errors.largest("abeam, s"), 0.6);  // stamps of whole seconds are up to 0.4 s off
  EXPECT_LE(errors.median("base turn, s"), 1.0);
  EXPECT_LE(errors.largest("base turn, s"), 3.0);  // seven seconds without a fix in one of them
  EXPECT_LE(errors.median("final turn, s"), 1.0);
  EXPECT_LE(errors.median("base, s"), 1.5);
  EXPECT_LE(errors.median("final leg, s"), 1.5);
  EXPECT_LE(errors.median("idle, s"), 1.5);
  EXPECT_LE(errors.median("gate along, ft"), 60.0);
  EXPECT_LE(errors.median("base turn bank, deg"), 3.0);
  EXPECT_LE(errors.median("final turn bank, deg"), 3.0);
  EXPECT_LE(errors.median("wind, kt"), 3.0);
  EXPECT_LE(errors.median("wind from, deg"), 20.0);
}

}  // namespace
}  // namespace glidewright

// The reachable band: how fast its edges are swept, how far they are from a finer grid and from full
// dynamics, and whether who follows it lands in the box.

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <mutex>
#include <numbers>

#include "bench/measurement.hpp"
#include "bench/random_approaches.hpp"
#include "engine/reach/policy.hpp"
#include "threads/crew.hpp"

namespace glidewright {
namespace {

using reach::FlownFrom;

double milliseconds_for(const std::function<void()>& work) {
  double best = 1e9;
  for (int again = 0; again < 5; ++again) {
    const auto start = std::chrono::steady_clock::now();
    work();
    best = std::min(
        best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  return best;
}

std::vector<Airplane> all_airplanes() {
  return {airplane_of_data("demo-trainer"), airplane_of_data("generic-trainer"),
          airplane_of_data("generic-low-wing")};
}

BandRequest random_band(const std::vector<Airplane>& airplanes, std::uint64_t scene, Luck& luck) {
  BandRequest request;
  request.airplane = airplanes[scene % airplanes.size()];
  request.conditions = random_conditions(request.airplane, luck);
  request.technique =
      taught_technique(request.airplane, request.conditions.weight_lb, request.conditions.wind.gust.value);
  request.technique.spacing_ft = luck.between(2500.0, 3600.0);
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);
  return request;
}

/// Abeam at pattern speed, the lever just closed.
PlaceInPattern abeam(const BandRequest& request, const Flight& flight, double height_ft) {
  PlaceInPattern place;
  place.cross_ft = -request.technique.spacing_ft;
  place.height_ft = height_ft;
  place.speed_fps = flight.true_fps(request.technique.pattern_speed_kt);
  place.heading_rad = std::numbers::pi +
                      std::asin(std::clamp(flight.wind.at(height_ft).cross_fps / place.speed_fps, -0.9, 0.9));
  place.thrust_over_weight = request.airplane.polar.drag_over_weight(
      request.technique.pattern_speed_kt, request.conditions.weight_lb, 0.0, 0.0, 1.0, 1.0);
  return place;
}

/// Edges abeam at their own height: wind and crab are those there.
Room room_abeam(const Band& band, double Room::*edge) {
  Room room = band.room(abeam(band.request(), band.flight(), 900.0), Surety::mean);
  for (int again = 0; again < 3; ++again) {
    room =
        band.room(abeam(band.request(), band.flight(), std::clamp(room.*edge, 200.0, 3000.0)), Surety::mean);
  }
  return room;
}

bool lands(const BandRequest& request, Technique technique, double height_ft) {
  constexpr IntegratorSettings settings{0.1, Trace::none, Watch::touchdown_only};
  technique.pattern_height_ft = height_ft;
  const Approach flown = fly(request.airplane, request.conditions, technique, {}, settings);
  if (!flown.touchdown || !flown.gate || std::abs(flown.gate->cross_ft) > 150.0 ||
      std::abs(flown.gate->bank_deg) > 15.0) {
    return false;
  }
  return flown.touchdown->along_ft >= request.box.low_ft && flown.touchdown->along_ft <= request.box.high_ft;
}

/// The least height abeam from which some base course and cue of the reference lands in the box, clean.
double lowest_flown_ft(const BandRequest& request) {
  Technique technique = without_rules(request.technique);
  technique.flaps.clear();
  technique.go_around_when_unstable = false;
  technique.final_turn_bank_limit_deg = request.means.bank_deg;
  const auto some_lands = [&](double height_ft) {
    for (double course_deg = -60.0; course_deg <= 30.0; course_deg += 5.0) {
      for (double cue_s = 0.0; cue_s <= 18.0; cue_s += 0.5) {
        technique.base_course_deg = course_deg;
        technique.base_turn_s_after_abeam = cue_s;
        if (lands(request, technique, height_ft)) return true;
      }
    }
    return false;
  };
  double low = 300.0, high = 1300.0;
  while (high - low > 2.0) {
    const double middle = 0.5 * (low + high);
    (some_lands(middle) ? high : low) = middle;
  }
  return high;
}

/// The greatest height abeam from which the reference lands in the box clean and without a slip, by the path
/// alone and by what the band allows: turns at its bank, base turned by the farthest place or a little
/// before, not outwards. Looked for downwards from above the edge, so far on either side of it; none where
/// nothing is found there.
std::optional<double> highest_flown_by_path_ft(const BandRequest& request, double edge_ft) {
  constexpr double searched_ft = 200.0, step_ft = 5.0;
  Technique technique = without_rules(request.technique);
  technique.flaps.clear();
  technique.go_around_when_unstable = false;
  technique.idle_s_after_abeam = 0.0;
  technique.base_turn_bank_deg = technique.final_turn_bank_deg = request.means.bank_deg;
  technique.final_turn_bank_limit_deg = request.means.bank_deg;
  const double ground_fps =
      technique.downwind_speed_kt * k_fps_per_knot +
      components(request.conditions.wind.at_10m, Degrees{request.conditions.runway_true_deg}).headwind.value *
          k_fps_per_knot;
  const auto some_lands = [&](double height_ft) {
    for (double course_deg = -20.0; course_deg <= 0.0; course_deg += 2.5) {
      for (double back_s = 0.0; back_s <= 12.0; back_s += 1.0) {
        technique.base_course_deg = course_deg;
        technique.base_turn_s_after_abeam = request.means.farthest_past_abeam_ft / ground_fps - back_s;
        technique.pattern_height_ft = height_ft;
        constexpr IntegratorSettings settings{0.1, Trace::none, Watch::touchdown_only};
        const Approach flown = fly(request.airplane, request.conditions, technique, {}, settings);
        if (!flown.touchdown || !flown.gate || std::abs(flown.gate->cross_ft) > 150.0 ||
            std::abs(flown.gate->bank_deg) > 15.0 ||
            -flown.base_turn.along_ft > request.means.farthest_past_abeam_ft) {
          continue;
        }
        if (flown.touchdown->along_ft >= request.box.low_ft &&
            flown.touchdown->along_ft <= request.box.high_ft)
          return true;
      }
    }
    return false;
  };
  for (double height_ft = edge_ft + searched_ft; height_ft > edge_ft - searched_ft; height_ft -= step_ft) {
    if (some_lands(height_ft)) return height_ft;
  }
  return std::nullopt;
}

/// A state somewhere round a pattern whose base turn begins at a random distance past abeam.
FlightState random_state(const Band& band, Luck& luck) {
  constexpr double radius_ft = 850.0, quarter_ft = 0.5 * std::numbers::pi * radius_ft;
  const double out_ft = band.request().technique.spacing_ft + luck.between(-500.0, 500.0);
  const double past_ft = luck.between(0.0, 5000.0);
  const double base_ft = std::max(0.0, out_ft - 2.0 * radius_ft);
  const double final_ft = std::max(0.0, past_ft + radius_ft - 2500.0);
  double at_ft = luck.between(0.0, past_ft + quarter_ft + base_ft + quarter_ft + final_ft);
  FlightState state;
  double to_turn_deg = 180.0;
  if (at_ft < past_ft) {
    state.along_ft = -at_ft;
    state.cross_ft = -out_ft;
  } else if ((at_ft -= past_ft) < quarter_ft) {
    const double turned = at_ft / radius_ft;
    to_turn_deg = 180.0 - turned / k_radians_per_degree;
    state.along_ft = -past_ft - radius_ft * std::sin(turned);
    state.cross_ft = -out_ft + radius_ft * (1.0 - std::cos(turned));
  } else if ((at_ft -= quarter_ft) < base_ft) {
    to_turn_deg = 90.0;
    state.along_ft = -past_ft - radius_ft;
    state.cross_ft = -out_ft + radius_ft + at_ft;
  } else if ((at_ft -= base_ft) < quarter_ft) {
    const double turned = at_ft / radius_ft;
    to_turn_deg = 90.0 - turned / k_radians_per_degree;
    state.along_ft = -past_ft - radius_ft * std::cos(turned);
    state.cross_ft = -radius_ft * (1.0 - std::sin(turned));
  } else {
    to_turn_deg = 0.0;
    state.along_ft = -past_ft + at_ft - quarter_ft;
  }
  if (to_turn_deg > 5.0) to_turn_deg += luck.between(-5.0, 5.0);
  state.heading_rad = band.crab_rad() + to_turn_deg * k_radians_per_degree;
  state.speed_fps = reach::speed_to_turn_fps(band.flight(), band.request().technique, to_turn_deg);
  state.path_rad = -0.1;
  return state;
}

struct Followed {
  int flown = 0;
  int in_box = 0;
  int within_100_ft = 0;  ///< of the box
};

/// From heights inside by more than the stated error and a tenth of the width, the band's own way.
Followed follow(const Band& band, Luck& luck, int states) {
  constexpr double least_error_ft = 15.0, lowest_start_ft = 450.0, highest_start_ft = 1400.0;
  Followed followed;
  for (int i = 0; i < states; ++i) {
    FlightState state = random_state(band, luck);
    state.height_ft = 700.0;
    const Room room = band.room(place_of(state), Surety::mean);
    const double low = std::max(room.lowest_ft, lowest_start_ft),
                 high = std::min(room.by_slip_ft, highest_start_ft);
    if (high <= low) continue;
    state.height_ft = luck.between(low, high);
    const double width = std::max({0.0, room.highest_without_landing_flap_ft - room.lowest_ft,
                                   room.highest_with_landing_flap_ft - room.lowest_with_landing_flap_ft});
    if (room.margin_ft(state.height_ft) < std::max({least_error_ft, room.error_ft, 0.1 * width})) continue;
    const FlownFrom flown =
        reach::fly_from(band.flight(), band.request().technique, state, reach::steer_by(band));
    const Box& box = band.request().box;
    ++followed.flown;
    if (!flown.touched_down || !flown.lined_up_at_gate) continue;
    followed.in_box += flown.along_ft >= box.low_ft && flown.along_ft <= box.high_ft;
    followed.within_100_ft += flown.along_ft >= box.low_ft - 100.0 && flown.along_ft <= box.high_ft + 100.0;
  }
  return followed;
}

/// From below the lowest edge abeam by more than its error: how many of random techniques land in the box.
struct Outside {
  long tried = 0;
  long landed = 0;
};
Outside try_from_outside(const Band& band, Luck& luck, int techniques) {
  constexpr double clear_of_error_ft = 25.0;
  const BandRequest& request = band.request();
  const Room room = room_abeam(band, &Room::lowest_ft);
  Outside outside;
  for (int i = 0; i < techniques; ++i) {
    Technique technique = random_technique(request.airplane, request.conditions, luck);
    technique.spacing_ft = request.technique.spacing_ft;
    technique.pattern_speed_kt = request.technique.pattern_speed_kt;
    technique.idle_s_after_abeam = 0.0;
    technique.go_around_when_unstable = false;
    technique.base_course_deg = luck.between(-60.0, 40.0);
    technique.base_turn_s_after_abeam = luck.between(0.0, 20.0);
    technique.base_turn_bank_deg = luck.between(15.0, request.means.bank_deg);
    technique.final_turn_bank_deg = luck.between(15.0, request.means.bank_deg);
    technique.final_turn_bank_limit_deg = request.means.bank_deg;
    const double height_ft = room.lowest_ft - std::max(clear_of_error_ft, room.error_ft);
    ++outside.tried;
    outside.landed += lands(request, technique, height_ft);
  }
  return outside;
}

struct Summary {
  std::vector<double> grid_ft, dynamics_ft, upper_grid_ft, upper_dynamics_ft;
  Followed followed;
  Outside outside;
};

Summary over_scenes(Crew& crew, int scenes) {
  const auto airplanes = all_airplanes();
  Summary summary;
  std::mutex mutex;
  crew.work(scenes, [&](int scene) {
    Luck luck(static_cast<std::uint64_t>(scene) + 5000);
    BandRequest request = random_band(airplanes, static_cast<std::uint64_t>(scene), luck);
    const Band band = Band::over(request, Surety::mean);
    BandRequest fine = request;
    fine.grid = {20.0, 2.5};
    const Band fine_band = Band::over(fine, Surety::mean);
    const double lowest = room_abeam(band, &Room::lowest_ft).lowest_ft;
    const double grid = std::abs(lowest - room_abeam(fine_band, &Room::lowest_ft).lowest_ft);
    const double upper = std::abs(room_abeam(band, &Room::by_flaps_ft).by_flaps_ft -
                                  room_abeam(fine_band, &Room::by_flaps_ft).by_flaps_ft);
    const double dynamics = std::abs(lowest - lowest_flown_ft(request));
    const double by_path = room_abeam(band, &Room::by_path_ft).by_path_ft;
    const auto highest_flown = highest_flown_by_path_ft(request, by_path);
    const Followed followed = follow(band, luck, 100);
    const Outside outside = try_from_outside(band, luck, 250);
    const std::lock_guard lock(mutex);
    summary.grid_ft.push_back(grid);
    summary.upper_grid_ft.push_back(upper);
    summary.dynamics_ft.push_back(dynamics);
    if (highest_flown) summary.upper_dynamics_ft.push_back(by_path - *highest_flown);
    summary.followed.flown += followed.flown;
    summary.followed.in_box += followed.in_box;
    summary.followed.within_100_ft += followed.within_100_ft;
    summary.outside.tried += outside.tried;
    summary.outside.landed += outside.landed;
  });
  return summary;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}
double largest(const std::vector<double>& values) {
  return *std::max_element(values.begin(), values.end());
}
std::vector<double> negated(std::vector<double> values) {
  for (double& value : values) value = -value;
  return values;
}
double rounded(double value, double to) {
  return std::round(value / to) * to;
}

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

/// Plain writing of as many bytes as the band holds: the machine's limit for it.
double write_ms(std::size_t bytes) {
  std::vector<float> target(bytes / sizeof(float));
  float value = 1.0F;
  return milliseconds_for([&] { std::fill(target.begin(), target.end(), value += 1.0F); });
}

}  // namespace
}  // namespace glidewright

int main() {
  using namespace glidewright;
  Crew crew(static_cast<int>(std::max(1U, std::thread::hardware_concurrency())));
  const ShareOut share_out = [&](int count, const std::function<void(int)>& piece) {
    crew.work(count, piece);
  };
  const Airplane airplane = airplane_of_data("demo-trainer");
  BandRequest request;
  request.airplane = airplane;
  const BatchRequest demo = demonstration(airplane, 1);
  request.conditions = demo.conditions;
  request.technique = demo.technique;
  request.region = ReachRegion::pattern(request.technique.spacing_ft, request.means);

  std::size_t bytes_40 = 0, bytes_20 = 0;
  const auto band_ms = [&](ReachGrid grid, const ReachRegion& region, Surety surety, std::size_t* bytes) {
    BandRequest asked = request;
    asked.grid = grid;
    asked.region = region;
    return milliseconds_for([&] {
      const Band band = Band::over(asked, surety, share_out);
      if (bytes) *bytes = band.bytes();
    });
  };
  const double corridor_40 = band_ms({40.0, 5.0}, request.region, Surety::mean, &bytes_40);
  const double corridor_40_sure = band_ms({40.0, 5.0}, request.region, Surety::nine_in_ten, nullptr);
  const double interactive_peak_mb = peak_mb();
  const double full_60 = band_ms({60.0, 5.0}, ReachRegion::full(request.technique.spacing_ft, request.means),
                                 Surety::mean, nullptr);
  const double fine_20 = band_ms({20.0, 2.5}, request.region, Surety::mean, &bytes_20);
  const double fine_peak = peak_mb();

  const Summary summary = over_scenes(crew, 40);
  const auto percent = [](double part, double whole) { return rounded(100.0 * part / whole, 0.1); };
  print_measurement(
      "band",
      {{"isa", name_of(widest_instruction_set())},
       {"full_60_ms", rounded(full_60, 0.1)},
       {"corridor_40_ms", rounded(corridor_40, 0.1)},
       {"corridor_40_nine_in_ten_ms", rounded(corridor_40_sure, 0.1)},
       {"fine_20_ms", rounded(fine_20, 0.1)},
       {"corridor_40_mb", rounded(static_cast<double>(bytes_40) / 1e6, 0.1)},
       {"corridor_40_peak_mb", rounded(interactive_peak_mb, 1.0)},
       {"fine_20_mb", rounded(static_cast<double>(bytes_20) / 1e6, 0.1)},
       {"fine_peak_mb", rounded(fine_peak, 1.0)},
       {"corridor_40_over_plain_writing", rounded(corridor_40 / write_ms(bytes_40), 0.1)},
       {"abeam_lower_edge_error_grid_ft", rounded(median(summary.grid_ft), 0.1)},
       {"abeam_lower_edge_error_grid_largest_ft", rounded(largest(summary.grid_ft), 0.1)},
       {"abeam_lower_edge_error_dynamics_ft", rounded(median(summary.dynamics_ft), 0.1)},
       {"abeam_lower_edge_error_dynamics_largest_ft", rounded(largest(summary.dynamics_ft), 0.1)},
       {"upper_edge_error_ft", rounded(median(summary.upper_grid_ft), 0.1)},
       {"upper_edge_error_largest_ft", rounded(largest(summary.upper_grid_ft), 0.1)},
       {"upper_edge_by_path_over_dynamics_ft", rounded(median(summary.upper_dynamics_ft), 0.1)},
       {"upper_edge_by_path_over_dynamics_largest_ft", rounded(largest(summary.upper_dynamics_ft), 0.1)},
       {"upper_edge_by_path_over_dynamics_least_ft",
        rounded(-largest(negated(summary.upper_dynamics_ft)), 0.1)},
       {"upper_edge_by_path_scenes_compared", summary.upper_dynamics_ft.size()},
       {"flown_inside", summary.followed.flown},
       {"flown_inside_success_percent", percent(summary.followed.in_box, summary.followed.flown)},
       {"flown_inside_within_100_ft_percent",
        percent(summary.followed.within_100_ft, summary.followed.flown)},
       {"techniques_tried_outside", summary.outside.tried},
       {"landed_from_outside", summary.outside.landed}});
}

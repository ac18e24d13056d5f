#include "engine/debrief/findings.hpp"

#include <algorithm>
#include <cmath>

#include "engine/units/words.hpp"

namespace glidewright {
namespace {

constexpr double k_note_bank_deg = 30.0;
constexpr double k_finding_bank_deg = 45.0;
constexpr double k_wanted_margin = 1.2;
constexpr double k_gate_bank_deg = 15.0;
constexpr double k_over_kt = 10.0, k_under_kt = 5.0;

/// V / (Vs sqrt n) with n = 1 / cos(bank), flaps up: the log may not show the flap, and up is the cautious
/// side.
double speed_margin(double calibrated_kt, double bank_deg, const FindingsContext& context) {
  const double load_factor = 1.0 / std::cos(std::min(bank_deg, 75.0) * k_radians_per_degree);
  return calibrated_kt / (context.airplane.polar.stall_kcas(context.weight_lb, 0.0) * std::sqrt(load_factor));
}

void judge_turn(std::vector<Finding>& findings, const char* which, const BankEstimate& bank, double from_s,
                double to_s, const FindingsContext& context) {
  const auto speed = mean_airspeed(context.track, context.air, from_s, to_s);
  const bool steep = bank.bank_deg > k_finding_bank_deg;
  const double margin = speed ? speed_margin(speed->calibrated_kt, bank.bank_deg, context) : 9.9;
  if (steep || margin < k_wanted_margin) {
    std::string sentence =
        words("%s: %.0f° of bank (%.0f to %.0f)", which, bank.bank_deg, bank.low95_deg, bank.high95_deg);
    if (speed) {
      const double unsure_kt = 2.0 * speed->sd_kt(context.airspeed_sd_kt);
      const double low = speed_margin(speed->calibrated_kt - unsure_kt, bank.high95_deg, context);
      const double high = speed_margin(speed->calibrated_kt + unsure_kt, bank.low95_deg, context);
      sentence += words("; speed margin %.2f (%.2f to %.2f) over the stall, flaps up; %.1f wanted", margin,
                        low, high, k_wanted_margin);
    }
    findings.push_back({Finding::Weight::finding, sentence + "."});
  } else if (bank.bank_deg > k_note_bank_deg + 0.5) {
    findings.push_back({Finding::Weight::note, words("%s: %.0f° of bank (%.0f to %.0f); 30° is taught.",
                                                     which, bank.bank_deg, bank.low95_deg, bank.high95_deg)});
  }
}

enum class FlapAtGate { settled, moving, not_known };

/// By the marks, else by the panel: has it been still for the last 5 s?
FlapAtGate flap_at_gate(const Attempt& attempt, const FindingsContext& context) {
  constexpr double settled_s = 5.0, still_deg = 1.0;
  const double gate_s = attempt.gate->time_unix_s;
  const auto lately = [&](double time_s) { return gate_s - time_s > 0.0 && gate_s - time_s < settled_s; };
  if (context.marks && context.marks->flaps) {
    for (const MarkedFlap& flap : *context.marks->flaps)
      if (const auto time = time_of(flap.at, attempt); time && lately(*time)) return FlapAtGate::moving;
    return FlapAtGate::settled;
  }
  const auto& panel = context.log.panel;
  const auto there = std::find_if(panel.begin(), panel.end(), [&](const PanelSample& sample) {
    return sample.flap_deg && std::abs(sample.time_unix_s - gate_s) < 2.0;
  });
  if (there == panel.end()) return FlapAtGate::not_known;
  const bool moves = std::any_of(panel.begin(), panel.end(), [&](const PanelSample& sample) {
    return sample.flap_deg && lately(sample.time_unix_s) &&
           std::abs(*sample.flap_deg - *there->flap_deg) > still_deg;
  });
  return moves ? FlapAtGate::moving : FlapAtGate::settled;
}

/// Flap at a moment by the marks, else by the panel.
std::optional<double> flap_deg_at(double time_s, const Attempt& attempt, const FindingsContext& context) {
  if (context.marks && context.marks->flaps) return flap_marked_deg(*context.marks->flaps, attempt, time_s);
  constexpr double near_s = 2.0;
  for (const PanelSample& sample : context.log.panel)
    if (sample.flap_deg && std::abs(sample.time_unix_s - time_s) < near_s) return sample.flap_deg;
  return std::nullopt;
}

/// Slips with more flap than the handbook allows: the most flap that was out during each.
void judge_slips(std::vector<Finding>& findings, const Attempt& attempt, const FindingsContext& context) {
  if (!context.marks || !context.marks->slips) return;
  const double limit_deg = context.airplane.handbook.slip_flap_limit_deg;
  constexpr double within_deg = 1.0;
  for (const MarkedSlip& slip : *context.marks->slips) {
    const auto in_s = time_of(slip.in, attempt), out_s = time_of(slip.out, attempt);
    if (!in_s || !out_s) continue;
    const auto at_in = flap_deg_at(*in_s, attempt, context), at_out = flap_deg_at(*out_s, attempt, context);
    const double most_deg = std::max(at_in.value_or(0.0), at_out.value_or(0.0));
    if (most_deg <= limit_deg + within_deg) continue;
    findings.push_back({Finding::Weight::finding,
                        words("Slip with %.0f° of flap; the airplane's profile allows slips up to %.0f°.",
                              most_deg, limit_deg)});
  }
}

}  // namespace

std::vector<Finding> find_safety(const Attempt& attempt, const FindingsContext& context) {
  std::vector<Finding> findings;
  if (attempt.base_turn_bank && attempt.base_turn) {
    const double end = attempt.base ? attempt.base->time_unix_s : attempt.base_turn->time_unix_s + 12.0;
    judge_turn(findings, "Base turn", *attempt.base_turn_bank, attempt.base_turn->time_unix_s, end, context);
  }
  if (attempt.final_turn_bank && attempt.final_turn) {
    const double end =
        attempt.final_leg ? attempt.final_leg->time_unix_s : attempt.final_turn->time_unix_s + 12.0;
    judge_turn(findings, "Final turn", *attempt.final_turn_bank, attempt.final_turn->time_unix_s, end,
               context);
  }
  constexpr double low_turn_ft = 300.0;
  if (attempt.final_leg && attempt.final_turn && attempt.final_leg->height_ft < low_turn_ft &&
      attempt.outcome != Outcome::go_around) {
    findings.push_back(
        {Finding::Weight::note, words("Wings level on final at %.0f ft; %.0f ft or more is taught.",
                                      attempt.final_leg->height_ft, low_turn_ft)});
  }
  judge_slips(findings, attempt, context);
  std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
    return a.weight == Finding::Weight::finding && b.weight == Finding::Weight::note;
  });
  return findings;
}

Stability judge_gate(const Attempt& attempt, const FindingsContext& context) {
  using Stable = Stability::Stable;
  Stability stability;
  if (!attempt.gate) {
    stability.reasons.push_back("the log does not show the gate");
    return stability;
  }
  const KeyPoint& gate = *attempt.gate;
  bool violated = false, unsure = false;
  const auto violates = [&](std::string reason) {
    violated = true;
    stability.reasons.push_back(std::move(reason));
  };
  const auto cannot_tell = [&](std::string reason) {
    unsure = true;
    stability.reasons.push_back(std::move(reason));
  };

  const double course_off = std::abs(wrap_180_deg(gate.course_true_deg - context.air.runway_true_deg));
  if (course_off > 10.0 || std::abs(gate.place.cross_ft) > 75.0 + 2.0 * 10.0) {
    violates(words("not lined up: %.0f ft beside the centreline, course %.0f° off",
                   std::abs(gate.place.cross_ft), course_off));
  }
  const auto before = context.track.at(gate.time_unix_s - 1.0);
  const auto after = context.track.at(gate.time_unix_s + 1.0);
  const Degrees bearing{context.air.runway_true_deg};
  const double turn_rad_s = wrap_180_deg(after.course_true_deg(bearing) - before.course_true_deg(bearing)) *
                            k_radians_per_degree / 2.0;
  const double bank_deg =
      std::atan(gate.groundspeed_kt * k_fps_per_knot * std::abs(turn_rad_s) / k_gravity_fps2) /
      k_radians_per_degree;
  if (bank_deg > k_gate_bank_deg + 5.0) violates(words("%.0f° of bank; 15° at most", bank_deg));

  const MeanAirspeed speed =
      mean_airspeed(context.track, context.air, gate.time_unix_s - 2.0, gate.time_unix_s + 2.0)
          .value_or(MeanAirspeed{context.planned.final_speed_kt});
  const double over_kt = speed.calibrated_kt - context.planned.final_speed_kt;
  const double unsure_kt = 2.0 * speed.sd_kt(context.airspeed_sd_kt);
  if (over_kt > k_over_kt + unsure_kt || over_kt < -k_under_kt - unsure_kt) {
    violates(words("%.0f kt; %.0f +10/−5 wanted", speed.calibrated_kt, context.planned.final_speed_kt));
  } else if (over_kt > k_over_kt - unsure_kt || over_kt < -k_under_kt + unsure_kt) {
    cannot_tell(words("speed %.0f ± %.0f kt %s; %.0f +10/−5 wanted", speed.calibrated_kt, unsure_kt,
                      speed.recorded ? "by the panel" : "from ground speed and wind",
                      context.planned.final_speed_kt));
  }
  const FlapAtGate flap = flap_at_gate(attempt, context);
  if (flap == FlapAtGate::not_known) cannot_tell("flap is not in this log");
  if (flap == FlapAtGate::moving) violates("flap still moving within 5 s of the gate");
  stability.stable = violated ? Stable::no : unsure ? Stable::cannot_tell : Stable::yes;
  return stability;
}

std::optional<SpeedOnFinal> speed_on_final(const Attempt& attempt, const FindingsContext& context) {
  if (!attempt.final_leg) return std::nullopt;
  const double from_s = attempt.final_leg->time_unix_s;
  constexpr double k_flare_ft = 50.0;
  const auto to_s = descends_through(context.track, k_flare_ft, from_s);
  if (!to_s) return std::nullopt;
  const auto speed = mean_airspeed(context.track, context.air, from_s, *to_s);
  if (!speed) return std::nullopt;
  return SpeedOnFinal{speed->calibrated_kt, speed->sd_kt(context.airspeed_sd_kt),
                      context.planned.final_speed_kt, speed->recorded};
}

Airmanship judge_airmanship(const Attempt& attempt, const std::vector<Finding>& findings,
                            const std::optional<Stability>& gate) {
  Airmanship airmanship;
  const bool unstable = gate && gate->stable == Stability::Stable::no;
  const auto worst = std::find_if(findings.begin(), findings.end(),
                                  [](const Finding& f) { return f.weight == Finding::Weight::finding; });
  if (attempt.outcome == Outcome::go_around) {
    airmanship.verdict =
        worst == findings.end() ? "good judgement" : "good judgement to go around; talk about the turn";
    airmanship.reasons.push_back(
        attempt.go_around
            ? words("Went around from %.0f ft instead of forcing the landing.", attempt.go_around->height_ft)
            : std::string("Went around instead of forcing the landing."));
  } else if (worst != findings.end()) {
    airmanship.verdict = "one decision to talk about";
  } else if (unstable && landed(attempt.outcome)) {
    airmanship.verdict = "one decision to talk about";
    airmanship.reasons.push_back("Not stable at the gate, and landed; the plan there is to go around.");
  } else if (attempt.outcome == Outcome::unfinished) {
    airmanship.verdict = "cannot tell";
    airmanship.reasons.push_back("The log ends before the approach does.");
  } else {
    airmanship.verdict = "nothing against it in this log";
  }
  if (worst != findings.end()) airmanship.reasons.push_back(worst->sentence);
  if (unstable) {
    for (const auto& reason : gate->reasons) airmanship.reasons.push_back("At the gate: " + reason + ".");
  }
  return airmanship;
}

}  // namespace glidewright

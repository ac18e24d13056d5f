#include "engine/track/pattern_turns.hpp"

#include <algorithm>
#include <cmath>

#include "engine/glide/state.hpp"

namespace glidewright {
namespace {

// As the airplane of the plan rolls in: from the command to 10 degrees of bank, s, and how fast bank grows
// then.
constexpr double k_roll_rate_deg_per_s = 10.0;
constexpr double k_command_to_10_deg_s = k_roll_in_begins_s + 10.0 / k_roll_rate_deg_per_s;
constexpr double k_level_bank_deg = 7.0;
constexpr double k_least_turn_bank_deg = 8.0;

/// Bank over time: recorded roll where there is one, else from the track.
class BankCourse {
 public:
  BankCourse(const PatternView& view, const std::vector<PanelSample>& panel) {
    banks_.reserve(view.moments.size());
    for (const PatternMoment& m : view.moments) banks_.push_back(m.bank_deg);
    use_recorded(view, panel);
  }
  double operator[](std::size_t i) const { return banks_[i]; }
  std::size_t size() const { return banks_.size(); }
  bool recorded() const { return recorded_; }

 private:
  void use_recorded(const PatternView& view, const std::vector<PanelSample>& panel) {
    std::vector<double> rolls(banks_.size(), 0.0);
    double agreement = 0.0;
    auto after = panel.begin();
    for (std::size_t i = 0; i < banks_.size(); ++i) {
      const double t = view.moments[i].time_unix_s;
      while (after != panel.end() && after->time_unix_s < t) ++after;
      if (after == panel.begin() || after == panel.end()) return;
      const PanelSample& a = *(after - 1);
      const PanelSample& b = *after;
      if (!a.roll_deg || !b.roll_deg || b.time_unix_s - a.time_unix_s > 3.0) return;
      const double part = (t - a.time_unix_s) / (b.time_unix_s - a.time_unix_s);
      rolls[i] = *a.roll_deg + part * (*b.roll_deg - *a.roll_deg);
      agreement += rolls[i] * banks_[i];
    }
    // The pattern is mirrored to lie on the left, and files differ in the sign of roll: the track decides.
    for (double& roll : rolls) roll = agreement < 0.0 ? -roll : roll;
    banks_ = std::move(rolls);
    recorded_ = true;
  }
  std::vector<double> banks_;
  bool recorded_ = false;
};

struct Turn {
  std::size_t onset = 0;  // bank has reached half of what the turn is flown with
  std::size_t peak = 0;
  double onset_s = 0.0;   // the same between samples
  double bank_deg = 0.0;  // at the peak
};

/// The turn in which the direction passes at `middle`: its onset lies where bank rises through half its peak,
/// which smoothing blurs but does not move.
std::optional<Turn> turn_around(const PatternView& view, const BankCourse& bank, std::size_t middle,
                                std::size_t earliest) {
  const auto reach = [&](double seconds) { return static_cast<std::size_t>(seconds / view.step_s); };
  const std::size_t from = std::max(earliest, middle > reach(4.0) ? middle - reach(4.0) : 0);
  const std::size_t to = std::min(bank.size() - 1, middle + reach(5.0));
  if (from >= to) return {};
  std::size_t peak = from;
  for (std::size_t i = from; i <= to; ++i) {
    if (bank[i] > bank[peak]) peak = i;
  }
  if (bank[peak] < k_least_turn_bank_deg) return {};
  const double half = bank[peak] / 2.0;
  std::size_t i = peak;
  while (i > earliest && bank[i] >= half) --i;
  if (bank[i] >= half) return {};  // already turning where the search begins
  const double part = (half - bank[i]) / (bank[i + 1] - bank[i]);
  return Turn{i + 1, peak, view.moments[i].time_unix_s + part * view.step_s, bank[peak]};
}

double command_time_s(const Turn& turn) {
  return turn.onset_s - k_command_to_10_deg_s - (turn.bank_deg / 2.0 - 10.0) / k_roll_rate_deg_per_s;
}

/// Last moment at which less than this had been turned.
std::optional<std::size_t> last_below(const PatternView& view, double turned_deg) {
  for (std::size_t i = view.moments.size(); i-- > 0;) {
    if (view.moments[i].turned_deg < turned_deg) return i;
  }
  return {};
}

/// First moment from which the wings stay level for a second.
std::optional<std::size_t> level_from(const PatternView& view, const BankCourse& bank, std::size_t from,
                                      std::size_t to) {
  const auto held = static_cast<std::size_t>(1.0 / view.step_s);
  std::size_t level = 0;
  for (std::size_t i = from; i <= to && i < bank.size(); ++i) {
    level = std::abs(bank[i]) < k_level_bank_deg ? level + 1 : 0;
    if (level > held) return i - held;
  }
  return {};
}

BankEstimate steepest_bank(const BankCourse& bank, std::size_t from, std::size_t to, double fix_interval_s) {
  double steepest = 0.0;
  for (std::size_t i = from; i <= to && i < bank.size(); ++i) steepest = std::max(steepest, bank[i]);
  // A track shows accelerations blurred over about a second and a half, and gusts in it look like bank.
  const double below = bank.recorded() ? 1.5 : 5.0 + 2.0 * std::min(fix_interval_s, 5.0);
  const double above = bank.recorded() ? 3.0 : 7.0 + 2.0 * std::min(fix_interval_s, 5.0);
  return {steepest, std::max(steepest - below, 0.0), std::min(steepest + above, 90.0), {}};
}

/// Gusts make the steepest bank steeper than the one held, the blur of a track makes it shallower: both leave
/// the mean between roll-in and roll-out alone.
std::optional<double> held_bank(const PatternView& view, const BankCourse& bank, const Turn& turn,
                                double last_turned_deg) {
  constexpr double rolled_in_s = 2.0, roll_out_begins_deg = 25.0;
  constexpr int enough = 3;
  double sum = 0.0;
  int moments = 0;
  for (std::size_t i = turn.onset; i < bank.size(); ++i) {
    const PatternMoment& m = view.moments[i];
    if (m.turned_deg > last_turned_deg - roll_out_begins_deg) break;
    if (m.time_unix_s < turn.onset_s + rolled_in_s) continue;
    sum += bank[i];
    ++moments;
  }
  if (moments < enough) return {};
  return sum / moments;
}

class TurnSearch {
 public:
  TurnSearch(const PatternView& view, const BankCourse& bank, double fix_interval_s)
      : view_(view), bank_(bank), fix_interval_s_(fix_interval_s) {
    out_.roll_in_sd_s = bank.recorded() ? 0.3 : std::hypot(0.5, 0.3 * fix_interval_s);
    out_.wings_level_sd_s = std::hypot(1.0, 0.4 * fix_interval_s);
  }

  PatternTurns run() {
    if (view_.moments.size() < 4) return out_;
    find_base_turn();
    find_base();
    find_final_turn();
    find_final_leg();
    find_banks();
    return out_;
  }

 private:
  void find_base_turn() {
    const auto begun = last_below(view_, 30.0);
    if (!begun) return;
    base_turn_ = turn_around(view_, bank_, *begun, 0);
    if (base_turn_) out_.base_turn_s = command_time_s(*base_turn_);
  }

  void find_base() {
    const auto nearly_final = last_below(view_, 150.0);
    if (!nearly_final) return;
    if (base_turn_) {
      // Base is where the wings come level between the turns; its direction may lie well off square.
      auto level = level_from(view_, bank_, base_turn_->peak, *nearly_final);
      if (level && view_.moments[*level].turned_deg > 45.0) base_ = level;
    } else if (view_.moments.front().turned_deg > 45.0) {
      base_ = level_from(view_, bank_, 0, *nearly_final);
      return;  // entered on base: when its wings came level is not on the log
    }
    if (base_) out_.base_s = view_.moments[*base_].time_unix_s;
    out_.continuous = base_turn_ && !base_;
  }

  void find_final_turn() {
    if (!base_) return;
    const double base_direction = view_.moments[*base_].turned_deg;
    const auto middle = last_below(view_, (base_direction + 180.0) / 2.0);
    if (!middle || *middle < *base_) return;
    final_turn_ = turn_around(view_, bank_, *middle, *base_);
    if (final_turn_) out_.final_turn_s = command_time_s(*final_turn_);
  }

  void find_final_leg() {
    const auto inbound = last_below(view_, 160.0);
    const std::size_t first = final_turn_ ? final_turn_->peak : inbound.value_or(0);
    for (std::size_t i = first; i < view_.moments.size(); ++i) {
      const PatternMoment& m = view_.moments[i];
      if (std::abs(bank_[i]) < k_level_bank_deg && std::abs(m.turned_deg - 180.0) < 7.0 &&
          std::abs(m.outside_ft) < 150.0) {
        final_leg_ = i;
        // On final from the first moment of the log or of the search: when the wings came level was not seen.
        if (inbound) out_.final_leg_s = m.time_unix_s;
        return;
      }
    }
  }

  void find_banks() {
    const std::size_t last = view_.moments.size() - 1;
    if (base_turn_) {
      const auto to = last_below(view_, 120.0).value_or(last);
      out_.base_turn_bank = steepest_bank(bank_, base_turn_->onset, base_.value_or(to), fix_interval_s_);
      if (base_)
        out_.base_turn_bank->held_deg =
            held_bank(view_, bank_, *base_turn_, view_.moments[*base_].turned_deg);
    }
    if (final_turn_) {
      out_.final_turn_bank =
          steepest_bank(bank_, final_turn_->onset, final_leg_.value_or(last), fix_interval_s_);
      out_.final_turn_bank->held_deg = held_bank(view_, bank_, *final_turn_, 180.0);
    } else if (out_.continuous) {
      const auto from = last_below(view_, 120.0).value_or(0);
      out_.final_turn_bank = steepest_bank(bank_, from, final_leg_.value_or(last), fix_interval_s_);
    }
  }

  const PatternView& view_;
  const BankCourse& bank_;
  double fix_interval_s_;
  PatternTurns out_;
  std::optional<Turn> base_turn_, final_turn_;
  std::optional<std::size_t> base_, final_leg_;
};

}  // namespace

PatternTurns find_turns(const PatternView& view, const std::vector<PanelSample>& panel,
                        double fix_interval_s) {
  const BankCourse bank(view, panel);
  return TurnSearch(view, bank, fix_interval_s).run();
}

}  // namespace glidewright

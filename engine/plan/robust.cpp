#include "engine/plan/robust.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/plan/limits.hpp"

namespace glidewright {
namespace {

/// Share of flights that must be gained before anything but the cue as planned is taught.
constexpr double k_worth_changing = 0.015;
/// Ten flights in the box are given up for each that is short beyond the bound: a slope for the search to
/// come back by, where a wall would leave it lost.
constexpr double k_short_costs = 10.0;

struct Candidate {
  double cue_s = 0.0;
  std::size_t flaps = 0;   ///< 0 the technique's own, from 1 on the other schedules
  double aim_shift = 0.0;  ///< of the place steered to, in widths of the box
  int flights = 0;         ///< flown so far
  int in_box = 0;
  int before_threshold = 0;

  double score() const {
    const double n = std::max(1, flights);
    return in_box / n - k_short_costs * std::max(0.0, short_with_luck() - k_most_short_of_runway);
  }
  /// Share that is short, and a standard error or so: other flights than these will judge it.
  double short_with_luck() const {
    const double n = std::max(1, flights);
    return (before_threshold + 1.3 * std::sqrt(static_cast<double>(before_threshold))) / n;
  }
};

bool same_but_for_the_cue(const Candidate& a, const Candidate& b) {
  return a.flaps == b.flaps && a.aim_shift == b.aim_shift;
}

class Search {
 public:
  Search(const PlanRequest& request, double center_s, const ShareOut& share_out)
      : request_(request), center_s_(center_s), share_out_(share_out) {}

  void add(double cue_s, std::size_t flaps, double aim_shift) {
    Candidate one;
    one.cue_s = std::max(0.0, cue_s);
    one.flaps = flaps;
    one.aim_shift = aim_shift;
    const auto again = std::find_if(field_.begin(), field_.end(), [&](const Candidate& other) {
      return same_but_for_the_cue(other, one) && std::abs(other.cue_s - one.cue_s) < 0.05;
    });
    if (again == field_.end()) field_.push_back(one);
  }

  /// Everyone has flown `flights` in all, the first of the seed.
  void fly_up_to(int flights) {
    std::vector<Candidate> flown = field_;
    share_out_(static_cast<int>(flown.size()), [&](int i) {
      Candidate& one = flown[static_cast<std::size_t>(i)];
      if (one.flights >= flights) return;
      const PlanRequest as_flown = request_of(one);
      for (const FlownOnce& f : fly_over_spread(as_flown, one.cue_s, one.flights, flights - one.flights)) {
        one.in_box += in_box(f, request_.box);
        one.before_threshold += landed_short(f, request_.threshold_along_ft);
      }
      one.flights = flights;
    });
    for (std::size_t i = 0; i < field_.size(); ++i) flown_ += flown[i].flights - field_[i].flights;
    field_ = std::move(flown);
  }

  /// The best `count`, and the first candidate, which everything else is compared with.
  void keep(std::size_t count) {
    if (field_.size() <= count) return;
    std::stable_sort(field_.begin() + 1, field_.end(),
                     [](const Candidate& a, const Candidate& b) { return a.score() > b.score(); });
    field_.resize(count);
  }

  const std::vector<Candidate>& field() const { return field_; }

  PlanRequest request_of(const Candidate& one) const {
    PlanRequest changed = request_;
    if (one.flaps > 0) changed.technique.flaps = request_.other_flaps[one.flaps - 1];
    changed.technique.planned_touchdown_ft += one.aim_shift * (request_.box.high_ft - request_.box.low_ft);
    return changed;
  }

  /// Its own approach, flown without a deviation, ends stable in the box.
  bool lands_as_planned(const Candidate& one) const {
    const Approach own = fly_nominal_with_rules(request_of(one), one.cue_s, Trace::none);
    return own.touchdown && own.end == ApproachEnd::touchdown && own.stable_at_gate &&
           own.touchdown->along_ft >= request_.box.low_ft && own.touchdown->along_ft <= request_.box.high_ft;
  }

  /// Better than the first by what is worth changing for and by two standard errors of a difference between
  /// the same flights, most of which end alike: a third of the flights in the box at most.
  bool worth_changing_for(const Candidate& one) const {
    const Candidate& first = field_.front();
    const double n = std::max(1, first.flights);
    const double share = std::max(first.in_box, one.in_box) / n;
    const double error = 2.0 * std::sqrt(share / 3.0 * 2.0 / n);
    return one.score() > first.score() + std::max(k_worth_changing, error);
  }

  /// Of those that land as planned and seldom short the best; the first where it is as good or none does. Of
  /// equals the one nearest to the cue as planned.
  ///
  /// Then what remains if other flights find it short too often: ever earlier ones.
  void offer(const AcceptsCue& accepts) const {
    std::vector<Candidate> best = field_;
    const auto off_s = [&](const Candidate& one) { return std::abs(one.cue_s - center_s_); };
    std::stable_sort(best.begin(), best.end(), [&](const Candidate& a, const Candidate& b) {
      return a.score() != b.score() ? a.score() > b.score() : off_s(a) < off_s(b);
    });
    std::optional<double> last_s;
    const auto accepted = [&](const Candidate& one) {
      last_s = one.cue_s;
      return accepts(found(one));
    };
    const Candidate& first = field_.front();
    if (!worth_changing_for(best.front()) && seldom_short(first) && lands_as_planned(first) &&
        accepted(first))
      return;
    for (const Candidate& one : best) {
      const bool earlier = !last_s || one.cue_s < *last_s - 0.3;
      if (earlier && seldom_short(one) && lands_as_planned(one) && accepted(one)) return;
    }
    if (!last_s && accepted(first)) return;
    // Beyond those that flew: the best technique turned earlier still.
    constexpr double sooner_s = 0.5, most_between_s = 4.0;
    Candidate one = best.front();
    for (one.cue_s = *last_s - sooner_s; one.cue_s >= std::max(0.0, *last_s - most_between_s);
         one.cue_s -= sooner_s) {
      if (lands_as_planned(one) && accepted(one)) return;
    }
  }

 private:
  static bool seldom_short(const Candidate& one) { return one.short_with_luck() <= k_most_short_of_runway; }

  RobustCue found(const Candidate& one) const {
    RobustCue cue;
    cue.cue_s = one.cue_s;
    cue.technique = request_of(one).technique;
    cue.technique.base_turn_s_after_abeam = one.cue_s;
    cue.flights = flown_;
    return cue;
  }

  const PlanRequest& request_;
  double center_s_;
  const ShareOut& share_out_;
  std::vector<Candidate> field_;
  int flown_ = 0;
};

constexpr double k_widest_s =
    10.0;  // on the early side; half of it on the late one, where flights fall short

void look_wide(Search& search, double center_s, std::size_t schedules, double every_s) {
  search.add(center_s, 0, 0.0);  // the first: the cue as planned
  for (std::size_t flaps = 0; flaps < schedules; ++flaps) {
    for (double off = -k_widest_s; off <= 0.5 * k_widest_s + 1e-9; off += every_s) {
      if (center_s + off >= 0.0) search.add(center_s + off, flaps, 0.0);
    }
  }
}

/// Neighbours of those that are left.
void look_near(Search& search, double by_s, double aim_shift) {
  const std::vector<Candidate> left = search.field();
  for (const Candidate& one : left) {
    for (const double off : {-by_s, by_s}) search.add(one.cue_s + off, one.flaps, one.aim_shift);
    if (aim_shift == 0.0) continue;
    for (const double shift : {-aim_shift, aim_shift})
      search.add(one.cue_s, one.flaps, one.aim_shift + shift);
  }
}

}  // namespace

void offer_robust_cues(const PlanRequest& request, double unanswered_cue_s, const ShareOut& share_out,
                       const AcceptsCue& accepts) {
  Search search(request, unanswered_cue_s, share_out);
  if (request.search_flights <= 0) {
    look_wide(search, unanswered_cue_s, 1, 1.0);
    search.offer(accepts);
    return;
  }
  const std::size_t schedules = 1 + request.other_flaps.size();
  look_wide(search, unanswered_cue_s, schedules, 2.0);
  // The rounds cost about the same: a tenth, a quarter, a fifth, and the rest for
  // the last few, who have flown a part of it before.
  const double all = request.search_flights;
  const auto share = [&](double part) {
    return std::max(32, static_cast<int>(part * all / static_cast<double>(search.field().size())));
  };
  search.fly_up_to(share(0.1));
  search.keep(9);
  look_near(search, 1.0, 0.125);
  search.fly_up_to(share(0.25));
  search.keep(10);
  search.fly_up_to(share(0.2));
  search.keep(4);
  look_near(search, 0.5, 0.0);
  search.fly_up_to(share(0.6));
  search.offer(accepts);
}

}  // namespace glidewright

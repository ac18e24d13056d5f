#include "engine/calibration/glide_belief.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "engine/airplane/class_defaults.hpp"

namespace glidewright {
namespace {

constexpr const char* k_class_source = "class default, common practice, no source";
constexpr const char* k_propeller_field = "idle_propeller";

std::string flap_field(std::size_t i) {
  return "flaps[" + std::to_string(i) + "].glide_ratio";
}

double spread_or(const SourcedNumber& number, double otherwise) {
  return number.sd > 0.0 ? number.sd : otherwise;
}

/// Every number that bears on the glide is there, with a spread.
Handbook complete(const Handbook& given) {
  Handbook book = given;
  const Airplane airplane = fit_airplane(given);
  if (!book.least_drag_speed_kcas) {
    const auto& printed = book.best_glide_speed_kcas;
    const double sd = std::hypot(spread_or(printed, k_handbook_speed_sd_kt), k_least_drag_speed_sd_kt);
    book.least_drag_speed_kcas = SourcedNumber{
        printed.value, sd, "the best glide speed, within what its rounding leaves: " + printed.source};
  }
  auto& best = book.best_glide_ratio;
  best.sd = spread_or(best, k_handbook_glide_sd * best.value);
  for (auto& flap : book.flaps) {
    if (!flap.glide_speed_kcas) flap.glide_speed_kcas = book.approach_speed_kcas.value;
    if (!flap.glide_ratio) {
      const auto glide =
          steady_glide(airplane.polar, Knots{*flap.glide_speed_kcas}, Pounds{book.maximum_weight_lb.value},
                       Degrees{flap.setting_deg}, 0.0, 1.0);
      flap.glide_ratio =
          SourcedNumber{glide.glide_ratio, k_class_flap_glide_sd * glide.glide_ratio, k_class_source};
    }
    flap.glide_ratio->sd = spread_or(*flap.glide_ratio, k_handbook_glide_sd * flap.glide_ratio->value);
  }
  if (!book.slip_drag_ratio) {
    book.slip_drag_ratio = SourcedNumber{k_class_slip_drag_ratio, k_class_slip_drag_ratio_sd, k_class_source};
  }
  book.slip_drag_ratio->sd = spread_or(*book.slip_drag_ratio, k_class_slip_drag_ratio_sd);
  if (!book.near_stall_drag)
    book.near_stall_drag = SourcedNumber{k_knee_gain, k_knee_gain_sd, k_class_source};
  if (!book.turn_drag) book.turn_drag = SourcedNumber{k_turn_drag_gain, k_turn_drag_gain_sd, k_class_source};
  return book;
}

/// Drag over weight at the handbook's glide, lift for weight.
double with_more_drag(double glide_ratio, double drag_over_weight) {
  return 1.0 / (1.0 / glide_ratio + drag_over_weight);
}

/// The handbook of the idling airplane with these numbers.
Handbook handbook_with(const GlideBelief& belief, const Eigen::VectorXd& numbers) {
  Handbook book = belief.handbook;
  double propeller = 0.0;
  for (std::size_t i = 0; i < belief.numbers.size(); ++i) {
    const double value = numbers[static_cast<Eigen::Index>(i)];
    if (auto* number = glide_number(book, belief.numbers[i].field)) {
      number->value = value;
    } else {
      propeller = value;
    }
  }
  book.near_stall_drag->value = std::max(0.0, book.near_stall_drag->value);
  const double more_drag = propeller / book.best_glide_ratio.value;
  book.best_glide_ratio.value = with_more_drag(book.best_glide_ratio.value, more_drag);
  for (std::size_t i = 1; i < book.flaps.size(); ++i) {
    auto& ratio = book.flaps[i].glide_ratio->value;
    ratio = with_more_drag(ratio, more_drag);
  }
  return book;
}

void add(GlideBelief& belief, const std::string& field, const SourcedNumber& number) {
  belief.numbers.push_back({field, number.value, number.sd, number.source});
}

/// Between the numbers that an earlier fit moved together; 0 for all others.
double correlation_of(const Handbook& book, const std::string& one, const std::string& other) {
  if (one == other) return 1.0;
  if (!book.fitted) return 0.0;
  for (const auto& pair : book.fitted->correlations) {
    const bool meant = (pair.one == one && pair.other == other) || (pair.one == other && pair.other == one);
    if (meant) return pair.value;
  }
  return 0.0;
}

}  // namespace

SourcedNumber* glide_number(Handbook& book, const std::string& field) {
  if (field == "least_drag_speed_kcas") return &*book.least_drag_speed_kcas;
  if (field == "best_glide_ratio") return &book.best_glide_ratio;
  if (field == "slip_drag_ratio") return &*book.slip_drag_ratio;
  if (field == "near_stall_drag") return &*book.near_stall_drag;
  if (field == "turn_drag") return &*book.turn_drag;
  for (std::size_t i = 1; i < book.flaps.size(); ++i) {
    if (field == flap_field(i)) return &*book.flaps[i].glide_ratio;
  }
  return nullptr;
}

Eigen::VectorXd GlideBelief::mean() const {
  Eigen::VectorXd values(static_cast<Eigen::Index>(numbers.size()));
  for (std::size_t i = 0; i < numbers.size(); ++i) values[static_cast<Eigen::Index>(i)] = numbers[i].value;
  return values;
}

GlideBelief belief_from_handbook(const Handbook& handbook) {
  GlideBelief belief;
  belief.handbook = complete(handbook);
  if (handbook.fitted) belief.polar_misfit = handbook.fitted->polar_misfit;
  const Handbook& book = belief.handbook;
  add(belief, "least_drag_speed_kcas", *book.least_drag_speed_kcas);
  add(belief, "best_glide_ratio", book.best_glide_ratio);
  for (std::size_t i = 1; i < book.flaps.size(); ++i) add(belief, flap_field(i), *book.flaps[i].glide_ratio);
  add(belief, "slip_drag_ratio", *book.slip_drag_ratio);
  add(belief, "near_stall_drag", *book.near_stall_drag);
  add(belief, "turn_drag", *book.turn_drag);
  if (!book.fitted) {
    add(belief, k_propeller_field,
        {0.0, k_idle_propeller_sd, "idle is neither stopped nor windmilling: common practice, no source"});
  }
  const auto count = static_cast<Eigen::Index>(belief.numbers.size());
  belief.covariance = Eigen::MatrixXd::Zero(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    for (Eigen::Index j = 0; j < count; ++j) {
      const auto& one = belief.numbers[static_cast<std::size_t>(i)];
      const auto& other = belief.numbers[static_cast<std::size_t>(j)];
      belief.covariance(i, j) = one.sd * other.sd * correlation_of(book, one.field, other.field);
    }
  }
  return belief;
}

Airplane airplane_with(const GlideBelief& belief, const Eigen::VectorXd& numbers) {
  assert(numbers.size() == static_cast<Eigen::Index>(belief.numbers.size()));
  return fit_airplane(handbook_with(belief, numbers));
}

GlideBelief with_propeller_idling(const GlideBelief& belief) {
  GlideBelief idling = belief;
  std::erase_if(idling.numbers, [](const GlideNumber& number) { return number.field == k_propeller_field; });
  const auto count = static_cast<Eigen::Index>(idling.numbers.size());
  const auto values_at = [&](const Eigen::VectorXd& numbers) {
    Handbook book = handbook_with(belief, numbers);
    Eigen::VectorXd values(count);
    for (Eigen::Index i = 0; i < count; ++i) {
      values[i] = glide_number(book, idling.numbers[static_cast<std::size_t>(i)].field)->value;
    }
    return values;
  };
  const Eigen::VectorXd at = belief.mean();
  Eigen::MatrixXd jacobian(count, at.size());
  for (Eigen::Index j = 0; j < at.size(); ++j) {
    Eigen::VectorXd more = at, less = at;
    const double step = 0.01 * belief.numbers[static_cast<std::size_t>(j)].sd;
    more[j] += step;
    less[j] -= step;
    jacobian.col(j) = (values_at(more) - values_at(less)) / (2.0 * step);
  }
  idling.covariance = jacobian * belief.covariance * jacobian.transpose();
  idling.handbook = handbook_with(belief, at);
  const Eigen::VectorXd values = values_at(at);
  for (Eigen::Index i = 0; i < count; ++i) {
    auto& number = idling.numbers[static_cast<std::size_t>(i)];
    number.value = values[i];
    number.sd = std::sqrt(idling.covariance(i, i));
  }
  return idling;
}

}  // namespace glidewright

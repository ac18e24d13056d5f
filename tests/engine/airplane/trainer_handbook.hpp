#pragma once

#include "engine/airplane/handbook.hpp"

namespace glidewright {

/// An invented trainer whose numbers go together.
inline Handbook trainer_handbook() {
  Handbook book;
  book.id = "trainer";
  book.name = "Trainer (invented)";
  book.invented = true;
  book.maximum_weight_lb = {2400.0, 0.0, "invented"};
  book.best_glide_speed_kcas = {70.0, 1.0, "invented"};
  book.best_glide_ratio = {9.0, 0.3, "invented"};
  book.flaps = {{0.0, {50.0, 1.0, "invented"}, {}, {}, 0.0, 0.0},
                {10.0, {48.0, 1.0, "invented"}, SourcedNumber{8.3, 0.3, "invented"}, 68.0, 110.0, 2.0},
                {30.0, {44.0, 1.0, "invented"}, SourcedNumber{6.6, 0.3, "invented"}, 64.0, 85.0, 3.0}};
  book.approach_speed_kcas = {64.0, 1.0, "invented"};
  book.landing_flap_deg = 30.0;
  book.wing_span_ft = {36.0, 0.1, "invented"};
  book.wing_height_ft = {7.0, 0.2, "invented"};
  book.slip_drag_ratio = SourcedNumber{0.7, 0.1, "invented"};
  book.ground_roll_ft = {550.0, 50.0, "invented"};
  return book;
}

}  // namespace glidewright

#pragma once
// The heights of one heading in the order in which they are stepped: lines of cells with a margin all round,
// so that no step has to ask whether it left the region.

#include <cstddef>
#include <vector>

namespace glidewright::reach {

class Board {
 public:
  /// Lines beyond the first and the last that hold its heights.
  static constexpr int k_margin_lines = 4;
  /// A line may be read and written in vectors of so many cells, the last of which reaches into the margin.
  static constexpr int k_widest_vector = 16;

  /// margin: cells that can be read beyond each end of a line, at least.
  Board(int lines, int width, int margin);

  int lines() const { return lines_; }
  int width() const { return width_; }
  float* line(int number) { return reinterpret_cast<float*>(cells_.data()) + start_of(number); }
  const float* line(int number) const {
    return reinterpret_cast<const float*>(cells_.data()) + start_of(number);
  }

  /// The margin holds what the region's edge has.
  void fill_margin_of_line(int number);
  void fill_margin_lines();
  /// The same places in `other`, a board of as many cells, whose lines then lie across these.
  void turn_over(Board& other) const;
  /// Lines as those lie; what they hold is still to be written.
  void lie_as(const Board& other);

 private:
  // A vector that lies across two lines of the machine's cache takes twice as long: a tenth of a whole sweep.
  struct alignas(64) Vector {
    float heights_ft[k_widest_vector];
  };
  static int whole_vectors(int cells);
  void lie(int lines, int width);
  std::ptrdiff_t start_of(int number) const { return (number + k_margin_lines) * stride_ + margin_; }

  int lines_ = 0;
  int width_ = 0;
  int margin_ = 0;
  std::ptrdiff_t stride_ = 0;
  std::vector<Vector> cells_;
};

}  // namespace glidewright::reach

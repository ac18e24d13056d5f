#include "engine/reach/board.hpp"

#include <algorithm>

namespace glidewright::reach {

Board::Board(int lines, int width, int margin) : margin_(whole_vectors(margin)) {
  const auto vectors = [&] {
    return static_cast<std::size_t>(lines_ + 2 * k_margin_lines) *
           static_cast<std::size_t>(stride_ / k_widest_vector);
  };
  lie(width, lines);
  const std::size_t turned_over = vectors();
  lie(lines, width);
  cells_.resize(std::max(vectors(), turned_over));
}

int Board::whole_vectors(int cells) {
  return (cells + k_widest_vector - 1) / k_widest_vector * k_widest_vector;
}

void Board::lie(int lines, int width) {
  lines_ = lines;
  width_ = width;
  stride_ = margin_ + whole_vectors(width + margin_);
}

void Board::fill_margin_of_line(int number) {
  float* here = line(number);
  std::fill_n(here - margin_, margin_, here[0]);
  std::fill(here + width_, here - margin_ + stride_, here[width_ - 1]);
}

void Board::fill_margin_lines() {
  const auto copy = [&](int from, int to) { std::copy_n(line(from) - margin_, stride_, line(to) - margin_); };
  for (int i = 1; i <= k_margin_lines; ++i) {
    copy(0, -i);
    copy(lines_ - 1, lines_ - 1 + i);
  }
}

void Board::turn_over(Board& other) const {
  other.lie(width_, lines_);
  constexpr int block = 16;
  for (int m0 = 0; m0 < lines_; m0 += block) {
    for (int n0 = 0; n0 < width_; n0 += block) {
      const int past_m = std::min(lines_, m0 + block), past_n = std::min(width_, n0 + block);
      for (int n = n0; n < past_n; ++n) {
        float* to = other.line(n);
        const float* from = line(m0) + n;
        for (int m = m0; m < past_m; ++m, from += stride_) to[m] = *from;
      }
    }
  }
  for (int n = 0; n < width_; ++n) other.fill_margin_of_line(n);
  other.fill_margin_lines();
}

void Board::lie_as(const Board& other) {
  lie(other.lines_, other.width_);
}

}  // namespace glidewright::reach

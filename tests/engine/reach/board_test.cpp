#include "engine/reach/board.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>

namespace glidewright::reach {
namespace {

/// Each cell a number of its own.
Board numbered(int lines, int width, int margin) {
  Board board(lines, width, margin);
  for (int m = 0; m < lines; ++m) {
    for (int n = 0; n < width; ++n) board.line(m)[n] = static_cast<float>(1000 * m + n);
    board.fill_margin_of_line(m);
  }
  board.fill_margin_lines();
  return board;
}

TEST(Board, TheMarginHoldsWhatTheEdgeHas) {
  for (const int width : {5, 16, 37}) {
    constexpr int lines = 9, margin = 6;
    const Board board = numbered(lines, width, margin);
    for (int m = -Board::k_margin_lines; m < lines + Board::k_margin_lines; ++m) {
      for (int n = -margin; n < width + margin; ++n) {
        const int of_line = std::clamp(m, 0, lines - 1), of_cell = std::clamp(n, 0, width - 1);
        EXPECT_EQ(board.line(m)[n], static_cast<float>(1000 * of_line + of_cell)) << m << " " << n;
      }
    }
  }
}

TEST(Board, TurnedOverLinesAndCellsChangePlaces) {
  constexpr int lines = 21, width = 40, margin = 5;
  const Board board = numbered(lines, width, margin);
  Board over(lines, width, margin), back(lines, width, margin);
  board.turn_over(over);
  ASSERT_EQ(over.lines(), width);
  ASSERT_EQ(over.width(), lines);
  for (int n = 0; n < width; ++n) {
    for (int m = -margin; m < lines + margin; ++m) {
      EXPECT_EQ(over.line(n)[m], static_cast<float>(1000 * std::clamp(m, 0, lines - 1) + n));
    }
  }
  back.lie_as(over);
  over.turn_over(back);
  for (int m = 0; m < lines; ++m) {
    for (int n = 0; n < width; ++n) EXPECT_EQ(back.line(m)[n], board.line(m)[n]);
  }
}

TEST(Board, EveryLineBeginsWhereALineOfTheCacheDoes) {
  Board board(7, 33, 2);
  for (int m = -Board::k_margin_lines; m < board.lines() + Board::k_margin_lines; ++m) {
    EXPECT_EQ(reinterpret_cast<std::uintptr_t>(board.line(m)) % 64, 0U);
  }
}

}  // namespace
}  // namespace glidewright::reach

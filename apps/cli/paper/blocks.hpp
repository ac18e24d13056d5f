#pragma once
// What stands on a page, measured before it is drawn.

#include <functional>
#include <string>
#include <vector>

#include "apps/cli/paper/pdf.hpp"

namespace glidewright::paper {

/// A piece that is not parted. `draw` gets the height of its upper edge.
struct Block {
  double height_pt = 0.0;
  std::function<void(double y_pt)> draw;
  bool stays_with_next = false;
};

struct Column {
  double x_pt = 0.0;
  double width_pt = 0.0;
};

Block space(double height_pt);
Block rule(Pdf& pdf, Column column, double line_pt, double grey);
Block words(const Pdf& pdf, Column column, const report::Runs& runs, TypeStyle style);
Block drawing(Pdf& pdf, Column column, const std::string& svg, double height_pt);
/// One below the other, as one piece.
Block stacked(std::vector<Block> blocks);
/// Side by side, their upper edges level.
Block abreast(std::vector<Block> blocks);
Block kept_with_next(Block block);
/// A frame around, `padding_pt` away.
Block framed(Pdf& pdf, Column frame, Block inside, double padding_pt);

/// Pages from the top, each block whole where it fits on a page.
std::vector<std::vector<Block>> pages_of(std::vector<Block> blocks, double page_height_pt);

}  // namespace glidewright::paper

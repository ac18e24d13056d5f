#include "apps/cli/paper/blocks.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace glidewright::paper {

Block space(double height_pt) {
  return {height_pt, [](double) {}};
}

Block rule(Pdf& pdf, Column column, double line_pt, double grey) {
  return {line_pt, [&pdf, column, line_pt, grey](double y) {
            const double middle = y + 0.5 * line_pt;
            pdf.line(column.x_pt, middle, column.x_pt + column.width_pt, middle, line_pt, grey);
          }};
}

Block words(const Pdf& pdf, Column column, const report::Runs& runs, TypeStyle style) {
  SetWords set = pdf.set(runs, style, column.width_pt);
  const double height = set.height_pt();
  return {height, [set = std::move(set), column](double y) { set.draw(column.x_pt, y); }};
}

Block drawing(Pdf& pdf, Column column, const std::string& svg, double height_pt) {
  return {height_pt, [&pdf, column, svg, height_pt](double y) {
            pdf.draw_svg(svg, column.x_pt, y, column.width_pt, height_pt);
          }};
}

Block stacked(std::vector<Block> blocks) {
  const double height = std::accumulate(blocks.begin(), blocks.end(), 0.0,
                                        [](double sum, const Block& block) { return sum + block.height_pt; });
  return {height, [blocks = std::move(blocks)](double y) {
            for (const Block& block : blocks) {
              block.draw(y);
              y += block.height_pt;
            }
          }};
}

Block abreast(std::vector<Block> blocks) {
  double height = 0.0;
  for (const Block& block : blocks) height = std::max(height, block.height_pt);
  return {height, [blocks = std::move(blocks)](double y) {
            for (const Block& block : blocks) block.draw(y);
          }};
}

Block kept_with_next(Block block) {
  block.stays_with_next = true;
  return block;
}

Block framed(Pdf& pdf, Column frame, Block inside, double padding_pt) {
  const double height = inside.height_pt + 2.0 * padding_pt;
  return {height, [&pdf, frame, inside = std::move(inside), padding_pt, height](double y) {
            pdf.stroke_box(frame.x_pt, y, frame.width_pt, height, 1.2);
            inside.draw(y + padding_pt);
          }};
}

std::vector<std::vector<Block>> pages_of(std::vector<Block> blocks, double page_height_pt) {
  std::vector<std::vector<Block>> pages(1);
  double used = 0.0;
  for (auto next = blocks.begin(); next != blocks.end();) {
    auto end = next;
    double height = end->height_pt;
    while (end->stays_with_next && end + 1 != blocks.end()) height += (++end)->height_pt;
    ++end;
    if (used > 0.0 && used + height > page_height_pt) {
      pages.emplace_back();
      used = 0.0;
    }
    for (; next != end; ++next) {
      // What belongs together and is longer than a page goes on where it has to.
      if (used > 0.0 && used + next->height_pt > page_height_pt) {
        pages.emplace_back();
        used = 0.0;
      }
      used += next->height_pt;
      pages.back().push_back(std::move(*next));
    }
  }
  return pages;
}

}  // namespace glidewright::paper

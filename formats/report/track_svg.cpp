#include "formats/report/track_svg.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "formats/report/bars.hpp"
#include "formats/report/markup.hpp"

namespace glidewright::report {
namespace {

constexpr double k_half_bar = 4.0;
constexpr double k_half_cap = 2.5;

/// Where feet lie on the drawing; what is beyond the scale is cut at its ends.
class Across {
 public:
  Across(const FeetScale& scale, double width) : scale_(scale), width_(width) {}
  double operator()(double along_ft) const {
    return 0.01 * width_ * scale_.percent(std::clamp(along_ft, scale_.low_ft(), scale_.high_ft()));
  }

 private:
  const FeetScale& scale_;
  double width_;
};

std::string hatch(double left, double right, double top, double bottom) {
  constexpr double apart = 3.0;
  std::string lines;
  const double rise = bottom - top;
  for (double foot = left - rise + apart; foot < right; foot += apart) {
    const double from = std::max(foot, left), to = std::min(foot + rise, right);
    if (to > from) lines += line(from, bottom - (from - foot), to, bottom - (to - foot), "hatch");
  }
  return lines + rectangle(left, top, right - left, rise, "outline");
}

std::string capped(double left, double right, double y, std::string_view css_class) {
  return line(left, y, right, y, css_class) + line(left, y - k_half_cap, left, y + k_half_cap, css_class) +
         line(right, y - k_half_cap, right, y + k_half_cap, css_class);
}

std::string bar_svg(const Bar& bar, const Across& x, double middle) {
  const double left = x(bar.from_ft), right = x(bar.to_ft);
  const double wide = std::max(right, left + 0.8);
  switch (bar.kind) {
    case Bar::Kind::interval:
      return capped(left, right, middle, "interval");
    case Bar::Kind::from_log:
      return line(left, middle + 4.5, right, middle + 4.5, "from-log");
    case Bar::Kind::would_have:
      return line(left, middle, right, middle, "would-have");
    case Bar::Kind::effect:
      if (bar.side == Side::to_short) return hatch(left, wide, middle - k_half_bar, middle + k_half_bar);
      return rectangle(left, middle - k_half_bar, wide - left, 2.0 * k_half_bar, "solid");
    case Bar::Kind::undecided_effect:
      return rectangle(left, middle - k_half_bar, wide - left, 2.0 * k_half_bar, "undecided");
    case Bar::Kind::whisker:
      break;
  }
  return capped(left, right, middle, "whisker");
}

std::string svg(DrawingSize size, const std::string& inside) {
  return fmt::format("<svg viewBox=\"0 0 {} {}\">{}</svg>", at(size.width), at(size.height), inside);
}

std::string box_svg(Box box, const Across& x, double height) {
  return rectangle(x(box.low_ft), 0.0, x(box.high_ft) - x(box.low_ft), height, "box");
}

}  // namespace

std::string track_svg(const BarRow& row, Box box, const FeetScale& scale, DrawingSize size) {
  const Across x(scale, size.width);
  const double middle = 0.5 * size.height;
  std::string inside = box_svg(box, x, size.height);
  for (const Bar& bar : row.bars) inside += bar_svg(bar, x, middle);
  if (row.mark) {
    const auto [name, path] = drawn_as(row.mark->shape);
    constexpr double shrunk = 0.65;
    inside +=
        fmt::format("<path class=\"row-mark {}\" transform=\"translate({} {}) scale({})\" d=\"{}\"/>", name,
                    at(x(row.mark->along_ft) - 8.0 * shrunk), at(middle - 8.0 * shrunk), shrunk, path);
  }
  return svg(size, inside);
}

std::string scale_svg(Box box, const FeetScale& scale, DrawingSize size) {
  const Across x(scale, size.width);
  std::string inside = line(0.0, 0.6, size.width, 0.6, "axis");
  inside += rectangle(x(box.low_ft), 0.0, x(box.high_ft) - x(box.low_ft), 2.4, "solid");
  for (const double mark_ft : scale.marks_ft())
    inside += line(x(mark_ft), 0.0, x(mark_ft), size.height, "rule");
  return svg(size, inside);
}

}  // namespace glidewright::report

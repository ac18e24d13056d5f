#pragma once
// A PDF in memory: words by Pango, drawings by librsvg, pages by Cairo.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "formats/report/runs.hpp"
#include "formats/result.hpp"

namespace glidewright::paper {

/// Points, 1/72 inch, as everything in this folder.
constexpr double points_of_mm(double mm) {
  return mm * 72.0 / 25.4;
}

struct PageSize {
  double width_pt = 0.0;
  double height_pt = 0.0;
};

enum class Align { left, middle, right };

struct TypeStyle {
  double size_pt = 9.0;
  Align align = Align::left;
  double grey = 0.0;  ///< 0 black, 1 white; of words whose tone does not say otherwise
  double line_spacing = 1.0;
};

/// Words set into a width; as high as they need.
class SetWords {
 public:
  double height_pt() const;
  double width_pt() const;  ///< of the longest line
  double baseline_pt() const;
  void draw(double x_pt, double y_pt) const;

 private:
  friend class Pdf;
  struct Set;
  std::shared_ptr<const Set> set_;
};

/// The same calls give the same bytes: no clock, no names of this machine.
class Pdf {
 public:
  Pdf(PageSize size, const std::string& title);
  ~Pdf();
  Pdf(const Pdf&) = delete;
  Pdf& operator=(const Pdf&) = delete;

  SetWords set(const report::Runs& runs, TypeStyle style, double width_pt) const;
  /// An SVG of this project, styled for paper, its left upper corner at x, y.
  void draw_svg(const std::string& svg, double x_pt, double y_pt, double width_pt, double height_pt);
  void fill_box(double x_pt, double y_pt, double width_pt, double height_pt, double grey);
  void stroke_box(double x_pt, double y_pt, double width_pt, double height_pt, double line_pt);
  void line(double x1_pt, double y1_pt, double x2_pt, double y2_pt, double line_pt, double grey);
  /// Before anything is drawn on the page.
  void set_page_size(PageSize size);
  void end_page();

  /// The whole file, once; or what went wrong.
  Result<std::string> bytes();

 private:
  struct Surface;
  std::unique_ptr<Surface> surface_;
};

}  // namespace glidewright::paper

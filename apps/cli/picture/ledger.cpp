#include "apps/cli/picture/ledger.hpp"

#include <algorithm>
#include <cmath>

#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

/// The cells of a bar; an outline needs two.
struct Span {
  int from = 0;
  int to = 0;
};

Span span_of(const RunwayScale& scale, double start_ft, double end_ft) {
  return {scale.column_of(std::min(start_ft, end_ft)), scale.column_of(std::max(start_ft, end_ft))};
}

void draw_outline(Sheet& sheet, int row, const RunwayScale& scale, Span span) {
  if (span.from == span.to && span.to < scale.last_column) ++span.to;
  if (span.from == span.to) --span.from;
  sheet.fill(row, span.from, span.to, U' ');
  sheet.put(row, span.from, U'[');
  sheet.put(row, span.to, U']');
}

void draw_bar(Sheet& sheet, int row, const RunwayScale& scale, double start_ft, const LedgerCause& cause) {
  const double end_ft = start_ft + cause.effect_ft;
  const Ink ink = cause.undecided()       ? Ink::faint
                  : cause.effect_ft > 0.0 ? Ink::long_of_box
                                          : Ink::short_of_box;
  draw_interval(sheet, row, scale, {end_ft, start_ft + cause.low95_ft, start_ft + cause.high95_ft},
                PlaceKind::landed, ink);
  const Span span = span_of(scale, start_ft, end_ft);
  if (cause.undecided()) {
    draw_outline(sheet, row, scale, span);
  } else {
    sheet.fill(row, span.from, span.to, cause.effect_ft > 0.0 ? U'█' : U'▒', ink);
  }
}

void draw_box_edges(Sheet& sheet, int row, const RunwayScale& scale, Box box) {
  for (const double edge_ft : {box.low_ft, box.high_ft}) {
    if (scale.reaches(edge_ft)) sheet.put(row, scale.column_of(edge_ft), U'┊', Ink::faint);
  }
}

std::string words_for(const LedgerCause& cause) {
  return cause.name + interval_words({cause.effect_ft, cause.low95_ft, cause.high95_ft}) +
         (cause.undecided() ? "  undecided" : "");
}

/// The rows of one ledger, from the top.
class LedgerSheet {
 public:
  LedgerSheet(const LedgerScene& scene, const PictureStyle& style)
      : scene_(scene), sheet_(style), sums_ft_(running_sums_ft(scene)), scale_(scale_for()) {}

  std::string draw() {
    if (scene_.causes.empty()) {
      draw_reason();
    } else {
      draw_planned();
      for (std::size_t i = 0; i < scene_.causes.size(); ++i) {
        draw_cause(scene_.causes[i], sums_ft_[i], signed_feet(scene_.causes[i].effect_ft));
      }
      if (scene_.unexplained) {
        draw_cause(*scene_.unexplained, sums_ft_[scene_.causes.size()],
                   signed_feet(unexplained_printed_ft()));
      }
    }
    draw_touchdown();
    draw_axis(sheet_, row_, scale_, scene_.box);
    return sheet_.text();
  }

 private:
  RunwayScale scale_for() const {
    std::vector<double> places_ft;
    if (!scene_.causes.empty()) places_ft = sums_ft_;
    if (scene_.touchdown) places_ft.push_back(scene_.touchdown->along_ft);
    return scale_around(sheet_, places_ft);
  }

  double unexplained_printed_ft() const {
    std::vector<double> parts_ft{scene_.planned_touchdown_ft};
    for (const LedgerCause& cause : scene_.causes) parts_ft.push_back(cause.effect_ft);
    return remainder_as_printed_ft(parts_ft, sums_ft_.back());
  }

  /// Words and number of a row of the ledger, and the lines behind it.
  int begin_row(const std::string& number, const std::string& words) {
    write_left_of_scale(sheet_, row_, scale_, number);
    const int height = write_right_of_scale(sheet_, row_, scale_, words);
    for (int i = 0; i < height; ++i) draw_box_edges(sheet_, row_ + i, scale_, scene_.box);
    return height;
  }

  /// Ties a row of several lines to the row below it.
  void end_row(int height, double sum_ft) {
    for (int i = 1; i < height; ++i) sheet_.put(row_ + i, scale_.column_of(sum_ft), U'│', Ink::faint);
    row_ += height;
  }

  void draw_reason() {
    const int indent = 2;
    const std::string& reason = scene_.no_causes_because;
    for (const auto& line :
         sheet_.wrapped(reason.empty() ? "No causes to show." : reason, sheet_.columns() - indent)) {
      sheet_.write(row_++, indent, line);
    }
  }

  void draw_planned() {
    const int height = begin_row(signed_feet(scene_.planned_touchdown_ft), "planned touchdown");
    sheet_.put(row_, scale_.column_of(scene_.planned_touchdown_ft), U'○');
    end_row(height, scene_.planned_touchdown_ft);
  }

  void draw_cause(const LedgerCause& cause, double start_ft, const std::string& number) {
    const int height = begin_row(number, words_for(cause));
    draw_bar(sheet_, row_, scale_, start_ft, cause);
    end_row(height, start_ft + cause.effect_ft);
  }

  void draw_touchdown() {
    if (!scene_.touchdown) return;
    const RunwayPlace& place = *scene_.touchdown;
    const std::string name = scene_.kind == PlaceKind::landed ? "touchdown" : "would have touched";
    const int height = begin_row(signed_feet(place.along_ft), name + interval_words(place));
    draw_place(sheet_, row_, scale_, place, scene_.kind, scene_.box);
    row_ += height;
  }

  const LedgerScene& scene_;
  Sheet sheet_;
  std::vector<double> sums_ft_;
  RunwayScale scale_;
  int row_ = 0;
};

}  // namespace

std::vector<double> running_sums_ft(const LedgerScene& scene) {
  std::vector<double> sums_ft{scene.planned_touchdown_ft};
  for (const LedgerCause& cause : scene.causes) sums_ft.push_back(sums_ft.back() + cause.effect_ft);
  if (scene.unexplained) sums_ft.push_back(sums_ft.back() + scene.unexplained->effect_ft);
  return sums_ft;
}

std::string draw_ledger(const LedgerScene& scene, const PictureStyle& style) {
  return LedgerSheet(scene, style).draw();
}

}  // namespace glidewright

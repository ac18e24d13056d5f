#include <fmt/format.h>

#include <algorithm>

#include "apps/cli/paper/blocks.hpp"
#include "apps/cli/paper/paper.hpp"
#include "formats/report/card_contents.hpp"
#include "formats/report/feet_scale.hpp"
#include "formats/report/plan_drawings.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

using namespace paper;
using report::Runs;
using report::Tone;

constexpr PageSize k_a5{points_of_mm(148.0), points_of_mm(210.0)};
/// As wide as a phone in the hand, so that it is read there without enlarging; as high as its words.
constexpr double k_phone_width = points_of_mm(99.0);
constexpr double k_longest = 100000.0;
/// Where a card is too full for its page its type gets smaller, in these steps.
constexpr double k_sizes[] = {1.0, 0.95, 0.9, 0.85, 0.8};
constexpr int k_rulers = 5;

class Card {
 public:
  Card(Pdf& pdf, const Brief& brief, const report::CardContents& contents, CardSize size, Column page,
       double scale)
      : pdf_(pdf),
        brief_(brief),
        contents_(contents),
        box_(brief.request.box),
        size_(size),
        page_(page),
        scale_(scale) {}

  Block whole() const {
    std::vector<Block> blocks{head(), space(3.0), rule(pdf_, page_, 1.2, 0.0), space(4.0)};
    if (contents_.planned) {
      blocks.push_back(planned(*contents_.planned));
    } else {
      blocks.push_back(words(pdf_, page_, {{contents_.no_plan, Tone::strong}}, type(12.0)));
      for (const auto& reason : contents_.refusals) blocks.push_back(paragraph({{reason}}));
    }
    blocks.push_back(space(4.0));
    for (const auto& caution : contents_.cautions) blocks.push_back(fine({{caution}}));
    blocks.push_back(fine({{contents_.safety_sentence}}));
    return stacked(std::move(blocks));
  }

 private:
  TypeStyle type(double size_pt, Align align = Align::left, double grey = 0.0) const {
    return {size_pt * scale_, align, grey};
  }
  bool on_paper() const { return size_ == CardSize::a5; }
  double text_size() const { return on_paper() ? 9.5 : 10.0; }
  Block paragraph(const Runs& runs) const { return paragraph(page_, runs); }
  Block paragraph(Column column, const Runs& runs) const {
    return stacked({words(pdf_, column, runs, type(text_size())), space(1.5)});
  }
  Block fine(const Runs& runs) const { return fine(page_, runs); }
  Block fine(Column column, const Runs& runs) const {
    return words(pdf_, column, runs, type(on_paper() ? 8.5 : 9.0, Align::left, 0.12));
  }

  Block head() const {
    const Block traffic = words(pdf_, page_, {{contents_.traffic}}, type(10.0, Align::right));
    const Column name{page_.x_pt, page_.width_pt - 58.0 * scale_};
    return stacked({abreast({words(pdf_, name, {{contents_.name, Tone::strong}}, type(15.0)),
                             stacked({space(5.0 * scale_), traffic})}),
                    paragraph(contents_.wind), fine({{contents_.about}})});
  }

  Column left() const {
    if (!on_paper()) return page_;
    return {page_.x_pt, 0.44 * page_.width_pt};
  }
  Column right() const {
    if (!on_paper()) return page_;
    const double width = 0.51 * page_.width_pt;
    return {page_.x_pt + page_.width_pt - width, width};
  }

  Block planned(const report::PlannedCard& card) const {
    std::vector<Block> fly;
    for (const Runs& line : card.how_to_fly) fly.push_back(paragraph(on_paper() ? left() : page_, line));
    const Block ladder_block = stacked({ladder(card), card.ladder_note.empty() ? space(0.0) : note(card)});
    std::vector<Block> blocks;
    if (on_paper()) {
      blocks = {abreast({stacked({cues(card), space(5.0), stacked(std::move(fly))}), ladder_block})};
    } else {
      blocks = {cues(card), space(5.0), ladder_block, space(4.0), stacked(std::move(fly))};
    }
    if (!card.rules.empty()) blocks.push_back(fine(card.rules));
    if (on_paper()) blocks.push_back(drawings(card));
    blocks.push_back(space(5.0));
    blocks.push_back(gate(card.gate));
    blocks.push_back(space(5.0));
    if (card.winds.size() >= 2) blocks.push_back(winds(card));
    if (!card.shifts.empty()) blocks.push_back(paragraph(card.shifts));
    blocks.push_back(paragraph(card.odds));
    if (on_paper()) {
      blocks.push_back(space(4.0));
      blocks.push_back(rulers(card));
    }
    return stacked(std::move(blocks));
  }

  /// On the phone the card is read in the sun: there it is words and numbers alone.
  Block drawings(const report::PlannedCard& card) const {
    constexpr double height = 104.0, drawing_scale = 0.66;
    const Column strip{page_.x_pt, 0.63 * page_.width_pt};
    const Column sketch{page_.x_pt + 0.66 * page_.width_pt, 0.34 * page_.width_pt};
    const auto size = [](Column column) {
      return report::DrawingSize{column.width_pt / drawing_scale, height / drawing_scale};
    };
    const auto titled = [&](Column column, const std::string& title, const std::string& svg) {
      return stacked({fine(column, {{title, Tone::strong}}), drawing(pdf_, column, svg, height)});
    };
    return stacked(
        {space(4.0),
         abreast({titled(strip, card.strip_title, report::planned_strip(brief_, size(strip))),
                  titled(sketch, card.sketch_title, report::planned_sketch(brief_, size(sketch)))})});
  }

  Block cues(const report::PlannedCard& card) const {
    const Column whole = left();
    std::vector<Block> sides;
    for (std::size_t i = 0; i < card.cue.size(); ++i) {
      const report::CueNumber& cue = card.cue[i];
      const double half = 0.5 * whole.width_pt;
      const Column column{whole.x_pt + static_cast<double>(i) * half, half};
      const SetWords number = pdf_.set({{cue.value, Tone::strong}}, type(38.0), half);
      const SetWords unit = pdf_.set({{cue.unit}}, type(15.0), half);
      const double lower = number.baseline_pt() - unit.baseline_pt();
      // The capitals' height, not the line's, so that the words stand close.
      const Block value{0.86 * number.height_pt(), [number, unit, column, lower](double y) {
                          const double up = 0.07 * number.height_pt();
                          number.draw(column.x_pt, y - up);
                          unit.draw(column.x_pt + number.width_pt() + 3.0, y - up + lower);
                        }};
      sides.push_back(
          stacked({fine(column, {cue.above}), value, words(pdf_, column, {{cue.below}}, type(text_size())),
                   cue.small.empty() ? space(0.0) : fine(column, {{cue.small}})}));
    }
    return abreast(std::move(sides));
  }

  Block note(const report::PlannedCard& card) const {
    return stacked({space(2.0), words(pdf_, right(), {{card.ladder_note}}, type(8.0, Align::left, 0.2))});
  }

  Block ladder_row(const std::array<std::string, 4>& values, Tone tone, double size_pt,
                   double last_size_pt) const {
    constexpr std::array<double, 4> shares{0.28, 0.19, 0.25, 0.28};
    std::vector<Block> cells;
    const double line = pdf_.set({{values[0]}}, type(size_pt), k_longest).baseline_pt();
    double x = right().x_pt;
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double width = shares[i] * right().width_pt;
      const double cell_size = i == 3 ? last_size_pt : size_pt;
      const Align align = i == 0 ? Align::left : Align::right;
      const SetWords set =
          pdf_.set({{values[i], i == 3 ? Tone::plain : tone}}, type(cell_size, align), width);
      cells.push_back(stacked(
          {space(line - set.baseline_pt()),
           words(pdf_, {x, width}, {{values[i], i == 3 ? Tone::plain : tone}}, type(cell_size, align))}));
      x += width;
    }
    return abreast(std::move(cells));
  }

  Block ladder(const report::PlannedCard& card) const {
    const double size = on_paper() ? 10.5 : 11.5;
    std::vector<Block> rows{ladder_row(card.ladder_header, Tone::plain, 8.0, 8.0)};
    for (const report::Rung& rung : card.ladder) {
      rows.push_back(stacked({space(1.0), rule(pdf_, right(), 0.5, 0.6), space(1.0)}));
      rows.push_back(ladder_row(rung.values, rung.one_of_six ? Tone::strong : Tone::plain, size, 8.5));
    }
    return stacked(std::move(rows));
  }

  /// Found at a glance: white on black on the phone, a heavy frame where black would be printed.
  Block gate(const report::GateWords& gate) const {
    const double grey = on_paper() ? 0.0 : 1.0;
    const Column inner{page_.x_pt + 8.0, page_.width_pt - 16.0};
    const Block title = words(pdf_, inner, {{gate.title, Tone::strong}, {"  " + gate.above_field}},
                              type(text_size() + 0.5, Align::left, grey));
    const Block height = words(pdf_, inner, {{gate.altimeter, Tone::strong}}, type(19.0, Align::right, grey));
    const Block inside = stacked(
        {abreast({stacked({space(height.height_pt - title.height_pt - 2.0), title}), height}),
         words(pdf_, inner, {{gate.conditions}}, type(text_size(), Align::left, grey)),
         words(pdf_, inner, {{gate.else_what, Tone::strong}}, type(text_size() + 0.5, Align::left, grey))});
    if (on_paper()) return framed(pdf_, page_, inside, 5.0);
    const double total = inside.height_pt + 12.0;
    return {total, [this_pdf = &pdf_, page = page_, inside, total](double y) {
              this_pdf->fill_box(page.x_pt, y, page.width_pt, total, 0.0);
              inside.draw(y + 6.0);
            }};
  }

  Block winds(const report::PlannedCard& card) const {
    std::vector<Block> cells;
    const double each = page_.width_pt / static_cast<double>(card.winds.size());
    for (std::size_t i = 0; i < card.winds.size(); ++i) {
      const Column cell{page_.x_pt + static_cast<double>(i) * each + 2.0, each - 4.0};
      const Block both =
          stacked({words(pdf_, cell, {{card.winds[i].wind}}, type(9.0, Align::middle)),
                   words(pdf_, cell, {{card.winds[i].cue, Tone::strong}}, type(13.0, Align::middle))});
      cells.push_back(card.winds[i].today ? framed(pdf_, cell, both, 2.0) : stacked({space(2.0), both}));
    }
    return stacked({words(pdf_, page_, {{card.winds_title}}, type(text_size())), space(2.0),
                    abreast(std::move(cells)), space(3.0)});
  }

  /// To mark by hand: a line for each landing, the box shaded through all of them.
  Block rulers(const report::PlannedCard& card) const {
    const report::FeetScale scale;
    const Column line{page_.x_pt + 16.0, page_.width_pt - 30.0};
    const auto x = [line, scale](double along_ft) {
      return line.x_pt + 0.01 * scale.percent(along_ft) * line.width_pt;
    };
    const double apart = 17.0 * scale_;
    std::vector<Block> numbers;
    for (int i = 1; i <= k_rulers; ++i)
      numbers.push_back(
          stacked({space((i - 1) * apart + 2.0),
                   words(pdf_, {page_.x_pt, 14.0}, {{fmt::format("{}", i), Tone::strong}}, type(9.5))}));
    for (const double mark_ft : scale.marks_ft())
      numbers.push_back(stacked(
          {space(k_rulers * apart + 1.0),
           words(pdf_, {x(mark_ft) - 22.0, 44.0}, {{signed_feet(mark_ft)}}, type(8.0, Align::middle))}));
    const Block lines{k_rulers * apart, [this_pdf = &pdf_, line, x, scale, apart, box = box_](double y) {
                        this_pdf->fill_box(x(box.low_ft), y, x(box.high_ft) - x(box.low_ft), k_rulers * apart,
                                           0.9);
                        for (int i = 1; i <= k_rulers; ++i) {
                          const double foot = y + i * apart;
                          this_pdf->line(line.x_pt, foot, line.x_pt + line.width_pt, foot, 0.8, 0.0);
                          for (double ft = scale.low_ft(); ft <= scale.high_ft(); ft += 100.0)
                            this_pdf->line(x(ft), foot - 4.0, x(ft), foot, 0.5, 0.0);
                          for (const double edge : {box.low_ft, box.high_ft})
                            this_pdf->line(x(edge), foot - 8.0, x(edge), foot, 1.4, 0.0);
                        }
                      }};
    numbers.insert(numbers.begin(), lines);
    return stacked({paragraph({{card.marks_title + "  ", Tone::strong}, {card.marks_about, Tone::note}}),
                    abreast(std::move(numbers))});
  }

  Pdf& pdf_;
  const Brief& brief_;
  const report::CardContents& contents_;
  Box box_;
  CardSize size_;
  Column page_;
  double scale_;
};

}  // namespace

Result<std::string> plan_card_pdf(const Brief& brief, const std::vector<CueAtWind>& other_winds,
                                  CardSize size) {
  const report::CardContents contents = report::card_contents(brief, other_winds);
  const double margin = size == CardSize::a5 ? points_of_mm(8.0) : points_of_mm(5.0);
  const PageSize page = size == CardSize::a5 ? k_a5 : PageSize{k_phone_width, k_longest};
  Pdf pdf(page, "Ramp card");
  const Column column{margin, page.width_pt - 2.0 * margin};
  const double room = page.height_pt - 2.0 * margin;
  for (const double scale : k_sizes) {
    const Card card(pdf, brief, contents, size, column, scale);
    const Block whole = card.whole();
    if (whole.height_pt > room && scale > k_sizes[std::size(k_sizes) - 1]) continue;
    if (size == CardSize::phone) pdf.set_page_size({page.width_pt, whole.height_pt + 2.0 * margin});
    whole.draw(margin);
    break;
  }
  pdf.end_page();
  return pdf.bytes();
}

}  // namespace glidewright

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "apps/cli/paper/blocks.hpp"
#include "apps/cli/paper/paper.hpp"
#include "formats/report/contents.hpp"
#include "formats/report/drawings.hpp"
#include "formats/report/track_svg.hpp"
#include "formats/words/numbers.hpp"

namespace glidewright {
namespace {

using namespace paper;
using report::Runs;
using report::Tone;

constexpr PageSize k_a4{points_of_mm(210.0), points_of_mm(297.0)};
constexpr double k_margin = points_of_mm(10.0);
constexpr double k_foot = 14.0;
constexpr Column k_page{k_margin, k_a4.width_pt - 2.0 * k_margin};
constexpr double k_gap = 14.0;
/// Three attempts fill two pages with small drawings; one or two leave room for larger.
constexpr double k_drawing_height = 87.0;
constexpr double k_large_drawing_height = 110.0;
constexpr std::size_t k_attempts_with_room = 2;
/// From the drawings' units, whose labels are 11, to the page's points.
constexpr double k_drawing_scale = 7.5 / 11.0;
constexpr double k_amount_width = 68.0;
constexpr double k_track_width = 114.0;
constexpr double k_key_points_width = 168.0;
constexpr double k_answer_width = 32.0;
/// So many attempts' answers fit beside the lists, and so many across the page.
constexpr std::size_t k_beside_the_lists = 3;
constexpr std::ptrdiff_t k_across_the_page = 9;
constexpr double k_sketch_width = 140.0;

constexpr TypeStyle k_title{15.0};
constexpr TypeStyle k_text{8.5};
constexpr TypeStyle k_note{8.0, Align::left, 0.13};
constexpr TypeStyle k_label{7.5, Align::left, 0.27};

TypeStyle aligned(TypeStyle style, Align align) {
  style.align = align;
  return style;
}

Column left_part(Column whole, double share) {
  return {whole.x_pt, share * (whole.width_pt - k_gap)};
}

Column right_part(Column whole, double share) {
  const double width = (1.0 - share) * (whole.width_pt - k_gap);
  return {whole.x_pt + whole.width_pt - width, width};
}

/// The whole report, block by block.
class Report {
 public:
  Report(Pdf& pdf, const DebriefedLog& debriefed)
      : pdf_(pdf),
        debrief_(debriefed.debrief),
        contents_(report::report_contents(debriefed)),
        scale_(report::scale_of(debriefed.debrief)),
        drawing_height_(contents_.attempts.size() <= k_attempts_with_room ? k_large_drawing_height
                                                                          : k_drawing_height) {}

  std::vector<Block> blocks() {
    add_head();
    add_ruler();
    for (std::size_t i = 0; i < contents_.attempts.size(); ++i)
      add_attempt(contents_.attempts[i], debrief_.attempts[i]);
    add_end();
    return std::move(blocks_);
  }

  /// At the foot of every page.
  std::string running_words() const {
    std::string words = contents_.heading.title;
    for (const report::Cell& cell : contents_.cells)
      if (cell.label != "Log") words += " · " + cell.value;
    return words;
  }

 private:
  Block heading(Column column, const report::Heading& heading, double size_pt = 10.5) {
    Runs runs{{heading.title, Tone::strong}};
    Block title = words(pdf_, column, runs, {size_pt});
    if (heading.about.empty()) return kept_with_next(title);
    const double title_width = pdf_.set(runs, {size_pt}, column.width_pt).width_pt() + 8.0;
    const Column beside{column.x_pt + title_width, column.width_pt - title_width};
    // Both on one baseline.
    const double lower = pdf_.set(runs, {size_pt}, column.width_pt).baseline_pt() -
                         pdf_.set({{heading.about}}, k_note, beside.width_pt).baseline_pt();
    return kept_with_next(
        abreast({title, stacked({space(lower), words(pdf_, beside, {{heading.about}}, k_note)})}));
  }

  Block label(Column column, const std::string& text, Align align = Align::left) {
    return words(pdf_, column, {{text}}, aligned(k_label, align));
  }

  Block paragraph(Column column, const std::string& text, TypeStyle style = k_text) {
    return words(pdf_, column, {{text}}, style);
  }

  void add(Block block) { blocks_.push_back(std::move(block)); }

  void add_head() {
    add(abreast(
        {words(pdf_, k_page, {{contents_.heading.title, Tone::strong}}, k_title),
         stacked({space(5.0), paragraph(k_page, contents_.heading.about, aligned(k_note, Align::right))})}));
    add(space(3.0));
    add(rule(pdf_, k_page, 1.2, 0.0));
    add(space(3.0));
    add(cells());
    add(space(5.0));
    add(framed(pdf_, k_page,
               stacked({words(pdf_, inner(), {{contents_.safety_title, Tone::strong}}, k_text),
                        in_two_columns(safety_items())}),
               4.0));
    add(space(6.0));
  }

  static Column inner() { return {k_page.x_pt + 7.0, k_page.width_pt - 14.0}; }

  std::vector<std::function<Block(Column)>> safety_items() {
    std::vector<std::function<Block(Column)>> items;
    for (const Runs& item : contents_.safety)
      items.push_back([this, &item](Column column) { return words(pdf_, column, item, k_text); });
    return items;
  }

  /// The first half on the left, in the frame's inner width.
  Block in_two_columns(const std::vector<std::function<Block(Column)>>& items) {
    std::vector<Block> left, right;
    const std::size_t half = (items.size() + 1) / 2;
    for (std::size_t i = 0; i < items.size(); ++i)
      (i < half ? left : right)
          .push_back(items[i](i < half ? left_part(inner(), 0.5) : right_part(inner(), 0.5)));
    return abreast({stacked(std::move(left)), stacked(std::move(right))});
  }

  /// One after the other as they fit.
  Block cells() {
    Runs runs;
    for (const report::Cell& cell : contents_.cells) {
      runs.push_back({(runs.empty() ? "" : "   ") + cell.label + " ", Tone::note});
      runs.push_back({cell.value, Tone::strong});
      if (!cell.small.empty()) runs.push_back({" " + cell.small});
    }
    return words(pdf_, k_page, runs, k_text);
  }

  Block bar_row(const report::BarRow& row) {
    const Column amount{k_page.x_pt, k_amount_width};
    const Column track{amount.x_pt + k_amount_width + 8.0, k_track_width};
    const double words_x = track.x_pt + k_track_width + 10.0;
    const Column told{words_x, k_page.x_pt + k_page.width_pt - words_x};
    const bool ruler = row.attempt > 0;
    Block text = words(pdf_, told, row.words, k_note);
    const double height = std::max(text.height_pt + 0.6, 11.0);
    const auto centred = [height](Block block) {
      return stacked({space(0.5 * (height - block.height_pt)), block});
    };
    Block number = words(pdf_, amount, row.amount, aligned(k_note, ruler ? Align::left : Align::right));
    return abreast(
        {centred(number), centred(text),
         drawing(pdf_, track, report::track_svg(row, debrief_.box, scale_, {k_track_width, height}), height),
         stacked({space(height - 0.4), rule(pdf_, told, 0.4, 0.73)}),
         stacked({space(height - 0.4), rule(pdf_, amount, 0.4, 0.73)})});
  }

  Block axis() {
    const double left = k_page.x_pt + k_amount_width + 8.0;
    std::vector<Block> parts{drawing(pdf_, {left, k_track_width},
                                     report::scale_svg(debrief_.box, scale_, {k_track_width, 4.0}), 4.0)};
    const double half = 22.0;
    const auto marks_ft = scale_.marks_ft();
    const bool crowded = k_track_width < 30.0 * static_cast<double>(marks_ft.size() - 1);
    for (const double mark_ft : marks_ft) {
      if (crowded && std::fmod(mark_ft, 1000.0) != 0.0) continue;
      const double x = left + 0.01 * scale_.percent(mark_ft) * k_track_width;
      parts.push_back(
          stacked({space(4.0), label({x - half, 2.0 * half}, signed_feet(mark_ft), Align::middle)}));
    }
    const double words_x = left + k_track_width + 10.0;
    parts.push_back(stacked({space(4.0), label({words_x, k_page.x_pt + k_page.width_pt - words_x},
                                               std::string(report::k_scale_words))}));
    return abreast(std::move(parts));
  }

  void add_bars(const std::vector<report::BarRow>& rows) {
    // A ledger may go on overleaf, but neither its first rows nor its scale stand alone.
    constexpr std::size_t together = 4;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      Block row = bar_row(rows[i]);
      row.stays_with_next = i + 1 < together || i + together > rows.size();
      add(std::move(row));
    }
    add(axis());
  }

  void add_ruler() {
    add(heading(k_page, contents_.ruler_heading));
    add(kept_with_next(space(2.0)));
    add_bars(contents_.ruler);
  }

  Block verdict(Column column, const report::VerdictWords& words_of, int attempt) {
    if (words_of.title.empty()) return space(0.0);
    // Named again: it may stand overleaf from its attempt's heading.
    Runs first{{fmt::format("{}, attempt {}  ", words_of.title, attempt)}};
    first.insert(first.end(), words_of.verdict.begin(), words_of.verdict.end());
    std::vector<Block> parts{words(pdf_, column, first, k_text)};
    std::string notes;
    for (const auto& note : words_of.notes) notes += (notes.empty() ? "" : " ") + note;
    if (!notes.empty()) parts.push_back(paragraph(column, notes, k_note));
    return stacked(std::move(parts));
  }

  Block key_points(Column column, const report::AttemptContents& one) {
    if (one.key_points.empty()) return space(0.0);
    std::vector<Block> rows{label(column, one.key_points_caption),
                            table_row(column, one.key_points_header, k_label)};
    for (const auto& point : one.key_points) {
      rows.push_back(rule(pdf_, column, 0.4, 0.73));
      rows.push_back(table_row(column, point, k_note));
    }
    return stacked(std::move(rows));
  }

  Block table_row(Column column, const std::array<std::string, 6>& values, TypeStyle style) {
    // Place, seconds, three distances, knots.
    constexpr std::array<double, 6> shares{0.255, 0.11, 0.15, 0.183, 0.182, 0.12};
    std::vector<Block> parts;
    double x = column.x_pt;
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double width = shares[i] * column.width_pt;
      parts.push_back(
          words(pdf_, {x, width}, {{values[i]}}, aligned(style, i == 0 ? Align::left : Align::right)));
      x += width;
    }
    return abreast(std::move(parts));
  }

  /// How to read what follows is said again only where it differs from the attempt before.
  static report::Heading said_once(const report::Heading& heading, std::string& said) {
    report::Heading shown = heading;
    if (shown.about == said) shown.about.clear();
    said = heading.about;
    return shown;
  }

  Block titled_drawing(Column column, const std::string& title, const std::string& svg) {
    if (svg.empty()) return space(0.0);
    return stacked(
        {words(pdf_, column, {{title, Tone::strong}}, k_note), drawing(pdf_, column, svg, drawing_height_)});
  }

  void add_drawings(const report::AttemptContents& one, const AttemptDebrief& attempt) {
    const Column points{k_page.x_pt + k_page.width_pt - k_key_points_width, k_key_points_width};
    const Column sketch{points.x_pt - 10.0 - k_sketch_width, k_sketch_width};
    const Column strip{k_page.x_pt, sketch.x_pt - 10.0 - k_page.x_pt};
    const auto size = [this](Column column) {
      return report::DrawingSize{column.width_pt / k_drawing_scale, drawing_height_ / k_drawing_scale};
    };
    const std::string strip_svg = report::energy_strip(attempt, debrief_, size(strip));
    const std::string sketch_svg = report::ground_sketch(attempt, debrief_, size(sketch));
    add(abreast({titled_drawing(strip, one.strip.title, strip_svg),
                 titled_drawing(sketch, one.sketch.title, sketch_svg), key_points(points, one)}));
    note_how_to_read(one.strip, strip_svg);
    note_how_to_read(one.sketch, sketch_svg);
  }

  void note_how_to_read(const report::Heading& heading, const std::string& svg) {
    const std::string sentence = heading.title + ": " + heading.about + ".";
    if (!svg.empty() && std::find(how_to_read_.begin(), how_to_read_.end(), sentence) == how_to_read_.end())
      how_to_read_.push_back(sentence);
  }

  void add_attempt(const report::AttemptContents& one, const AttemptDebrief& attempt) {
    add(kept_with_next(space(6.0)));
    add(kept_with_next(rule(pdf_, k_page, 1.2, 0.0)));
    add(kept_with_next(space(3.0)));
    add(heading(k_page, one.heading, 12.0));
    if (!one.touchdown.empty()) add(kept_with_next(words(pdf_, k_page, one.touchdown, k_note)));
    if (!one.marked.empty()) add(kept_with_next(paragraph(k_page, one.marked, k_note)));
    add(kept_with_next(space(3.0)));
    if (!one.ledger.empty()) {
      add(heading(k_page, said_once(one.ledger_heading, ledger_said_), 9.0));
      add_bars(one.ledger);
    } else if (!one.no_causes.empty()) {
      add(heading(k_page, one.ledger_heading, 9.0));
      add(paragraph(k_page, one.no_causes));
    }
    add(space(3.0));
    add(abreast({verdict(left_part(k_page, 0.5), one.test, one.index),
                 verdict(right_part(k_page, 0.5), one.airmanship, one.index)}));
    add(space(3.0));
    add_drawings(one, attempt);
    if (!one.lost.empty()) add(paragraph(k_page, one.lost, k_note));
    for (const auto& note : one.notes) add(paragraph(k_page, note, k_note));
    if (one.lesson.empty()) return;
    add(space(2.0));
    add(words(pdf_, k_page, {{"Lesson  ", Tone::strong}, {one.lesson}}, k_text));
  }

  using Attempts = std::vector<report::AttemptContents>;

  /// One table for several attempts: a row for each question, yes and no for each attempt.
  Block checklist(Column column, Attempts::const_iterator from, Attempts::const_iterator to) {
    std::vector<Block> rows;
    const double boxes = k_answer_width * static_cast<double>(to - from);
    const auto answers_of = [&](Attempts::const_iterator one) {
      const double before = boxes - k_answer_width * static_cast<double>(one - from);
      return Column{column.x_pt + column.width_pt - before, k_answer_width};
    };
    const Column asked{column.x_pt, column.width_pt - boxes - 4.0};
    std::vector<Block> header{heading(asked, from->checklist_heading, 9.0)};
    for (auto one = from; one != to; ++one)
      header.push_back(words(pdf_, answers_of(one), {{fmt::format("{}", one->index), Tone::strong}},
                             aligned(k_note, Align::middle)));
    rows.push_back(abreast(std::move(header)));
    for (std::size_t question = 0; question < from->checklist.size(); ++question) {
      std::vector<Block> row{paragraph(asked, from->checklist[question].asked, k_note)};
      for (auto one = from; one != to; ++one)
        row.push_back(yes_or_no(answers_of(one), one->checklist[question].answer));
      rows.push_back(rule(pdf_, column, 0.4, 0.73));
      rows.push_back(abreast(std::move(row)));
    }
    return stacked(std::move(rows));
  }

  /// The answer in bold; where nobody answered, both words to be ringed by hand.
  Block yes_or_no(Column column, const std::optional<bool>& answer) {
    if (answer)
      return words(pdf_, column, {{*answer ? "yes" : "no", Tone::strong}}, aligned(k_note, Align::middle));
    return words(pdf_, column, {{"yes / no"}}, aligned(k_label, Align::middle));
  }

  /// What stands under the table of questions and beside it, in the order of the HTML report.
  std::vector<std::function<Block(Column)>> end_items() {
    std::vector<std::function<Block(Column)>> items;
    const auto add_item = [&](Runs runs, TypeStyle style) {
      items.push_back([this, runs = std::move(runs), style](Column column) {
        return stacked({words(pdf_, column, runs, style), space(2.0)});
      });
    };
    for (const report::TitledList& list : contents_.lists) {
      Runs runs{{list.title + "  ", Tone::strong}};
      for (std::size_t i = 0; i < list.items.size(); ++i)
        runs.push_back({(i > 0 ? " · " : "") + list.items[i]});
      add_item(std::move(runs), k_note);
    }
    if (!how_to_read_.empty()) add_item({{fmt::format("{}", fmt::join(how_to_read_, " "))}}, k_note);
    add_item({{contents_.safety_sentence}}, k_note);
    return items;
  }

  Block lists(Column column) {
    std::vector<Block> parts;
    for (const auto& item : end_items()) parts.push_back(item(column));
    return stacked(std::move(parts));
  }

  /// Each item goes into the column that is shorter so far.
  Block beside_the_lists(const Block& checklist, Column left, Column right) {
    std::vector<Block> on_the_left{checklist, space(4.0)}, on_the_right;
    double left_height = checklist.height_pt + 4.0, right_height = 0.0;
    for (const auto& item : end_items()) {
      const bool to_the_left = left_height < right_height;
      Block block = item(to_the_left ? left : right);
      (to_the_left ? left_height : right_height) += block.height_pt;
      (to_the_left ? on_the_left : on_the_right).push_back(std::move(block));
    }
    return abreast({stacked(std::move(on_the_left)), stacked(std::move(on_the_right))});
  }

  /// What is for the whole log: the questions on the left, what was assumed and the cautions on the right.
  void add_end() {
    add(kept_with_next(space(6.0)));
    add(kept_with_next(rule(pdf_, k_page, 1.2, 0.0)));
    add(kept_with_next(space(3.0)));
    add(kept_with_next(questions_and_lists()));
    add(words(pdf_, k_page, {{contents_.fingerprint}}, k_label));
  }

  Block questions_and_lists() {
    const Attempts& attempts = contents_.attempts;
    if (attempts.empty()) return lists(k_page);
    if (attempts.size() <= k_beside_the_lists) {
      const Column left = left_part(k_page, 0.54), right = right_part(k_page, 0.54);
      return beside_the_lists(checklist(left, attempts.begin(), attempts.end()), left, right);
    }
    for (auto from = attempts.begin(); from != attempts.end();) {
      const auto to = from + std::min<std::ptrdiff_t>(k_across_the_page, attempts.end() - from);
      add(checklist(k_page, from, to));
      add(space(5.0));
      from = to;
    }
    return lists(k_page);
  }

  Pdf& pdf_;
  const Debrief& debrief_;
  report::ReportContents contents_;
  report::FeetScale scale_;
  double drawing_height_;
  std::vector<Block> blocks_;
  std::string ledger_said_;
  std::vector<std::string> how_to_read_;
};

/// On a sketch two inches wide their names would lie on those of the turns; the strip shades the same band.
DebriefedLog without_reach_lines(DebriefedLog debriefed) {
  for (AttemptDebrief& one : debriefed.debrief.attempts) one.in_reach_from.clear();
  return debriefed;
}

void draw_foot(Pdf& pdf, const std::string& words, std::size_t page, std::size_t pages) {
  const double top = k_a4.height_pt - k_margin - k_foot + 4.0;
  pdf.line(k_page.x_pt, top, k_page.x_pt + k_page.width_pt, top, 0.4, 0.4);
  pdf.set({{words}}, k_label, k_page.width_pt).draw(k_page.x_pt, top + 2.0);
  pdf.set({{fmt::format("{} of {}", page, pages)}}, aligned(k_label, Align::right), k_page.width_pt)
      .draw(k_page.x_pt, top + 2.0);
}

}  // namespace

Result<std::string> debrief_report_pdf(const DebriefedLog& debriefed) {
  Pdf pdf(k_a4, "Debrief");
  const DebriefedLog shown = without_reach_lines(debriefed);
  Report report(pdf, shown);
  const auto pages = pages_of(report.blocks(), k_a4.height_pt - 2.0 * k_margin - k_foot);
  for (std::size_t i = 0; i < pages.size(); ++i) {
    stacked(pages[i]).draw(k_margin);
    draw_foot(pdf, report.running_words(), i + 1, pages.size());
    pdf.end_page();
  }
  return pdf.bytes();
}

}  // namespace glidewright

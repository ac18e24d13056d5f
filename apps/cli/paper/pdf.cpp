#include "apps/cli/paper/pdf.hpp"

#include <cairo-pdf.h>
#include <fmt/format.h>
#include <librsvg/rsvg.h>
#include <pango/pangocairo.h>

#include <string_view>

#include "formats/report/markup.hpp"
#include "formats/report/style.hpp"

#ifdef __SANITIZE_ADDRESS__
// Fontconfig keeps what it has read of the machine's fonts until the program ends; that is no leak of ours.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
  return "leak:libfontconfig\n";
}
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_options() {
  return "print_suppressions=0";
}
#endif

namespace glidewright::paper {
namespace {

struct Released {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
  void operator()(PangoContext* context) const { g_object_unref(context); }
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
  void operator()(GError* error) const { g_error_free(error); }
};
template <class T>
using Held = std::unique_ptr<T, Released>;

constexpr const char* k_font = "Inter";

/// Paper has black, two greys and weights; HTML's colours are not needed, for the shapes say the same.
std::string_view pango_attributes(report::Tone tone) {
  using report::Tone;
  switch (tone) {
    case Tone::strong:
    case Tone::to_long:
    case Tone::to_short:
      return " weight=\"600\"";
    case Tone::plan:
      return " weight=\"600\" foreground=\"#444444\"";
    case Tone::note:
      return " foreground=\"#333333\"";
    case Tone::undecided:
      return " foreground=\"#444444\"";
    case Tone::plain:
    case Tone::verdict:
      break;
  }
  return "";
}

/// Figures under one another need one width; large ones standing alone look better without.
std::string pango_markup(const report::Runs& runs, double size_pt) {
  constexpr double k_large_pt = 24.0;
  std::string markup =
      fmt::format("<span font_features=\"tnum={}\" insert_hyphens=\"false\">", size_pt < k_large_pt ? 1 : 0);
  for (const report::Run& run : runs)
    markup += fmt::format("<span{}>{}</span>", pango_attributes(run.tone), report::escaped(run.text));
  return markup + "</span>";
}

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// "--ink:#000;" of the style sheet, put in where it says "var(--ink)": librsvg knows no variables.
std::string with_print_colours(std::string css) {
  std::string_view left = report::k_print_colours;
  while (!left.empty()) {
    const auto colon = left.find(':'), end = left.find(';');
    const std::string variable =
        "var(" + std::string(left.substr(left.find("--"), colon - left.find("--"))) + ")";
    const std::string_view colour = left.substr(colon + 1, end - colon - 1);
    for (auto at = css.find(variable); at != std::string::npos; at = css.find(variable))
      css.replace(at, variable.size(), colour);
    if (left.find("--", end) == std::string_view::npos) break;
    left.remove_prefix(left.find("--", end));
  }
  return css;
}

const std::string& drawing_style() {
  static const std::string style =
      with_print_colours(std::string(report::k_drawing_style)) + "svg{font-family:" + k_font + "}";
  return style;
}

}  // namespace

struct SetWords::Set {
  Held<PangoLayout> layout;
  cairo_t* cairo = nullptr;
  double grey = 0.0;
};

double SetWords::height_pt() const {
  int height = 0;
  pango_layout_get_size(set_->layout.get(), nullptr, &height);
  return static_cast<double>(height) / PANGO_SCALE;
}

double SetWords::width_pt() const {
  int width = 0;
  pango_layout_get_size(set_->layout.get(), &width, nullptr);
  return static_cast<double>(width) / PANGO_SCALE;
}

double SetWords::baseline_pt() const {
  return static_cast<double>(pango_layout_get_baseline(set_->layout.get())) / PANGO_SCALE;
}

void SetWords::draw(double x_pt, double y_pt) const {
  cairo_set_source_rgb(set_->cairo, set_->grey, set_->grey, set_->grey);
  cairo_move_to(set_->cairo, x_pt, y_pt);
  pango_cairo_show_layout(set_->cairo, set_->layout.get());
}

struct Pdf::Surface {
  std::string bytes;
  Held<cairo_surface_t> surface;
  Held<cairo_t> cairo;
  Held<PangoContext> words;
  std::string problem;  ///< the first
};

Pdf::Pdf(PageSize size, const std::string& title) : surface_(std::make_unique<Surface>()) {
  surface_->surface.reset(
      cairo_pdf_surface_create_for_stream(append, &surface_->bytes, size.width_pt, size.height_pt));
  cairo_surface_t* surface = surface_->surface.get();
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title.c_str());
  // Else Cairo asks the clock, and the same debrief would not give the same bytes.
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
  surface_->cairo.reset(cairo_create(surface));
  surface_->words.reset(pango_cairo_create_context(surface_->cairo.get()));
  // One unit of the page is a point, and letters stand where the design puts them: nothing depends on a
  // screen.
  pango_cairo_context_set_resolution(surface_->words.get(), 72.0);
  const Held<cairo_font_options_t> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options(surface_->words.get(), options.get());
  pango_context_set_round_glyph_positions(surface_->words.get(), FALSE);
}

Pdf::~Pdf() = default;

SetWords Pdf::set(const report::Runs& runs, TypeStyle style, double width_pt) const {
  auto set = std::make_shared<SetWords::Set>();
  set->cairo = surface_->cairo.get();
  set->grey = style.grey;
  set->layout.reset(pango_layout_new(surface_->words.get()));
  PangoLayout* layout = set->layout.get();
  const Held<PangoFontDescription> font(pango_font_description_new());
  pango_font_description_set_family(font.get(), k_font);
  pango_font_description_set_size(font.get(), static_cast<int>(style.size_pt * PANGO_SCALE));
  pango_layout_set_font_description(layout, font.get());
  pango_layout_set_width(layout, static_cast<int>(width_pt * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment(layout, style.align == Align::left     ? PANGO_ALIGN_LEFT
                                     : style.align == Align::middle ? PANGO_ALIGN_CENTER
                                                                    : PANGO_ALIGN_RIGHT);
  if (style.line_spacing != 1.0)
    pango_layout_set_line_spacing(layout, static_cast<float>(style.line_spacing));
  const std::string markup = pango_markup(runs, style.size_pt);
  pango_layout_set_markup(layout, markup.c_str(), static_cast<int>(markup.size()));
  SetWords words;
  words.set_ = std::move(set);
  return words;
}

void Pdf::draw_svg(const std::string& svg, double x_pt, double y_pt, double width_pt, double height_pt) {
  // Inside a page of HTML an SVG needs no namespace, alone it does.
  const std::string alone =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" " + svg.substr(std::string_view("<svg ").size());
  GError* error = nullptr;
  const auto note = [&] {
    const Held<GError> held(error);
    if (surface_->problem.empty()) surface_->problem = error ? error->message : "a drawing";
    error = nullptr;
  };
  const Held<RsvgHandle> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(alone.data()), alone.size(), &error));
  if (!handle) return note();
  const std::string& style = drawing_style();
  if (!rsvg_handle_set_stylesheet(handle.get(), reinterpret_cast<const guint8*>(style.data()), style.size(),
                                  &error))
    return note();
  const RsvgRectangle place{x_pt, y_pt, width_pt, height_pt};
  if (!rsvg_handle_render_document(handle.get(), surface_->cairo.get(), &place, &error)) note();
}

void Pdf::fill_box(double x_pt, double y_pt, double width_pt, double height_pt, double grey) {
  cairo_set_source_rgb(surface_->cairo.get(), grey, grey, grey);
  cairo_rectangle(surface_->cairo.get(), x_pt, y_pt, width_pt, height_pt);
  cairo_fill(surface_->cairo.get());
}

void Pdf::stroke_box(double x_pt, double y_pt, double width_pt, double height_pt, double line_pt) {
  cairo_set_source_rgb(surface_->cairo.get(), 0.0, 0.0, 0.0);
  cairo_set_line_width(surface_->cairo.get(), line_pt);
  cairo_rectangle(surface_->cairo.get(), x_pt, y_pt, width_pt, height_pt);
  cairo_stroke(surface_->cairo.get());
}

void Pdf::line(double x1_pt, double y1_pt, double x2_pt, double y2_pt, double line_pt, double grey) {
  cairo_set_source_rgb(surface_->cairo.get(), grey, grey, grey);
  cairo_set_line_width(surface_->cairo.get(), line_pt);
  cairo_move_to(surface_->cairo.get(), x1_pt, y1_pt);
  cairo_line_to(surface_->cairo.get(), x2_pt, y2_pt);
  cairo_stroke(surface_->cairo.get());
}

void Pdf::set_page_size(PageSize size) {
  cairo_pdf_surface_set_size(surface_->surface.get(), size.width_pt, size.height_pt);
}

void Pdf::end_page() {
  cairo_show_page(surface_->cairo.get());
}

Result<std::string> Pdf::bytes() {
  cairo_surface_finish(surface_->surface.get());
  const cairo_status_t status = cairo_surface_status(surface_->surface.get());
  if (surface_->problem.empty() && status != CAIRO_STATUS_SUCCESS)
    surface_->problem = cairo_status_to_string(status);
  if (!surface_->problem.empty()) return Error{"the PDF cannot be made: " + surface_->problem};
  return std::move(surface_->bytes);
}

}  // namespace glidewright::paper

#include "formats/report/markup.hpp"

#include <fmt/format.h>

#include <cmath>

namespace glidewright::report {

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        if (static_cast<unsigned char>(c) >= ' ' || c == '\n' || c == '\t') out += c;
    }
  }
  return out;
}

std::string at(double value) {
  const double rounded = std::round(value * 10.0) / 10.0;
  return fmt::format("{:.1f}", rounded == 0.0 ? 0.0 : rounded);
}

std::string element(std::string_view name, std::string_view css_class, std::string_view text) {
  if (css_class.empty()) return fmt::format("<{0}>{1}</{0}>", name, escaped(text));
  return fmt::format("<{0} class=\"{1}\">{2}</{0}>", name, css_class, escaped(text));
}

std::string line(double x1, double y1, double x2, double y2, std::string_view css_class) {
  return fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" class=\"{}\"/>", at(x1), at(y1), at(x2),
                     at(y2), css_class);
}

std::string rectangle(double x, double y, double width, double height, std::string_view css_class) {
  return fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" class=\"{}\"/>", at(x), at(y),
                     at(width), at(height), css_class);
}

std::string circle(double x, double y, double radius, std::string_view css_class) {
  return fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"{}\"/>", at(x), at(y), at(radius),
                     css_class);
}

std::string text(double x, double y, std::string_view anchor, std::string_view css_class,
                 std::string_view words) {
  return fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"{}\" class=\"{}\">{}</text>", at(x), at(y),
                     anchor, css_class, escaped(words));
}

}  // namespace glidewright::report

#pragma once
// Text for HTML and SVG: everything foreign passes through `escaped`.

#include <string>
#include <string_view>

namespace glidewright::report {

/// `&`, `<`, `>`, quotes as entities; control characters left out.
std::string escaped(std::string_view text);

/// A coordinate with one decimal, never "-0.0".
std::string at(double value);

/// An element with escaped text.
std::string element(std::string_view name, std::string_view css_class, std::string_view text);

/// SVG pieces. Classes give colour and width, so that one style sheet serves screen and print.
std::string line(double x1, double y1, double x2, double y2, std::string_view css_class);
std::string rectangle(double x, double y, double width, double height, std::string_view css_class);
std::string circle(double x, double y, double radius, std::string_view css_class);
/// anchor: "start", "middle" or "end".
std::string text(double x, double y, std::string_view anchor, std::string_view css_class,
                 std::string_view words);

}  // namespace glidewright::report

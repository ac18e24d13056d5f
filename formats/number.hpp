#pragma once
// Numbers as text, without locale.

#include <optional>
#include <string_view>

namespace glidewright {

/// Without blanks, tabs and line ends at both ends.
std::string_view trim_blanks(std::string_view text);

/// The whole text as one finite decimal number, blanks round it and a leading "+" allowed. None for "",
/// "nan", "inf", "12ft" and the like. Correctly rounded.
std::optional<double> read_number(std::string_view text);

/// The same with a decimal comma.
std::optional<double> read_decimal_comma_number(std::string_view text);

/// The whole text as one whole number, nothing round it; none for anything else.
std::optional<long long> read_whole_number(std::string_view text);

}  // namespace glidewright

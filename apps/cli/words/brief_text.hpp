#pragma once

#include <string>

#include "apps/cli/words/page.hpp"
#include "formats/brief_json.hpp"

namespace glidewright {

/// The plan as an instructor reads it before flight: six numbers first. Not yet `printed`.
std::string brief_text(const Brief& brief, const Page& page);

/// A blank line, the title and what it is about.
std::string heading(const std::string& title);
/// With a note behind it, or below it where the page is too narrow for both.
std::string heading(const std::string& title, const std::string& note, const Page& page);

/// "Was assumed" with one line each; nothing where nothing was.
std::string assumed_text(const std::vector<std::string>& assumed, const Page& page);

/// "Harrow Fen, runway 24".
std::string runway_name(const Runway& runway);

/// A label of 12 columns and what goes beside it.
std::string labelled(const std::string& label, const std::string& text, const Page& page);

}  // namespace glidewright

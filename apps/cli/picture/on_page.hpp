#pragma once

#include "apps/cli/picture/picture_style.hpp"
#include "apps/cli/words/page.hpp"

namespace glidewright {

/// Drawn for this page: its width, its characters, ink marks that `printed` finishes.
inline PictureStyle picture_style(const Page& page) {
  return {page.width,
          page.charset == Charset::utf8 ? PictureStyle::Characters::unicode : PictureStyle::Characters::ascii,
          PictureStyle::Colour::marked};
}

}  // namespace glidewright

#pragma once
// How a picture of characters is drawn: how wide, with which characters, with or without colour.

namespace glidewright {

struct PictureStyle {
  enum class Characters { unicode, ascii };
  enum class Colour {
    off,
    on,      ///< as escape sequences
    marked,  ///< as ink marks, for text that `printed` finishes
  };

  int columns = 80;  ///< widest line; taken as 60 below that and as 110 above it
  Characters characters = Characters::unicode;
  Colour colour = Colour::off;  ///< never says anything that shapes and words do not say too
};

}  // namespace glidewright

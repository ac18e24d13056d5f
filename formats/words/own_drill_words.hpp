#pragma once
// What a drill from somebody's own flights asks and tells.

#include <string>

#include "engine/drill/own_flight.hpp"

namespace glidewright {

/// "About 65 kt through the air. Frozen on base."
std::string own_picture_words(const OwnMoment& own);
/// "High: it touched down at +560 (+20 to +960) ft, 360 ft beyond the box."
std::string own_verdict_words(const OwnMoment& own);
/// What the band says would still have brought it in from there.
std::string own_remedy_words(const OwnMoment& own);

}  // namespace glidewright

#pragma once

namespace glidewright {

/// Now, to the millisecond: the same moment after it was written as text and read again.
double now_unix_s();

}  // namespace glidewright

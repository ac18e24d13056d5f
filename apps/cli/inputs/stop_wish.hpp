#pragma once

namespace glidewright {

/// While it lives, the first interrupt (Ctrl-C) or end signal is only noted, so that what was begun can be
/// ended in order; the second ends the program at once. One at a time.
class StopWish {
 public:
  StopWish();
  ~StopWish();
  StopWish(const StopWish&) = delete;
  StopWish& operator=(const StopWish&) = delete;

  static bool made();
};

}  // namespace glidewright

#pragma once
// Work in pieces, for whoever has threads to share it out among. The engine itself starts none.

#include <functional>

namespace glidewright {

/// Calls `piece(0)` to `piece(count - 1)`, each once, in any order and on any thread; back when all are done.
using ShareOut = std::function<void(int count, const std::function<void(int)>& piece)>;

/// On the caller's thread.
inline void one_after_another(int count, const std::function<void(int)>& piece) {
  for (int i = 0; i < count; ++i) piece(i);
}

}  // namespace glidewright

#pragma once
// What lanes of every kind share.

/// Never a function of its own: the same name compiled for two instruction sets must not meet in the linker,
/// which would keep one of them for both.
#define GLIDEWRIGHT_INLINE [[gnu::always_inline]] inline

namespace glidewright {

/// LaneOf<L>::Mask is what a comparison of two L gives.
template <class L>
struct LaneOf;
template <class L>
using Mask = typename LaneOf<L>::Mask;

template <class L>
struct SineCosine {
  L sine;
  L cosine;
};

}  // namespace glidewright

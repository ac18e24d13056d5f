// A lane type: floats side by side, a few native vectors of them, for one instruction set.
//
// No include guard of the usual kind: each batch source file includes it once, after naming its instruction
// set
//   GLIDEWRIGHT_INSTRUCTION_SET   a namespace of its own, so that no function is shared with another set
//   GLIDEWRIGHT_VECTOR_BYTES      of one native vector
//   GLIDEWRIGHT_VECTORS           native vectors to a lane
// Everything is made of the compiler's vector extension; what it has no word for is in native.hpp. All sets
// give the same bits: plain IEEE operations in the order written, no fused multiply-add, no estimates.

#include <cstdint>

#if defined(__wasm_simd128__)
#include <wasm_simd128.h>
#endif

#include "engine/lanes/scalar.hpp"
// after the words it uses
#include "engine/lanes/native.hpp"

namespace glidewright {
namespace GLIDEWRIGHT_INSTRUCTION_SET {

inline constexpr int k_vectors = GLIDEWRIGHT_VECTORS;
inline constexpr int k_native = GLIDEWRIGHT_VECTOR_BYTES / 4;
inline constexpr int k_lanes = k_vectors * k_native;

/// GLIDEWRIGHT_EACH(i): the following statement for every native vector, unrolled.
#define GLIDEWRIGHT_EACH(i) _Pragma("GCC unroll 8") for (int i = 0; i < k_vectors; ++i)

struct LaneMask {
  Ints part[k_vectors];

  LaneMask() = default;
  // Copied vector by vector: left to the compiler, a struct goes in smaller pieces, which stalls the next
  // load.
  GLIDEWRIGHT_INLINE LaneMask(const LaneMask& b) { GLIDEWRIGHT_EACH(i) part[i] = b.part[i]; }
  GLIDEWRIGHT_INLINE LaneMask& operator=(const LaneMask& b) {
    GLIDEWRIGHT_EACH(i) part[i] = b.part[i];
    return *this;
  }
  GLIDEWRIGHT_INLINE LaneMask(bool everywhere) {
    GLIDEWRIGHT_EACH(i) part[i] = Ints{} - (everywhere ? 1 : 0);
  }
};

struct Lane {
  Floats part[k_vectors];

  Lane() = default;
  GLIDEWRIGHT_INLINE Lane(const Lane& b) { GLIDEWRIGHT_EACH(i) part[i] = b.part[i]; }
  GLIDEWRIGHT_INLINE Lane& operator=(const Lane& b) {
    GLIDEWRIGHT_EACH(i) part[i] = b.part[i];
    return *this;
  }
  GLIDEWRIGHT_INLINE Lane(double everywhere) {
    const Floats one = Floats{} + static_cast<float>(everywhere);
    GLIDEWRIGHT_EACH(i) part[i] = one;
  }
  GLIDEWRIGHT_INLINE Lane& operator+=(const Lane& b) {
    GLIDEWRIGHT_EACH(i) part[i] += b.part[i];
    return *this;
  }
  GLIDEWRIGHT_INLINE Lane& operator-=(const Lane& b) {
    GLIDEWRIGHT_EACH(i) part[i] -= b.part[i];
    return *this;
  }
};

#define GLIDEWRIGHT_ARITHMETIC(op)                                    \
  GLIDEWRIGHT_INLINE Lane operator op(const Lane& a, const Lane& b) { \
    Lane r;                                                           \
    GLIDEWRIGHT_EACH(i) r.part[i] = a.part[i] op b.part[i];           \
    return r;                                                         \
  }
GLIDEWRIGHT_ARITHMETIC(+)
GLIDEWRIGHT_ARITHMETIC(-)
GLIDEWRIGHT_ARITHMETIC(*)
GLIDEWRIGHT_ARITHMETIC(/)
#undef GLIDEWRIGHT_ARITHMETIC

#define GLIDEWRIGHT_COMPARISON(op)                                        \
  GLIDEWRIGHT_INLINE LaneMask operator op(const Lane& a, const Lane& b) { \
    LaneMask r;                                                           \
    GLIDEWRIGHT_EACH(i) r.part[i] = a.part[i] op b.part[i];               \
    return r;                                                             \
  }
GLIDEWRIGHT_COMPARISON(<)
GLIDEWRIGHT_COMPARISON(<=)
GLIDEWRIGHT_COMPARISON(>)
GLIDEWRIGHT_COMPARISON(>=)
GLIDEWRIGHT_COMPARISON(==)
GLIDEWRIGHT_COMPARISON(!=)
#undef GLIDEWRIGHT_COMPARISON

GLIDEWRIGHT_INLINE Lane operator-(const Lane& a) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = -a.part[i];
  return r;
}
GLIDEWRIGHT_INLINE LaneMask operator&&(const LaneMask& a, const LaneMask& b) {
  LaneMask r;
  GLIDEWRIGHT_EACH(i) r.part[i] = a.part[i] & b.part[i];
  return r;
}
GLIDEWRIGHT_INLINE LaneMask operator||(const LaneMask& a, const LaneMask& b) {
  LaneMask r;
  GLIDEWRIGHT_EACH(i) r.part[i] = a.part[i] | b.part[i];
  return r;
}
GLIDEWRIGHT_INLINE LaneMask operator!(const LaneMask& a) {
  LaneMask r;
  GLIDEWRIGHT_EACH(i) r.part[i] = ~a.part[i];
  return r;
}
GLIDEWRIGHT_INLINE bool any(const LaneMask& a) {
  Ints together = a.part[0];
  GLIDEWRIGHT_EACH(i) together |= a.part[i];
  return any_native(together);
}
GLIDEWRIGHT_INLINE bool all(const LaneMask& a) {
  return !any(!a);
}

GLIDEWRIGHT_INLINE Lane choose(const LaneMask& condition, const Lane& yes, const Lane& no) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = condition.part[i] ? yes.part[i] : no.part[i];
  return r;
}
GLIDEWRIGHT_INLINE LaneMask choose_mask(const LaneMask& condition, const LaneMask& yes, const LaneMask& no) {
  LaneMask r;
  GLIDEWRIGHT_EACH(i) r.part[i] = (condition.part[i] & yes.part[i]) | (~condition.part[i] & no.part[i]);
  return r;
}
GLIDEWRIGHT_INLINE Lane smaller(const Lane& a, const Lane& b) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = smaller_native(a.part[i], b.part[i]);
  return r;
}
GLIDEWRIGHT_INLINE Lane larger(const Lane& a, const Lane& b) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = larger_native(a.part[i], b.part[i]);
  return r;
}
GLIDEWRIGHT_INLINE Lane magnitude(const Lane& a) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = (Floats)((Ints)a.part[i] & 0x7fffffff);
  return r;
}
GLIDEWRIGHT_INLINE Lane square_root(const Lane& a) {
  Lane r;
  GLIDEWRIGHT_EACH(i) r.part[i] = square_root_native(a.part[i]);
  return r;
}

GLIDEWRIGHT_INLINE float get(const Lane& a, int lane) {
  return a.part[lane / k_native][lane % k_native];
}
GLIDEWRIGHT_INLINE void set(Lane& a, int lane, float value) {
  a.part[lane / k_native][lane % k_native] = value;
}
GLIDEWRIGHT_INLINE bool get(const LaneMask& a, int lane) {
  return a.part[lane / k_native][lane % k_native] != 0;
}
GLIDEWRIGHT_INLINE void set(LaneMask& a, int lane, bool value) {
  a.part[lane / k_native][lane % k_native] = value ? -1 : 0;
}

}  // namespace GLIDEWRIGHT_INSTRUCTION_SET

template <>
struct LaneOf<GLIDEWRIGHT_INSTRUCTION_SET::Lane> {
  using Mask = GLIDEWRIGHT_INSTRUCTION_SET::LaneMask;
};

}  // namespace glidewright

#include "engine/lanes/mathematics.hpp"
#include "engine/lanes/philox_in_lanes.hpp"

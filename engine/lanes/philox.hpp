#pragma once
// Random numbers by counting: the same flight gets the same luck whoever flies it, in whatever order.
//
// Philox4x32-10. Source: Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11.

#include <cstdint>

#include "engine/lanes/scalar.hpp"

namespace glidewright {

struct FourRandomWords {
  std::uint32_t word[4];
};

GLIDEWRIGHT_INLINE FourRandomWords philox(FourRandomWords counter, std::uint64_t key) {
  std::uint32_t k0 = static_cast<std::uint32_t>(key), k1 = static_cast<std::uint32_t>(key >> 32);
  std::uint32_t c0 = counter.word[0], c1 = counter.word[1], c2 = counter.word[2], c3 = counter.word[3];
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t a = std::uint64_t{0xD2511F53U} * c0, b = std::uint64_t{0xCD9E8D57U} * c2;
    c0 = static_cast<std::uint32_t>(b >> 32) ^ c1 ^ k0;
    c1 = static_cast<std::uint32_t>(b);
    c2 = static_cast<std::uint32_t>(a >> 32) ^ c3 ^ k1;
    c3 = static_cast<std::uint32_t>(a);
    k0 += 0x9E3779B9U;
    k1 += 0xBB67AE85U;
  }
  return {{c0, c1, c2, c3}};
}

/// Words 4 block to 4 block + 3 of one flight under a seed.
GLIDEWRIGHT_INLINE FourRandomWords words_of_flight(std::uint64_t seed, std::uint64_t flight,
                                                   std::uint32_t block) {
  return philox({{static_cast<std::uint32_t>(flight), static_cast<std::uint32_t>(flight >> 32), block, 0U}},
                seed);
}

/// In (0, 1), by the upper 23 bits: a float holds it exactly, so that floats and doubles start from the same.
GLIDEWRIGHT_INLINE float uniform_of(std::uint32_t word) {
  return (static_cast<float>(word >> 9) + 0.5f) * 0x1.0p-23f;
}

template <class L>
struct TwoNormals {
  L first;
  L second;
};

/// Two standard normal numbers from two uniform ones.
/// Source: Box and Muller, Annals of Mathematical Statistics 29 (1958).
template <class L>
GLIDEWRIGHT_INLINE TwoNormals<L> normals_of(const L& uniform_1, const L& uniform_2) {
  const L radius = square_root(-2.0 * logarithm(uniform_1));
  const SineCosine<L> angle = sine_cosine(6.283185307179586 * uniform_2);
  return {radius * angle.cosine, radius * angle.sine};
}

}  // namespace glidewright

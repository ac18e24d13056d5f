// Philox for lanes, each word of the counters side by side. Included by vector.hpp only. The same words as
// engine/lanes/philox.hpp.

namespace glidewright {
namespace GLIDEWRIGHT_INSTRUCTION_SET {

struct WideProduct {
  Words low;
  Words high;
};

GLIDEWRIGHT_INLINE WideProduct multiplied(Words a, std::uint32_t b) {
  const LongWords even = multiply_even_native((LongWords)a, b);
  const LongWords odd = multiply_even_native((LongWords)a >> 32, b);
  constexpr std::uint64_t lower = 0xffffffffU;
  return {(Words)((even & lower) | (odd << 32)), (Words)((even >> 32) | (odd & ~lower))};
}

/// The words replace the counters. The last argument says for which lanes.
GLIDEWRIGHT_INLINE void philox_in_lanes(std::uint32_t (&counters)[4][k_lanes], std::uint64_t key,
                                        const Lane&) {
  GLIDEWRIGHT_EACH(i) {
    Words c[4];
    for (int word = 0; word < 4; ++word) {
      __builtin_memcpy(&c[word], &counters[word][i * k_native], sizeof c[word]);
    }
    std::uint32_t k0 = static_cast<std::uint32_t>(key), k1 = static_cast<std::uint32_t>(key >> 32);
    for (int round = 0; round < 10; ++round) {
      const WideProduct a = multiplied(c[0], 0xD2511F53U), b = multiplied(c[2], 0xCD9E8D57U);
      c[0] = b.high ^ c[1] ^ k0;
      c[1] = b.low;
      c[2] = a.high ^ c[3] ^ k1;
      c[3] = a.low;
      k0 += 0x9E3779B9U;
      k1 += 0xBB67AE85U;
    }
    for (int word = 0; word < 4; ++word) {
      __builtin_memcpy(&counters[word][i * k_native], &c[word], sizeof c[word]);
    }
  }
}

}  // namespace GLIDEWRIGHT_INSTRUCTION_SET
}  // namespace glidewright

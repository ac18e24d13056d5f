// What the vector extension has no word for. The only place that knows of a machine; the plain loops beside
// each give the same bits anywhere (WebAssembly, ARM).

namespace glidewright {
namespace GLIDEWRIGHT_INSTRUCTION_SET {

typedef float Floats __attribute__((vector_size(GLIDEWRIGHT_VECTOR_BYTES)));
typedef std::int32_t Ints __attribute__((vector_size(GLIDEWRIGHT_VECTOR_BYTES)));
typedef std::uint32_t Words __attribute__((vector_size(GLIDEWRIGHT_VECTOR_BYTES)));
typedef long long LongInts __attribute__((vector_size(GLIDEWRIGHT_VECTOR_BYTES)));
typedef std::uint64_t LongWords __attribute__((vector_size(GLIDEWRIGHT_VECTOR_BYTES)));

#if defined(__x86_64__) && GLIDEWRIGHT_VECTOR_BYTES == 16
GLIDEWRIGHT_INLINE Floats square_root_native(Floats a) {
  return __builtin_ia32_sqrtps(a);
}
GLIDEWRIGHT_INLINE Floats smaller_native(Floats a, Floats b) {
  return __builtin_ia32_minps(a, b);
}
GLIDEWRIGHT_INLINE Floats larger_native(Floats a, Floats b) {
  return __builtin_ia32_maxps(a, b);
}
GLIDEWRIGHT_INLINE bool any_native(Ints a) {
  return __builtin_ia32_movmskps((Floats)a) != 0;
}
/// The lower half of each long word times b, whole.
GLIDEWRIGHT_INLINE LongWords multiply_even_native(LongWords a, std::uint32_t b) {
  return (LongWords)__builtin_ia32_pmuludq128((Ints)a, (Ints)(LongWords{} + b));
}
#elif defined(__AVX2__) && GLIDEWRIGHT_VECTOR_BYTES == 32
GLIDEWRIGHT_INLINE Floats square_root_native(Floats a) {
  return __builtin_ia32_sqrtps256(a);
}
GLIDEWRIGHT_INLINE Floats smaller_native(Floats a, Floats b) {
  return __builtin_ia32_minps256(a, b);
}
GLIDEWRIGHT_INLINE Floats larger_native(Floats a, Floats b) {
  return __builtin_ia32_maxps256(a, b);
}
GLIDEWRIGHT_INLINE bool any_native(Ints a) {
  return __builtin_ia32_movmskps256((Floats)a) != 0;
}
/// The lower half of each long word times b, whole.
GLIDEWRIGHT_INLINE LongWords multiply_even_native(LongWords a, std::uint32_t b) {
  return (LongWords)__builtin_ia32_pmuludq256((Ints)a, (Ints)(LongWords{} + b));
}
// clang, which only searches for bad input here, has other names for these.
#elif defined(__AVX512F__) && GLIDEWRIGHT_VECTOR_BYTES == 64 && !defined(__clang__)
// The plain loops become a comparison and a blend here, and `any` a chain of ten shuffles.
inline constexpr int k_present_rounding = 4;
GLIDEWRIGHT_INLINE Floats square_root_native(Floats a) {
  return __builtin_ia32_sqrtps512_mask(a, a, -1, k_present_rounding);
}
GLIDEWRIGHT_INLINE Floats smaller_native(Floats a, Floats b) {
  return __builtin_ia32_minps512_mask(a, b, a, -1, k_present_rounding);
}
GLIDEWRIGHT_INLINE Floats larger_native(Floats a, Floats b) {
  return __builtin_ia32_maxps512_mask(a, b, a, -1, k_present_rounding);
}
GLIDEWRIGHT_INLINE bool any_native(Ints a) {
  return __builtin_ia32_ptestmd512(a, a, -1) != 0;
}
/// The lower half of each long word times b, whole.
GLIDEWRIGHT_INLINE LongWords multiply_even_native(LongWords a, std::uint32_t b) {
  return (LongWords)__builtin_ia32_pmuludq512_mask((Ints)a, (Ints)(LongWords{} + b), LongInts{}, -1);
}
#elif defined(__wasm_simd128__) && GLIDEWRIGHT_VECTOR_BYTES == 16
GLIDEWRIGHT_INLINE Floats square_root_native(Floats a) {
  return (Floats)wasm_f32x4_sqrt((v128_t)a);
}
// "Pseudo" minimum: the second where it is less than the first, else the first.
GLIDEWRIGHT_INLINE Floats smaller_native(Floats a, Floats b) {
  return (Floats)wasm_f32x4_pmin((v128_t)b, (v128_t)a);
}
GLIDEWRIGHT_INLINE Floats larger_native(Floats a, Floats b) {
  return (Floats)wasm_f32x4_pmax((v128_t)b, (v128_t)a);
}
GLIDEWRIGHT_INLINE bool any_native(Ints a) {
  return wasm_v128_any_true((v128_t)a);
}
GLIDEWRIGHT_INLINE LongWords multiply_even_native(LongWords a, std::uint32_t b) {
  return (a & 0xffffffffU) * b;
}
#else
GLIDEWRIGHT_INLINE Floats square_root_native(Floats a) {
  for (int i = 0; i < GLIDEWRIGHT_VECTOR_BYTES / 4; ++i) a[i] = __builtin_sqrtf(a[i]);
  return a;
}
GLIDEWRIGHT_INLINE Floats smaller_native(Floats a, Floats b) {
  return a < b ? a : b;
}
GLIDEWRIGHT_INLINE Floats larger_native(Floats a, Floats b) {
  return a > b ? a : b;
}
GLIDEWRIGHT_INLINE bool any_native(Ints a) {
  std::int32_t together = 0;
  for (int i = 0; i < GLIDEWRIGHT_VECTOR_BYTES / 4; ++i) together |= a[i];
  return together != 0;
}
GLIDEWRIGHT_INLINE LongWords multiply_even_native(LongWords a, std::uint32_t b) {
  return (a & 0xffffffffU) * b;
}
#endif

}  // namespace GLIDEWRIGHT_INSTRUCTION_SET
}  // namespace glidewright

// Sine, arc tangent, power and the like for lanes: polynomials of our own, because library functions differ
// in bits from machine to machine. Included by vector.hpp only. Fitted at Chebyshev nodes; errors stated are
// the largest found against the library in double, rounding included (tests/engine/lanes measures them).

namespace glidewright {
namespace GLIDEWRIGHT_INSTRUCTION_SET {

/// To the nearest whole number, |x| < 4e6: beyond 1.5 x 2^23 a float has no fraction left.
GLIDEWRIGHT_INLINE Lane nearest_whole(const Lane& x) {
  const Lane no_fraction_left = 12582912.0;
  return (x + no_fraction_left) - no_fraction_left;
}

/// Any angle up to some turns. Error below 6e-7 within +-7 rad.
GLIDEWRIGHT_INLINE SineCosine<Lane> sine_cosine(const Lane& angle_rad) {
  // A turn in two parts, the first with few bits, so that its multiples are exact.
  const Lane turns = nearest_whole(angle_rad * Lane(0.15915494309));
  const Lane half = ((angle_rad - turns * Lane(6.28125)) - turns * Lane(0.0019353071795865)) * Lane(0.5);
  const Lane q = half * half;
  const Lane s =
      half * (1.0 + q * (-0.166666582 + q * (0.00833305065 + q * (-0.000198090464 + q * 2.60516617e-06))));
  const Lane c =
      1.0 +
      q * (-0.5 + q * (0.0416666344 + q * (-0.00138883607 + q * (2.47601347e-05 + q * -2.60510774e-07))));
  return {2.0 * s * c, 1.0 - 2.0 * s * s};
}

/// Of an angle within +-1 rad. Error below 1.5e-7.
GLIDEWRIGHT_INLINE SineCosine<Lane> sine_cosine_of_small(const Lane& angle_rad) {
  const Lane q = angle_rad * angle_rad;
  return {angle_rad + angle_rad * (q * (-0.166665986 + q * (0.00832994655 + q * -0.000192971143))),
          1.0 + q * (-0.49999997 + q * (0.0416664556 + q * (-0.00138829602 + q * 2.41212019e-05)))};
}

/// Of any number. Error below 3e-7.
GLIDEWRIGHT_INLINE Lane arctangent(const Lane& x) {
  const Lane size = magnitude(x);
  const LaneMask steep = size > 1.0;
  const Lane t = choose(steep, 1.0 / larger(size, 1e-20), size);
  const Lane q = t * t;
  const Lane low =
      t *
      (0.999999881 +
       q * (-0.333319604 +
            q * (0.199692354 +
                 q * (-0.140165851 +
                      q * (0.0990609676 + q * (-0.0593671016 + q * (0.0241661891 + q * -0.00466877315)))))));
  const Lane angle = choose(steep, 1.57079632679 - low, low);
  return choose(x < 0.0, -angle, angle);
}

/// Binary logarithm of a positive normal number. Error below 4e-7 for numbers within [0.1, 10], relative
/// 2e-7 beyond.
GLIDEWRIGHT_INLINE Lane binary_logarithm(const Lane& x) {
  constexpr std::int32_t root_of_half = 0x3f3504f3;
  Lane exponent, mantissa;
  GLIDEWRIGHT_EACH(i) {
    const Ints bits = (Ints)x.part[i];
    const Ints whole = (bits - root_of_half) >> 23;
    exponent.part[i] = __builtin_convertvector(whole, Floats);
    mantissa.part[i] = (Floats)(bits - (whole << 23));
  }
  const Lane t = mantissa - 1.0;
  return exponent +
         t * (1.4426949 +
              t * (-0.721352756 +
                   t * (0.48092404 +
                        t * (-0.360241979 +
                             t * (0.287075609 + t * (-0.24882181 + t * (0.23420985 + t * -0.146203533)))))));
}

/// Two to the x, |x| <= 126 (held there). Relative error below 2.5e-7.
GLIDEWRIGHT_INLINE Lane binary_power(const Lane& x) {
  const Lane held = limited(x, Lane(-126.0), Lane(126.0));
  const Lane whole = nearest_whole(held);
  const Lane t = held - whole;
  Lane r =
      1.00000012 +
      t * (0.693147182 + t * (0.240221068 + t * (0.0555032715 + t * (0.00967603736 + t * 0.00134004327))));
  GLIDEWRIGHT_EACH(i) {
    r.part[i] = (Floats)((Ints)r.part[i] + (__builtin_convertvector(whole.part[i], Ints) << 23));
  }
  return r;
}

GLIDEWRIGHT_INLINE Lane exponential(const Lane& x) {
  return binary_power(x * 1.44269504089);
}
GLIDEWRIGHT_INLINE Lane logarithm(const Lane& x) {
  return binary_logarithm(x) * 0.69314718056;
}
/// Positive base; relative error below 1e-6 where the result lies within [0.01, 100].
GLIDEWRIGHT_INLINE Lane power(const Lane& base, const Lane& exponent) {
  return binary_power(exponent * binary_logarithm(base));
}

}  // namespace GLIDEWRIGHT_INSTRUCTION_SET
}  // namespace glidewright

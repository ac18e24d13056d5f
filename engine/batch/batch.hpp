#pragma once
// Many approaches at once, by the widest vector instructions that the machine has: for everything that is
// averaged over the spread. The reference (fly) stays the measure of it.

#include <cstdint>
#include <vector>

#include "engine/batch/flown_once.hpp"
#include "engine/batch/share_out.hpp"
#include "engine/technique/approach.hpp"

namespace glidewright {

enum class InstructionSet { baseline, avx2, avx512 };

/// The widest that this machine runs.
InstructionSet widest_instruction_set();
/// Those of them that this machine runs, narrowest first.
std::vector<InstructionSet> instruction_sets_here();
const char* name_of(InstructionSet set);

/// Which approaches to fly. Every cue is flown with the same luck: flights `first` to `first + count - 1` of
/// the seed, or with the deviations given. Each result depends on the request and the flight's number only,
/// whatever else is flown with it, on whatever machine.
struct BatchRequest {
  const Airplane* airplane = nullptr;
  Conditions conditions;
  Technique technique;         ///< flown without a go-around
  std::vector<double> cues_s;  ///< base turn after abeam; the technique's own if empty
  Scatter scatter;
  std::uint64_t seed = 1;
  std::int64_t first = 0;
  std::int64_t count = 0;
  std::vector<Deviation> deviations;  ///< if any: flown in place of the seed's, `count` is their number
  double longest_step_s = 0.2;        ///< in (0, 0.2]: no longer than from one decision to the next
};

/// Results cue by cue, in each the flights in order.
///
/// Accuracy: touchdown against the reference (fourth order, 0.02 s, double) within 3 ft in the median and 15
/// ft in 99 of 100; in about one flight of 700 a decision falls the other way, which can move it by hundreds
/// of feet (docs/measured.md). Limits: up to 8 flap settings; beyond that the reference flies, at a 0.2 s
/// step.
std::vector<FlownOnce> fly_batch(const BatchRequest& request);
std::vector<FlownOnce> fly_batch(const BatchRequest& request, InstructionSet set);

/// The same in pieces on as many threads as there are; every flight gives the same bits.
std::vector<FlownOnce> fly_batch(const BatchRequest& request, const ShareOut& share_out);

/// The same by the reference integrator, one after the other.
std::vector<FlownOnce> fly_batch_by_reference(const BatchRequest& request,
                                              const IntegratorSettings& settings);

}  // namespace glidewright

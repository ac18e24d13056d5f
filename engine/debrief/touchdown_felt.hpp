#pragma once
// The wheels as a phone's accelerometer felt them: a likelihood over the moment of first contact.

#include <optional>
#include <string>
#include <vector>

#include "engine/accelerometer/clock.hpp"
#include "engine/debrief/touchdown_posterior.hpp"

namespace glidewright::touchdown {

/// On a grid finer than that of the other evidence; seconds after the rough time, by the log's clock.
struct FeltLikelihood {
  double first_s = 0.0;
  double step_s = 0.05;
  std::vector<double> of_first_contact;
  double bounce_probability = 0.0;  ///< that the wheels left the ground again
};

struct FeltAnswer {
  std::optional<FeltLikelihood> likelihood;
  std::string reason;  ///< where there is none
};

/// In flight the phone shakes as it did on final, apart from a gust or a motor now and then; from the first
/// contact on as it does in the roll, apart from a bounce. Both levels are learnt from this landing.
FeltAnswer felt_likelihood(const LandingEvidence& evidence, const AccelerometerLog& felt,
                           const ClockOffset& clock, double rough_time_unix_s);

/// Both together, on the finer grid; none where they exclude each other.
std::optional<TimePosterior> with_felt(const LandingEvidence& evidence, const TimePosterior& posterior,
                                       const FeltLikelihood& felt);

std::string felt_in_words(const TimePosterior& positions, const TimePosterior& both, const ClockOffset& clock,
                          const FeltLikelihood& felt);

}  // namespace glidewright::touchdown

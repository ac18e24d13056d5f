#pragma once
// The pilot's eye: where would the glide end from here?

#include "engine/glide/motion.hpp"
#include "engine/technique/technique.hpp"

namespace glidewright {

/// What the eye reckons with.
struct EyeConfiguration {
  double flap_deg = 0.0;
  double slip = 0.0;
};

/// Ground distance still to be flown along the pattern to the touchdown point, and how much of it is turn.
struct PathToGo {
  double base_ft = 0.0;
  double turn_ft = 0.0;
  double final_along_ft = 0.0;  ///< place on the centreline where the final leg begins
};
PathToGo path_to_go(const FlightState& state, double turn_radius_ft);

/// Along-runway touchdown if the glide is carried on from here with this flap: energy height over drag, in
/// the mean wind, the turns to come included. Meant as the pilot's rule of thumb, within some 150 ft of the
/// integrator from the final leg.
double eye_touchdown_ft(const Flight& flight, const FlightState& state, const Technique& technique,
                        EyeConfiguration configuration);

}  // namespace glidewright

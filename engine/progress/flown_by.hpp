#pragma once
// Who flew an attempt: only what the student flew alone counts as the student's.

namespace glidewright {

enum class FlownBy {
  student,           ///< alone, and nobody said what to do
  student_prompted,  ///< the student's hands, told what to do
  instructor,
  controls_taken,  ///< begun by the student; the instructor took over
  not_alone        ///< said before the kinds were told apart: not the student alone, and no more
};

}  // namespace glidewright

#pragma once
// An invented lesson for the demonstration: what is flown today, and who learns.

#include <string>
#include <string_view>
#include <vector>

#include "formats/result.hpp"

namespace glidewright {

struct LessonStudent {
  std::string name;
  double landings_so_far = 0.0;
  std::string note;
};

struct Lesson {
  bool invented = false;
  std::string description;
  std::string date;
  std::string runway_file;  ///< beside the lesson's own file
  double touchdown_point_ft = 1000.0;
  std::string traffic = "left";
  std::string airplane;
  std::string wind;
  double temperature_c = 15.0;
  double altimeter_hpa = 1013.25;
  std::string standard;
  std::vector<LessonStudent> students;
};

/// Reads `glidewright.lesson/1`; unknown fields are an error.
Result<Lesson> read_lesson_json(std::string_view bytes, std::string_view name);

}  // namespace glidewright

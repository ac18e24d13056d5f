#include "formats/lesson_json.hpp"

#include "formats/json_reader.hpp"

namespace glidewright {
namespace {

LessonStudent read_student(JsonFields& fields) {
  LessonStudent student;
  student.name = fields.text("name");
  student.landings_so_far = fields.number("landings_so_far", {0.0, 100000.0});
  student.note = fields.text("note");
  fields.refuse_unknown_fields();
  return student;
}

Lesson read_lesson(JsonFields& fields) {
  Lesson lesson;
  fields.expect_schema("glidewright.lesson/1");
  lesson.invented = fields.flag("invented");
  lesson.description = fields.text("description");
  lesson.date = fields.text("date");
  lesson.runway_file = fields.text("runway");
  lesson.touchdown_point_ft = fields.number("touchdown_point_ft", {0.0, 10000.0});
  lesson.traffic = fields.text("traffic");
  if (lesson.traffic != "left" && lesson.traffic != "right") {
    fields.add_problem("traffic", "traffic '" + lesson.traffic + "'; expected left or right");
  }
  lesson.airplane = fields.text("airplane");
  lesson.wind = fields.text("wind");
  lesson.temperature_c = fields.number("temperature_c", {-60.0, 60.0});
  lesson.altimeter_hpa = fields.number("altimeter_hpa", {850.0, 1090.0});
  lesson.standard = fields.text("standard");
  for (auto& student : fields.objects("students")) lesson.students.push_back(read_student(student));
  return lesson;
}

}  // namespace

Result<Lesson> read_lesson_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, read_lesson);
}

}  // namespace glidewright

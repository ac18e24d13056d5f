#include "formats/words/sentences.hpp"

#include <vector>

namespace glidewright {
namespace {

std::string flown_by_words(FlownBy flown_by) {
  switch (flown_by) {
    case FlownBy::student:
      return "flown by the student alone";
    case FlownBy::student_prompted:
      return "flown by the student with prompts";
    case FlownBy::instructor:
      return "flown by the instructor";
    case FlownBy::controls_taken:
      return "the instructor took the controls";
  }
  return "";
}

}  // namespace

std::string debrief_safety_sentence() {
  return "A teaching aid, never guidance in flight. The handbook, local procedures, the pilot in command and "
         "the "
         "supervising instructor prevail.";
}

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::does_not_meet:
      return "does not meet";
    case Verdict::cannot_tell:
      return "this log cannot tell";
    case Verdict::not_demonstrated:
      return "not demonstrated";
    case Verdict::not_graded:
      return "not graded";
  }
  return "";
}

std::string marks_sentence(const AttemptMarks& marks) {
  std::vector<std::string> said;
  if (marks.flown_by) said.push_back(flown_by_words(*marks.flown_by));
  if (marks.go_around_forced) said.emplace_back("the go-around was forced from outside and does not count");
  if (!marks.note.empty()) said.push_back(marks.note);
  if (!marks.marked_by.empty()) said.push_back("by " + marks.marked_by);
  std::string sentence;
  for (const auto& part : said) sentence += (sentence.empty() ? "" : "; ") + part;
  return sentence;
}

std::string_view file_name_of(std::string_view path) {
  return path.substr(path.rfind('/') + 1);  // npos + 1 is 0
}

}  // namespace glidewright

#include "apps/cli/inputs/asked_debrief.hpp"

#include <algorithm>
#include <map>

#include "apps/cli/commands/brief.hpp"
#include "apps/cli/commands/record/new_flight.hpp"
#include "apps/cli/inputs/data_folder.hpp"
#include "apps/cli/inputs/fleet.hpp"
#include "apps/cli/inputs/working_folder.hpp"
#include "formats/file.hpp"
#include "formats/json_write.hpp"
#include "formats/replace_all.hpp"

namespace glidewright {
namespace {

/// The id of something in the data folder, and nothing that could be the name of a file elsewhere.
bool is_id(const std::string& text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

/// "AB12/27L", or the five numbers of a runway.
bool is_runway_text(const std::string& text) {
  const bool plain = !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '/' || c == ',' || c == '.' ||
           c == '+' || c == ' ';
  });
  return plain && text.find("..") == std::string::npos && text.front() != '/' && text.front() != '.' &&
         (text.find('/') == std::string::npos || std::count(text.begin(), text.end(), '/') == 1);
}

struct Asked {
  DebriefOptions options;
  std::string standard;
  std::map<std::string, std::string> files;  ///< what was sent whole, by the option that names it
  std::string wrong;
};

class Reading {
 public:
  explicit Reading(const std::string& text) {
    asked_.wrong.clear();
    const Json object = Json::parse(text, nullptr, false);
    if (!object.is_object()) {
      asked_.wrong = "how to debrief the log: a JSON object was expected";
      return;
    }
    for (const auto& [name, value] : object.items()) read(name, value);
  }
  Asked asked() { return std::move(asked_); }

 private:
  void complain(const std::string& name, const std::string& expected) {
    if (asked_.wrong.empty()) asked_.wrong = name + ": " + expected + " was expected";
  }
  void read_id(const std::string& name, const Json& value, std::string& into) {
    if (value.is_string() && is_id(value.get<std::string>()))
      into = value.get<std::string>();
    else
      complain(name, "an id such as demo-trainer");
  }
  void read_text(const std::string& name, const Json& value, std::string& into) {
    if (value.is_string())
      into = value.get<std::string>();
    else
      complain(name, "a text");
  }
  void read_whole(const std::string& name, const Json& value) {
    if (value.is_object())
      asked_.files[name] = value.dump();
    else
      complain(name, "an object");
  }
  void read(const std::string& name, const Json& value) {
    if (name == "runway") {
      if (value.is_string() && is_runway_text(value.get<std::string>()))
        asked_.options.runway = value.get<std::string>();
      else if (value.is_object())
        read_whole(name, value);
      else
        complain(name, "AIRFIELD/DESIGNATOR, lat,lon,true-bearing,elevation-ft,length-ft or an object");
    } else if (name == "airplane") {
      if (value.is_object())
        read_whole(name, value);
      else
        read_id(name, value, asked_.options.airplane);
    } else if (name == "fleet_airplane" || name == "airfield") {
      // Found in the records by whoever debriefs.
      std::string given;
      read_text(name, value, given);
      if (asked_.wrong.empty() && given.empty()) complain(name, "a name");
    } else if (name == "plan" || name == "marks") {
      read_whole(name, value);
    } else if (name == "standard") {
      read_id(name, value, asked_.standard);
    } else if (name == "wind") {
      read_text(name, value, asked_.options.wind);
    } else if (name == "metar") {
      read_text(name, value, asked_.options.metar);
    } else if (name == "height_unit") {
      if (value == "ft" || value == "m")
        asked_.options.height_unit = value.get<std::string>();
      else
        complain(name, "ft or m");
    } else if (name == "touchdown_point_ft") {
      if (value.is_number())
        asked_.options.touchdown_point_ft = value.get<double>();
      else
        complain(name, "a number of feet");
    } else {
      complain(name,
               "runway, airfield, touchdown_point_ft, height_unit, airplane, fleet_airplane, wind, metar, "
               "standard, plan or marks, not this,");
    }
  }

  Asked asked_;
};

std::optional<Error> lay_down(const WorkingFolder& folder, Asked& asked) {
  const std::map<std::string, std::string*> places = {{"runway", &asked.options.runway},
                                                      {"airplane", &asked.options.airplane},
                                                      {"plan", &asked.options.plan},
                                                      {"marks", &asked.options.marks}};
  for (const auto& [name, content] : asked.files) {
    *places.at(name) = folder.file(name + ".json");
    if (const auto failed = write_file_atomically(*places.at(name), content)) return failed;
  }
  return std::nullopt;
}

std::optional<Error> take_what_is_known(const KnownToRecords& known, DebriefOptions& options) {
  // What is asked now stands above what was told before.
  if (options.height_unit.empty()) options.height_unit = known.height_unit;
  options.known_marks = known.marks;
  if (known.airplane) {
    auto airplane = airplane_file_of(*known.airplane);
    if (!airplane) return airplane.error();
    options.fleet_airplane = std::move(*airplane);
  }
  if (known.airfield) {
    const auto runway = runway_of(*known.airfield, known.designator);
    if (!runway) return runway.error();
    options.fleet_runway = *runway;
  }
  return std::nullopt;
}

/// The data folder's, or what the records keep of that name.
Result<StandardFile> standard_asked_for(const std::string& id, const KnownToRecords& known) {
  auto file = find_standard_file(id.empty() ? k_usual_standard : id);
  if (file || !known.standard) return file;
  return StandardFile{id, known.standard->content, known.standard->standard};
}

}  // namespace

std::string wrong_with_asked(const std::string& text) {
  return Reading(text).asked().wrong;
}

Result<NewFlight> debrief_as_asked(const std::string& log_name, const std::string& log_bytes,
                                   const std::string& text, const KnownToRecords& known) {
  Asked asked = Reading(text).asked();
  if (!asked.wrong.empty()) return Error{asked.wrong};
  const auto standard = standard_asked_for(asked.standard, known);
  if (!standard) return standard.error();
  if (const auto failed = take_what_is_known(known, asked.options)) return *failed;
  const WorkingFolder folder;
  if (const auto failed = lay_down(folder, asked)) return *failed;
  const std::string file = folder.file("log");
  if (const auto failed = write_file_atomically(file, log_bytes)) return *failed;
  auto flight = new_flight(file, log_name, asked.options, *standard);
  if (flight) return flight;
  std::string sentence = flight.error().sentence;
  replace_all(sentence, file, log_name);
  replace_all(sentence, folder.file(""), "");
  return Error{sentence};
}

}  // namespace glidewright

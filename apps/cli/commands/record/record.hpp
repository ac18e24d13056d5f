#pragma once
// What the parts of `record` share.

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "apps/cli/commands/commands.hpp"
#include "apps/cli/commands/debrief.hpp"
#include "apps/cli/commands/fit.hpp"
#include "store/records.hpp"

namespace glidewright::record {

/// Options of all the parts, as typed.
struct Options {
  std::string records;
  std::string by;
  std::string student;
  std::string name;
  std::string attempt;
  std::string note;
  std::string reason;
  std::string text;
  std::string flown_by;             ///< as flown_by_name says it; empty as it was
  std::string forced, met, in_box;  ///< yes or no; empty as it was
  std::string file;
  std::string standard;
  std::string search;
  std::string signed_by, signed_on, withdraw;
  std::string certificate;
  std::vector<std::string> students;
  std::vector<std::string> files;
  std::optional<double> years;
  std::optional<double> count, seed;  ///< of a drill
  std::optional<double> part_mb;      ///< of an archive
  bool add_student = false;
  bool all = false;
  bool trash = false;
  bool replace = false;
  bool although_kept = false;
  bool json = false;
  DebriefOptions debrief;
  FitAir fit_air;
};

using Shared = std::shared_ptr<Options>;
using Run = ExitCode (*)(const Options&);

Stamp stamp_of(const Options& options);

/// A part of `record` with its --records.
Command part(const Command& record, const Shared& options, const char* name, const char* what, Run run);
void add_by(const Command& command, const Shared& options);
void add_student_argument(const Command& command, const Shared& options);
void add_standard(const Command& command, const Shared& options);

/// Opens records that are there, and finds the student of the options in them.
struct Opened {
  Records records;
  Student student;
};
Result<Opened> open_for_student(const Options& options);

/// "3 notes", "1 note".
std::string counted(int count, const std::string& one);

void add_students(const Command& record, const Shared& options);
void add_flights(const Command& record, const Shared& options);
void add_attempts(const Command& record, const Shared& options);
void add_notes(const Command& record, const Shared& options);
void add_drills(const Command& record, const Shared& options);
void add_own_drill(const Command& record, const Shared& options);
void add_trash(const Command& record, const Shared& options);
void add_fleet(const Command& record, const Shared& options);
void add_fleet_fit(const Command& airplane, const Shared& options);
void add_standards(const Command& record, const Shared& options);
void add_archives(const Command& record, const Shared& options);
void add_deletion(const Command& record, const Shared& options);
void add_upkeep(const Command& record, const Shared& options);

}  // namespace glidewright::record

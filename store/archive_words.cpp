// The archive for people: a table for a spreadsheet, and a page to read.
#include <fmt/format.h>

#include "formats/flown_by.hpp"
#include "formats/report/markup.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"
#include "store/archive_json.hpp"

namespace glidewright {
namespace {

/// RFC 4180. A leading sign that begins a formula is set off: whoever opens the table must not run what a
/// name says.
std::string cell(const std::string& text) {
  std::string safe = text;
  if (!safe.empty() && std::string_view("=+-@\t\r").find(safe.front()) != std::string_view::npos)
    safe.insert(safe.begin(), '\'');
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string quoted = "\"";
  for (const char c : safe) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string cell(const std::optional<double>& value, int decimals) {
  return value ? fmt::format("{:.{}f}", *value, decimals) : std::string();
}

/// Of a house standard; a published one's edition would only say its name once more.
std::string version_of(const std::vector<KeptStandard>& standards, const Assessment& one) {
  for (const KeptStandard& kept : standards)
    if (kept.sha256 == one.standard_sha256) return kept.standard.version;
  return {};
}

std::string row(const StudentArchive& student, const FiledAttempt& attempt, const Assessment& one) {
  const Circumstances& how = one.circumstances;
  std::string text = cell(student.student.name) + ',' + iso8601_utc(attempt.time_unix_s, 0);
  text += fmt::format(",{},{},{},{}", cell(attempt.log_name), attempt.index, cell(one.standard_id),
                      one.rated.end == RatedAttempt::End::went_around ? "went-around" : "landed");
  text += fmt::format(",{:.3f},{:.3f}", one.rated.probability_met, one.rated.probability_in_box);
  for (const auto& value : {how.along_ft, how.along_low95_ft, how.along_high95_ft, how.touchdown_point_ft})
    text += ',' + cell(value, 0);
  text += ',' + cell(how.runway) + ',' + cell(how.airplane) + ',' + cell(how.wind_kt, 1) + ',' +
          cell(how.wind_from_true_deg, 0);
  text += ',' + cell(how.largest_cause) + ',' + cell(how.largest_cause_ft, 0);
  text += fmt::format(",{},{},{}", one.rated.student_alone() ? "yes" : "no", one.rated.forced ? "yes" : "no",
                      attempt.in_trash ? "yes" : "no");
  return text + ',' + cell(one.stamp.by) + ',' + cell(one.reason) + ',' +
         cell(version_of(student.standards, one)) + ',' + flown_by_name(one.rated.flown_by) + "\r\n";
}

using report::element;
using report::escaped;

std::string met_words(const RatedAttempt& rated) {
  if (rated.end == RatedAttempt::End::went_around)
    return rated.forced ? "went around, forced" : "went around";
  if (rated.probability_met >= 0.995) return "met";
  if (rated.probability_met <= 0.005) return "not met";
  return chance_in_20(rated.probability_met) + " that it met";
}

std::string standard_words(const std::vector<KeptStandard>& standards, const Assessment& one) {
  const std::string version = version_of(standards, one);
  return version.empty() ? one.standard_id : one.standard_id + ", version " + version;
}

std::string attempt_row(const StudentArchive& student, const FiledAttempt& attempt, const Assessment& now) {
  const Circumstances& how = now.circumstances;
  std::string touchdown = "–";
  if (how.along_ft && how.along_low95_ft && how.along_high95_ft)
    touchdown = feet_with_interval(*how.along_ft, *how.along_low95_ft, *how.along_high95_ft) + " ft";
  const std::string time = iso8601_utc(attempt.time_unix_s, 0);
  std::string said = now.rated.student_alone() ? "" : flown_by_words(now.rated.flown_by);
  if (attempt.in_trash) said += std::string(said.empty() ? "" : ", ") + "in the trash";
  if (!now.reason.empty()) said += (said.empty() ? "" : "; ") + now.reason;
  std::string cells;
  for (const std::string& text :
       {std::to_string(attempt.number), time.substr(0, 10) + " " + time.substr(11, 5), how.runway,
        met_words(now.rated), touchdown, standard_words(student.standards, now), now.stamp.by, said})
    cells += element("td", "", text);
  return "<tr>" + cells + "<td><a href=\"logs/" + escaped(attempt.log_sha256) + "\" download=\"" +
         escaped(attempt.log_name) + "\">" + escaped(attempt.log_name) + "</a></td></tr>\n";
}

/// One row of each standard: the assessment that counts.
std::string attempt_rows(const StudentArchive& student, const FiledAttempt& attempt) {
  std::string html;
  for (const Assessment& one : attempt.assessments)
    if (newest_by(attempt, one.standard_id) == &one) html += attempt_row(student, attempt, one);
  return html;
}

std::string student_section(const StudentArchive& one) {
  std::string html = "<section>" + element("h2", "", one.student.name);
  if (one.attempts.empty()) html += element("p", "", "No attempts.");
  if (!one.attempts.empty()) {
    html += "<table><thead><tr>";
    for (const char* title : {"No.", "Flown (UTC)", "Runway", "Standard met", "Touchdown past the point",
                              "Standard", "Judged by", "Said", "Log"})
      html += element("th", "", title);
    html += "</tr></thead><tbody>\n";
    for (const FiledAttempt& attempt : one.attempts) html += attempt_rows(one, attempt);
    html += "</tbody></table>";
  }
  const auto list = [&](const char* title, const std::vector<std::string>& lines) {
    if (lines.empty()) return;
    html += element("h3", "", title) + "<ul>";
    for (const std::string& line : lines) html += element("li", "", line);
    html += "</ul>";
  };
  std::vector<std::string> notes, sign_offs;
  for (const Note& note : one.notes)
    if (!note.in_trash)
      notes.push_back(fmt::format(
          "{}, {}{}: {}", iso8601_utc(note.stamp.unix_s, 0).substr(0, 10), note.stamp.by,
          note.attempt ? fmt::format(", of attempt {}", *note.attempt) : std::string(), note.text));
  for (const SignOff& sign_off : one.sign_offs)
    sign_offs.push_back(fmt::format("{}: {}, {}{}", sign_off.signed_on, sign_off.what,
                                    sign_off.withdraws.empty() ? "signed by " : "withdrawn by ",
                                    sign_off.signed_by));
  list("Notes", notes);
  list("Sign-offs", sign_offs);
  return html + "</section>\n";
}

std::string fleet_section(const std::vector<FleetItem>& fleet) {
  if (fleet.empty()) return {};
  std::string html = "<section>" + element("h2", "", "Airplanes and airfields") + "<ul>";
  for (const FleetItem& one : fleet) {
    const FleetVersion& now = one.versions.back();
    html += element("li", "",
                    fmt::format("{}, {}{}: version {} of {}, by {}{}{}", one.name, name_of(one.kind),
                                one.in_trash ? ", in the trash" : "", one.versions.size(),
                                iso8601_utc(now.stamp.unix_s, 0).substr(0, 10), now.stamp.by,
                                now.reason.empty() ? "" : ": ", now.reason));
  }
  return html + "</ul></section>\n";
}

std::string limits_words(const Standard& standard) {
  if (!standard.box) return "no limit in feet";
  return box_words(*standard.box) + " past the point" +
         (standard.limit_seen ? "" : ", by hearsay and never judged by");
}

std::string standards_section(const std::vector<KeptStandard>& standards) {
  if (standards.empty()) return {};
  std::string html = "<section>" + element("h2", "", "Standards") + "<ul>";
  for (const KeptStandard& kept : standards) {
    const Standard& one = kept.standard;
    html += element("li", "",
                    fmt::format("{}: {}, {}{}{}, {}; {}", one.id, one.name, one.edition,
                                one.version.empty() ? "" : (one.edition.empty() ? "version " : ", version "),
                                one.version.empty() ? "" : one.version + ", set by " + one.set_by, one.clause,
                                limits_words(one)));
  }
  return html + "</ul></section>\n";
}

constexpr const char* k_style =
    "body{margin:0 auto;max-width:1100px;padding:24px;background:#F7F8F3;color:#1A211E;font:13px/1.45 "
    "system-ui,sans-serif}h1{font-size:22px;border-bottom:1.6px solid}h2{font-size:17px;margin:28px 0 4px}"
    "h3{font-size:13px;margin:12px 0 2px}table{border-collapse:collapse;width:100%}th,td{text-align:left;"
    "vertical-align:top;padding:4px 10px 4px 0;border-bottom:.6px solid "
    "#CDD3CB}th{color:#66706A;font-weight:400}"
    "ul{margin:0;padding-left:18px;white-space:pre-line}a{color:inherit}";

}  // namespace

std::string attempts_csv(const std::vector<StudentArchive>& students) {
  std::string text =
      "student,time_utc,log,index,standard,end,probability_met,probability_in_box,along_ft,along_low95_ft,"
      "along_high95_ft,touchdown_point_ft,runway,airplane,wind_kt,wind_from_true_deg,largest_cause,"
      "largest_cause_ft,student_alone,forced,in_trash,judged_by,reason,standard_version,flown_by\r\n";
  for (const StudentArchive& student : students)
    for (const FiledAttempt& attempt : student.attempts)
      for (const Assessment& one : attempt.assessments)
        if (newest_by(attempt, one.standard_id) == &one) text += row(student, attempt, one);
  return text;
}

std::string archive_index_html(const Archive& archive) {
  std::string html =
      "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width\"><title>Records of students</title><style>";
  html += k_style;
  html += "</style></head><body>" + element("h1", "", "Records of students") +
          element("p", "",
                  fmt::format("Written out {} by {}. All of it stands in records.json; the logs lie in logs/ "
                              "by their SHA-256, as they were filed.",
                              iso8601_utc(archive.made.unix_s, 0), archive.made.by)) +
          "\n";
  for (const StudentArchive& one : archive.students) html += student_section(one);
  html += standards_section(archive.standards);
  html += fleet_section(archive.fleet);
  return html + "</body></html>\n";
}

}  // namespace glidewright

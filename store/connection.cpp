#include "store/connection.hpp"

#include <fmt/format.h>

namespace glidewright {
namespace {

constexpr std::size_t k_longest_text = 10000;

bool blank(const std::string& text) {
  return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

/// Bytes of the UTF-8 character that begins with `lead`; 0 where none does. Source: RFC 3629, section 4.
std::size_t length_of_character(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead < 0xE0) return 2;
  if (lead >= 0xE0 && lead < 0xF0) return 3;
  if (lead >= 0xF0 && lead < 0xF5) return 4;
  return 0;
}

/// A second byte that would spell a character longer than needed, a surrogate or beyond U+10FFFF.
bool wrong_second(unsigned char lead, unsigned char second) {
  return (lead == 0xE0 && second < 0xA0) || (lead == 0xED && second >= 0xA0) ||
         (lead == 0xF0 && second < 0x90) || (lead == 0xF4 && second >= 0x90);
}

bool is_utf8(const std::string& text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = length_of_character(lead);
    if (length == 0 || i + length > text.size()) return false;
    for (std::size_t k = 1; k < length; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return false;
    if (length > 2 && wrong_second(lead, static_cast<unsigned char>(text[i + 1]))) return false;
    i += length;
  }
  return true;
}

}  // namespace

void come_back(Records::Connection& records) {
  if (!records.lost) return;
  records.sql.close();
  open_database(records.sql, records.where);
  records.lost = false;
}

Error database_error(const std::string& shown, const std::exception& error) {
  std::string said = error.what();
  while (!said.empty() && (said.back() == '\n' || said.back() == ' ')) said.pop_back();
  for (char& c : said)
    if (c == '\n') c = ' ';
  // It names the file no backup has yet; whoever has one should know that it helps.
  const bool damaged =
      said.find("malformed") != std::string::npos || said.find("not a database") != std::string::npos;
  return {shown + ": the records cannot be used: " + said +
          (damaged ? "; `record restore` brings a backup back" : "")};
}

void require_signed(const Stamp& stamp) {
  if (blank(stamp.by)) throw Refusal("a change to the records needs the name of who makes it");
  require_text("the name of who makes a change", stamp.by);
}

void require_text(const std::string& what, const std::string& text) {
  if (blank(text) || text.size() > k_longest_text)
    throw Refusal(fmt::format("{}: a text of 1 to {} bytes was expected", what, k_longest_text));
  if (text.find('\0') != std::string::npos || !is_utf8(text)) throw Refusal(what + ": is no text in UTF-8");
}

void require_student(Records::Connection& records, long long student) {
  hold_student(records.sql, records.kind, student);
  int there = 0, in_trash = 0;
  records.sql << "select count(*), coalesce(max(in_trash), 0) from students where number = :student",
      soci::use(student), soci::into(there), soci::into(in_trash);
  if (there == 0) throw Refusal(fmt::format("no student has the number {}", student));
  if (in_trash != 0)
    throw Refusal(fmt::format("student {} is in the trash; `record undo` takes it out again", student));
}

void write_down(soci::session& sql, long long student, const std::string& what, const std::string& kind,
                long long number, const Stamp& stamp) {
  sql << "insert into changes(student, what, kind, of_what, made_by, made_unix_s)"
         " values(:student, :what, :kind, :number, :by, :at)",
      soci::use(student), soci::use(what), soci::use(kind), soci::use(number), soci::use(stamp.by),
      soci::use(stamp.unix_s);
}

}  // namespace glidewright

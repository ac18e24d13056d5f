#pragma once
// What differs between SQLite and PostgreSQL, in one place.

#include <optional>
#include <string>

#include "formats/result.hpp"
#include "store/sql.hpp"

namespace glidewright {

enum class DatabaseKind { sqlite, postgresql };

/// "postgresql://..." or "postgres://..." is a server, anything else a file.
DatabaseKind kind_of(const std::string& where);

/// The address as it may be shown: without its password.
std::string without_password(const std::string& where);

/// Opens it and sets it up for the records. Throws what SOCI throws.
void open_database(soci::session& sql, const std::string& where);

/// A statement that makes tables, with {id}, {int}, {long}, {real}, {text} and {bytes} as the database calls
/// them.
std::string in_dialect(const std::string& statement, DatabaseKind kind);

/// The UTC day of a column of seconds since 1970, as a whole number; `seconds` is no text of a person's.
std::string day_of(const std::string& seconds, DatabaseKind kind);

/// Which numbered form the tables have; 0 for none.
int form_of(soci::session& sql, DatabaseKind kind);
void set_form(soci::session& sql, DatabaseKind kind, int form);

/// Holds others back who would write the same: SQLite the whole file, PostgreSQL nobody yet (see
/// hold_student).
void begin_writing(soci::session& sql, DatabaseKind kind);
/// Nobody else changes what belongs to this student until the end of the transaction.
void hold_student(soci::session& sql, DatabaseKind kind, long long student);
/// The same for an airplane or airfield: a row of `table`, which is no text of a person's.
void hold_row(soci::session& sql, DatabaseKind kind, const char* table, long long number);
/// Nobody else brings the tables forward at the same time.
void hold_tables(soci::session& sql, DatabaseKind kind);

/// Where bytes lie by their SHA-256: logs that are filed, and those that wait for their debrief.
enum class BytesOf { logs, waiting_logs };
/// Does nothing where the log is there already.
bool insert_log(soci::session& sql, DatabaseKind kind, const std::string& sha256, const std::string& bytes,
                BytesOf table = BytesOf::logs);
std::optional<std::string> read_log(soci::session& sql, DatabaseKind kind, const std::string& sha256,
                                    BytesOf table = BytesOf::logs);

/// "" where the database finds itself whole, else what it says.
std::string what_is_damaged(soci::session& sql, DatabaseKind kind);

}  // namespace glidewright

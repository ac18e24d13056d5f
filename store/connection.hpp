#pragma once
// What the sources of the records share; the only header that shows SQL's side.

#include <exception>
#include <optional>
#include <string>

#include "store/records.hpp"
#include "store/sql.hpp"

namespace glidewright {

struct Records::Connection {
  std::string file;
  soci::session sql;
};

/// Holds the lock for writing from the start, so that two programs wait for one another instead of failing
/// half-way; takes everything back unless `commit` was reached.
class Writing {
 public:
  explicit Writing(soci::session& sql) : sql_(sql) { sql_ << "begin immediate"; }
  ~Writing() {
    if (done_) return;
    try {
      sql_ << "rollback";
    } catch (const std::exception&) {
      // The database has taken it back by itself, as it does when the disk is full.
    }
  }
  Writing(const Writing&) = delete;
  Writing& operator=(const Writing&) = delete;
  void commit() {
    sql_ << "commit";
    done_ = true;
  }

 private:
  soci::session& sql_;
  bool done_ = false;
};

/// SOCI gives a column of whole numbers the type that its declaration names, and refuses to hand it out as
/// another.
inline long long whole_number(const soci::row& row, const std::string& column) {
  return row.get_properties(column).get_data_type() == soci::dt_integer ? row.get<int>(column)
                                                                        : row.get<long long>(column);
}

/// What the database says, as an error of the records' file.
inline Error database_error(const std::string& file, const std::exception& error) {
  return {file + ": the records cannot be used: " + error.what()};
}

/// The time and name that every change needs.
std::optional<Error> unsigned_change(const Stamp& stamp);

}  // namespace glidewright

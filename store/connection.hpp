#pragma once
// What the sources of the records share; the only header that shows SQL's side.

#include <exception>
#include <optional>
#include <stdexcept>
#include <string>

#include "store/database.hpp"
#include "store/records.hpp"

namespace glidewright {

struct Records::Connection {
  std::string where;
  std::string shown;  ///< the same without its password, for sentences
  DatabaseKind kind = DatabaseKind::sqlite;
  soci::session sql;
  bool lost = false;    ///< the server went away, as far as anybody can tell
  bool failed = false;  ///< the last call ended because the database did not do its part
};

/// A transaction that writes: takes everything back unless `commit` was reached.
class Writing {
 public:
  Writing(soci::session& sql, DatabaseKind kind) : sql_(sql) { begin_writing(sql_, kind); }
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

/// A reader's error inside a transaction, on its way out.
struct Refusal : std::runtime_error {
  explicit Refusal(const std::string& sentence) : std::runtime_error(sentence) {}
};

/// What the database says, as an error of the records.
Error database_error(const std::string& shown, const std::exception& error);

/// SOCI gives a column of whole numbers the type that its declaration names, and refuses to hand it out as
/// another.
inline long long whole_number(const soci::row& row, const std::string& column) {
  return row.get_properties(column).get_data_type() == soci::dt_integer ? row.get<int>(column)
                                                                        : row.get<long long>(column);
}
inline bool is_null(const soci::row& row, const std::string& column) {
  return row.get_indicator(column) == soci::i_null;
}
inline std::optional<double> optional_real(const soci::row& row, const std::string& column) {
  return is_null(row, column) ? std::nullopt : std::optional<double>(row.get<double>(column));
}
inline std::optional<bool> optional_flag(const soci::row& row, const std::string& column) {
  return is_null(row, column) ? std::nullopt : std::optional<bool>(whole_number(row, column) != 0);
}

/// A value that may be missing, as SOCI binds it; must outlive the statement.
template <class Value>
struct Nullable {
  Nullable() = default;
  template <class Given>
  explicit Nullable(const std::optional<Given>& given)
      : value(given ? static_cast<Value>(*given) : Value{}), indicator(given ? soci::i_ok : soci::i_null) {}
  Value value{};
  soci::indicator indicator = soci::i_null;
};

/// The time and name that every change needs, as a refusal.
void require_signed(const Stamp& stamp);
/// Text that both databases keep as it is: UTF-8, no zero byte, not blank, at most 10,000 bytes.
void require_text(const std::string& what, const std::string& text);
/// That this student is there and not in the trash; held until the end of the transaction.
void require_student(Records::Connection& records, long long student);
/// Writes down who did what; `student` owns it.
void write_down(soci::session& sql, long long student, const std::string& what, const std::string& kind,
                long long number, const Stamp& stamp);

/// Connects again where the server went away since.
void come_back(Records::Connection& records);

/// Runs `work`, which returns what the caller wants; what is thrown becomes the error.
template <class Value, class Work>
Result<Value> answer(Records::Connection& records, Work work) {
  records.failed = false;
  try {
    come_back(records);
    return work();
  } catch (const Refusal& refusal) {
    return Error{refusal.what()};
  } catch (const std::exception& error) {
    records.lost = records.kind == DatabaseKind::postgresql;
    records.failed = true;
    return database_error(records.shown, error);
  }
}

/// The same for work that has nothing to return.
template <class Work>
std::optional<Error> done_or_error(Records::Connection& records, Work work) {
  const auto done = answer<bool>(records, [&] {
    work();
    return true;
  });
  return done ? std::nullopt : std::optional<Error>(done.error());
}

}  // namespace glidewright

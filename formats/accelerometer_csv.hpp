#pragma once
// A phone's accelerometer from a CSV, row by row: any length, a few megabytes.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/accelerometer/accelerometer.hpp"
#include "formats/result.hpp"

namespace glidewright {

struct CsvMapping;

/// Does a header among the first lines name three axes of acceleration, and nothing that a track log or a
/// panel has?
bool looks_like_accelerometer(std::string_view first_bytes);

/// Bytes in, in pieces of any size; keeps tenths of seconds only.
///
/// Header names as csv_columns.hpp knows them, or as a mapping says. Times: UTC, seconds to nanoseconds since
/// 1970, or counted from anywhere; which unit shows in the numbers. Acceleration in m/s2 or g, with gravity
/// or without. 20 to 900 readings a second, at most 24 hours. Rows that cannot be read, or whose time falls
/// back, are left out and told; an error names line and column. From bare x, y and z without gravity nothing
/// tells that they are accelerations: refused.
class AccelerometerCsv {
 public:
  AccelerometerCsv(std::string name, const CsvMapping* mapping);
  ~AccelerometerCsv();

  /// What is wrong; none: go on.
  std::optional<Error> add(std::string_view bytes);
  Result<AccelerometerLog> finish();

 private:
  struct Rows;

  std::optional<Error> take_lines(bool last);

  std::string name_;
  const CsvMapping* mapping_;
  std::string pending_;  ///< bytes not yet cut into lines
  std::unique_ptr<Rows> rows_;
};

/// Whole bytes, packed or not.
Result<AccelerometerLog> read_accelerometer(std::string_view bytes, std::string_view name,
                                            const CsvMapping* mapping = nullptr);

}  // namespace glidewright

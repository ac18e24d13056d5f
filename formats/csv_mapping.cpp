#include "formats/csv_mapping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "formats/json_reader.hpp"
#include "formats/number.hpp"
#include "formats/shown.hpp"

namespace glidewright {
namespace {

constexpr JsonRange k_line{0.0, 1000.0};
constexpr std::size_t k_columns_allowed = 1000;
constexpr const char* k_schema = "glidewright.columns/1";

struct DateOrderName {
  DateOrder order;
  const char* name;
};
constexpr DateOrderName k_date_orders[] = {{DateOrder::year_month_day, "year-month-day"},
                                           {DateOrder::day_month_year, "day-month-year"},
                                           {DateOrder::month_day_year, "month-day-year"}};

std::string names_of_all_fields() {
  std::string names;
  for (std::size_t i = 0; i < static_cast<std::size_t>(CsvField::count); ++i)
    names += (i == 0 ? "" : ", ") + std::string(csv_field_name(static_cast<CsvField>(i)));
  return names;
}

std::string joined(const std::vector<std::string_view>& words) {
  std::string text;
  for (const auto word : words) text += (text.empty() ? "" : " or ") + std::string(word);
  return text;
}

MappedColumn read_column(JsonFields fields) {
  MappedColumn column;
  fields.replace_text("header", column.header);
  double number = 0.0;
  fields.replace_number("number", {1.0, static_cast<double>(k_columns_allowed)}, number);
  column.number = static_cast<std::size_t>(number);
  if (column.header.empty() == (column.number == 0))
    fields.add_problem("header", "a column is known by its header or by its number; expected one of the two");
  const auto is = fields.text("is");
  const auto field = csv_field_named(is);
  if (!field && !is.empty()) {
    fields.add_problem("is", fmt::format("is '{}'; expected one of {}", shown(is), names_of_all_fields()));
  }
  column.meaning.field = field.value_or(CsvField::time);
  std::string unit;
  fields.replace_text("unit", unit);
  const auto units = csv_units_of(column.meaning.field);
  if (units.empty()) {
    if (!unit.empty())
      fields.add_problem("unit", fmt::format("unit '{}' for {}, which has none", shown(unit), is));
  } else if (!set_csv_unit(column.meaning, unit.empty() ? units.front() : unit)) {
    fields.add_problem("unit", fmt::format("unit '{}' for {}; expected {}", shown(unit), is, joined(units)));
  }
  fields.refuse_unknown_fields();
  return column;
}

void read_separator(JsonFields& fields, CsvMapping& mapping) {
  std::string separator = ",";
  fields.replace_text("separator", separator);
  if (separator == "tab") separator = "\t";
  if (separator.size() == 1 && std::string_view(",;\t|").find(separator) != std::string_view::npos) {
    mapping.separator = separator.front();
  } else {
    fields.add_problem("separator", fmt::format("separator '{}'; expected , ; | or tab", shown(separator)));
  }
  std::string decimal = "point";
  fields.replace_text("decimal", decimal);
  if (decimal != "point" && decimal != "comma")
    fields.add_problem("decimal", fmt::format("decimal '{}'; expected point or comma", shown(decimal)));
  mapping.decimal = decimal == "comma" ? DecimalMark::comma : DecimalMark::point;
}

void read_lines(JsonFields& fields, CsvMapping& mapping) {
  double header_line = 1.0;
  fields.replace_number("header_line", k_line, header_line);
  double first_row_line = header_line + 1.0;
  fields.replace_number("first_row_line", {1.0, 1001.0}, first_row_line);
  if (first_row_line <= header_line)
    fields.add_problem("first_row_line", "first_row_line is not below header_line; expected a later line");
  mapping.header_line = static_cast<std::size_t>(header_line);
  mapping.first_row_line = static_cast<std::size_t>(first_row_line);
}

void read_times(JsonFields& fields, CsvMapping& mapping) {
  std::string zone, order = k_date_orders[0].name, date;
  fields.replace_text("time_zone", zone);
  fields.replace_text("date_order", order);
  fields.replace_text("date", date);
  if (!zone.empty()) {
    mapping.utc_offset_s = read_utc_offset(zone);
    if (!mapping.utc_offset_s) {
      fields.add_problem(
          "time_zone",
          fmt::format("time_zone '{}'; expected UTC or hours ahead of it such as +02:00", shown(zone)));
    }
  }
  const auto known = std::find_if(std::begin(k_date_orders), std::end(k_date_orders),
                                  [&](const DateOrderName& one) { return one.name == order; });
  if (known != std::end(k_date_orders)) {
    mapping.date_order = known->order;
  } else {
    fields.add_problem(
        "date_order",
        fmt::format("date_order '{}'; expected year-month-day, day-month-year or month-day-year",
                    shown(order)));
  }
  if (!date.empty()) {
    mapping.days = read_date(date);
    if (!mapping.days)
      fields.add_problem("date", fmt::format("date '{}'; expected one such as 2026-05-14", shown(date)));
  }
}

std::vector<std::string> cells_of(std::string_view line, char delimiter) {
  std::vector<std::string> cells;
  CsvFields fields(line, delimiter);
  for (auto field = fields.next(); field && cells.size() < k_columns_allowed; field = fields.next())
    cells.emplace_back(trim_blanks(*field));
  return cells;
}

std::string some_of(const std::vector<std::string>& names) {
  constexpr std::size_t k_named = 12;
  std::string text;
  for (std::size_t i = 0; i < std::min(names.size(), k_named); ++i)
    text += (text.empty() ? "'" : ", '") + shown(names[i]) + "'";
  return names.size() > k_named ? text + " ..." : text;
}

/// Byte at which a line (from 1) begins, and its text; nothing where the file is shorter.
struct FoundLine {
  std::size_t offset = 0;
  std::string_view text;
};
std::optional<FoundLine> find_line(std::string_view bytes, std::size_t number) {
  CsvLines lines(bytes);
  std::optional<std::string_view> line;
  for (std::size_t i = 0; i < number; ++i) {
    line = lines.next();
    if (!line) return std::nullopt;
  }
  return FoundLine{lines.offset(), line.value_or(std::string_view())};
}

}  // namespace

Result<CsvMapping> read_csv_mapping_json(std::string_view bytes, std::string_view name) {
  return read_json_object(bytes, name, [&](JsonFields& fields) {
    CsvMapping mapping;
    mapping.file = std::string(name);
    std::string description;
    fields.expect_schema(k_schema);
    fields.replace_text("description", description);
    read_separator(fields, mapping);
    read_lines(fields, mapping);
    read_times(fields, mapping);
    for (const auto& column : fields.objects("columns")) mapping.columns.push_back(read_column(column));
    for (std::size_t i = 0; i < mapping.columns.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (mapping.columns[i].meaning.field == mapping.columns[j].meaning.field)
          fields.add_problem("columns", fmt::format("two columns are {}; expected one",
                                                    csv_field_name(mapping.columns[i].meaning.field)));
      }
    }
    return mapping;
  });
}

Result<CsvHeader> csv_header_as_mapped(std::string_view bytes, std::string_view name,
                                       const CsvMapping& mapping) {
  CsvHeader header;
  header.delimiter = mapping.separator;
  header.decimal = mapping.decimal;
  header.date_order = mapping.date_order;
  header.utc_offset_s = mapping.utc_offset_s;
  header.days = mapping.days;
  header.header_line = mapping.header_line;
  header.first_row_line = mapping.first_row_line;

  std::vector<std::string> names;
  if (mapping.header_line > 0) {
    const auto line = find_line(bytes, mapping.header_line);
    if (!line)
      return Error{fmt::format("{}: has no line {}, where {} has the header row", name, mapping.header_line,
                               mapping.file)};
    auto text = line->text;
    if (!text.empty() && text.front() == '#') text.remove_prefix(1);
    names = cells_of(text, mapping.separator);
  }
  for (const auto& mapped : mapping.columns) {
    CsvColumn column = mapped.meaning;
    column.header = mapped.header;
    if (mapped.number > 0) {
      column.index = mapped.number - 1;
    } else {
      const auto at = std::find(names.begin(), names.end(), mapped.header);
      if (at == names.end()) {
        return Error{fmt::format("{}:{}: no column '{}', which {} names; the columns are {}", name,
                                 mapping.header_line, shown(mapped.header), mapping.file, some_of(names))};
      }
      column.index = static_cast<std::size_t>(at - names.begin());
    }
    header.columns.push_back(std::move(column));
  }
  std::sort(header.columns.begin(), header.columns.end(),
            [](const CsvColumn& a, const CsvColumn& b) { return a.index < b.index; });
  for (std::size_t i = 1; i < header.columns.size(); ++i) {
    if (header.columns[i].index == header.columns[i - 1].index)
      return Error{fmt::format("{}: column {} has two meanings; expected one", mapping.file,
                               header.columns[i].index + 1)};
  }
  if (!is_usable(header)) {
    return Error{
        fmt::format("{}: names no time with positions or panel columns; expected time, unix_time, or "
                    "time_of_day with a date, and latitude and longitude, a panel's value or an "
                    "accelerometer's three axes",
                    mapping.file)};
  }
  const auto first = find_line(bytes, mapping.first_row_line);
  header.rows_begin = first ? first->offset : bytes.size();
  return header;
}

Json csv_mapping_to_json(const CsvHeader& header) {
  Json object;
  object["schema"] = k_schema;
  object["separator"] = header.delimiter == '\t' ? "tab" : std::string(1, header.delimiter);
  object["decimal"] = header.decimal == DecimalMark::comma ? "comma" : "point";
  object["header_line"] = header.header_line;
  object["first_row_line"] = header.first_row_line;
  const int offset_s = header.utc_offset_s.value_or(0);
  const int minutes = std::abs(offset_s) / 60;
  object["time_zone"] =
      offset_s == 0 ? "UTC"
                    : fmt::format("{}{:02}:{:02}", offset_s < 0 ? "-" : "+", minutes / 60, minutes % 60);
  for (const auto& one : k_date_orders) {
    if (one.order == header.date_order) object["date_order"] = one.name;
  }
  if (header.days) object["date"] = iso8601_utc(86400.0 * static_cast<double>(*header.days), 0).substr(0, 10);
  object["columns"] = Json::array();
  for (const auto& column : header.columns) {
    Json one;
    if (column.header.empty()) {
      one["number"] = column.index + 1;
    } else {
      one["header"] = column.header;
    }
    one["is"] = csv_field_name(column.field);
    if (!column.unit.empty()) one["unit"] = column.unit;
    object["columns"].push_back(std::move(one));
  }
  return object;
}

Result<CsvColumnsShown> show_csv_columns(std::string_view bytes, std::string_view name,
                                         const CsvMapping* mapping) {
  auto header =
      mapping != nullptr ? csv_header_as_mapped(bytes, name, *mapping) : find_csv_header(bytes, name);
  if (!header) return header.error();
  CsvColumnsShown shown_columns{*std::move(header), {}};
  auto& guess = shown_columns.header;
  std::vector<std::string> names, values;
  if (const auto line = find_line(bytes, guess.header_line); line && guess.header_line > 0)
    names = cells_of(line->text, guess.delimiter);
  if (const auto line = find_line(bytes, guess.first_row_line))
    values = cells_of(line->text, guess.delimiter);
  names.resize(std::max(names.size(), values.size()));
  values.resize(names.size());
  for (std::size_t i = 0; i < names.size(); ++i)
    shown_columns.columns.push_back({names[i], values[i], std::nullopt});
  for (const auto& column : guess.columns) {
    if (column.index < shown_columns.columns.size()) shown_columns.columns[column.index].used = column;
    const bool number = column.field >= CsvField::latitude && column.field <= CsvField::flap;
    const bool comma = column.index < values.size() && values[column.index].find(',') != std::string::npos;
    if (number && comma && guess.decimal == DecimalMark::by_separator && guess.delimiter != ',')
      guess.decimal = DecimalMark::comma;
  }
  return shown_columns;
}

}  // namespace glidewright

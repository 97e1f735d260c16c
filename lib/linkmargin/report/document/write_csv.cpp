#include "linkmargin/report/document/write_csv.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/text/display_text.hpp"

#include <cmath>
#include <string_view>

namespace linkmargin {

std::string csv_text(std::string_view written) {
  const std::string text = printable_lines(written);
  constexpr std::string_view begins_a_formula = "=+-@\t\r";
  const bool formula = !text.empty() && begins_a_formula.find(text.front()) != begins_a_formula.npos;
  if (formula && !parse_number(text)) return csv_text("'" + text);
  if (text.find_first_of(",\"\r\n") == std::string_view::npos) return text;
  std::string field = "\"";
  for (const char letter : text) {
    if (letter == '"') field += '"';
    field += letter;
  }
  return field + "\"";
}

std::string csv_number(double number) {
  return std::isfinite(number) ? shortest_text(rounded_for_programs(number)) : std::string();
}

namespace {

std::string field(const Cell& cell) {
  if (const auto* text = std::get_if<std::string>(&cell.value)) return csv_text(*text + cell.tail);
  const auto* number = std::get_if<double>(&cell.value);
  return number == nullptr ? std::string() : csv_number(*number);
}

}  // namespace

std::string write_csv(const Table& table) {
  std::string text;
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    if (i > 0) text += ',';
    text += csv_text(table.columns[i].key);
  }
  text += kCsvLineEnd;
  for (const Row& row : table.rows) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      if (i > 0) text += ',';
      text += field(row.cells[i]);
    }
    text += kCsvLineEnd;
  }
  return text;
}

}  // namespace linkmargin

#include "linkmargin/report/document/write_csv.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/text/display_text.hpp"

#include <cmath>
#include <vector>

namespace linkmargin {

std::string csv_text(std::string_view written, const CsvStyle& style) {
  const std::string text = printable_lines(written);
  constexpr std::string_view begins_a_formula = "=+-@\t\r";
  const bool formula = !text.empty() && begins_a_formula.find(text.front()) != begins_a_formula.npos;
  if (formula && !parse_number(text)) return csv_text("'" + text, style);
  const bool plain = text.find(style.separator()) == text.npos && text.find_first_of("\"\r\n") == text.npos;
  if (plain) return text;
  std::string field = "\"";
  for (const char letter : text) {
    if (letter == '"') field += '"';
    field += letter;
  }
  return field + "\"";
}

void CsvWriter::number(double value, const KnownDigits& digits, std::optional<double> threshold) {
  if (!std::isfinite(value)) return none();
  std::string text =
      style_.precise ? shortest_text(rounded_for_programs(value)) : known_text(value, digits, threshold);
  if (style_.decimal_comma && text.find('.') != text.npos) text[text.find('.')] = ',';
  ready(text);
}

void CsvWriter::ready(std::string_view field) {
  if (within_) *text_ += style_.separator();
  text_->append(field);
  within_ = true;
}

void CsvWriter::end_line() {
  text_->append(kCsvLineEnd);
  within_ = false;
}

std::string write_csv(const Table& table, const CsvStyle& style) {
  std::string text(style.start());
  CsvWriter line(style, text);
  std::vector<KnownDigits> digits;
  for (const Column& column : table.columns) {
    line.text(column.key);
    digits.push_back(known_digits(column.key));
  }
  line.end_line();
  for (const Row& row : table.rows) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const Cell& cell = row.cells[i];
      const auto* number = std::get_if<double>(&cell.value);
      const auto* words = std::get_if<std::string>(&cell.value);
      if (number != nullptr) line.number(*number, digits.at(i), cell.threshold);
      if (words != nullptr) line.text(*words + cell.tail);
      if (number == nullptr && words == nullptr) line.none();
    }
    line.end_line();
  }
  return text;
}

}  // namespace linkmargin

#pragma once

#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/document/known_digits.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace linkmargin {

/// How CSV is written.
struct CsvStyle {
  /// As spreadsheets of most of Europe open it: a comma in numbers, semicolons between fields, a byte order
  /// mark before all.
  bool decimal_comma = false;
  bool precise = false;  ///< up to 12 decimals instead of known_digits()

  char separator() const { return decimal_comma ? ';' : ','; }
  std::string_view start() const { return decimal_comma ? "\xEF\xBB\xBF" : ""; }
};

/// A table as RFC 4180 gives it: a row of column keys, lines that end in CRLF, quotes where a value needs
/// them. A number that is not finite, or not known, is empty.
std::string write_csv(const Table& table, const CsvStyle& style = {});

/// One field of such a row: a text, in quotation marks where it needs them. Before one that begins as a
/// spreadsheet's formulas do (=, +, -, @, a tab, a carriage return) stands an apostrophe, so that none is
/// run; not before a number.
std::string csv_text(std::string_view text, const CsvStyle& style = {});

/// Between the lines.
inline constexpr std::string_view kCsvLineEnd = "\r\n";

/// Appends such rows to a text, field by field.
class CsvWriter {
 public:
  CsvWriter(const CsvStyle& style, std::string& text) : style_(style), text_(&text) {}

  void text(std::string_view text) { ready(csv_text(text, style_)); }
  /// @param threshold  as known_text() takes it
  void number(double value, const KnownDigits& digits, std::optional<double> threshold = {});
  void ready(std::string_view field);  ///< as csv_text() gives it
  void none() { ready({}); }
  void end_line();

 private:
  CsvStyle style_;
  std::string* text_;
  bool within_ = false;  // a line
};

}  // namespace linkmargin

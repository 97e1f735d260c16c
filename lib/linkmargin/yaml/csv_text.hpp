#pragma once

#include "linkmargin/yaml/text_guard.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// One field of a record.
struct CsvField {
  std::string text;   ///< without the quotation marks, or without the blanks around it
  Mark mark;          ///< its first character, the quotation mark included; where it is empty, its place
  bool sound = true;  ///< no fault was found in it
};

/// One row. Fields past kMostCsvFields are counted, not kept.
struct CsvRecord {
  std::vector<CsvField> fields;  ///< at least one
  std::size_t count = 0;

  Mark mark() const { return fields.front().mark; }
  bool sound() const;
  /// Whether nothing is written in it; not said of one with more fields than are kept.
  bool blank() const;
};

inline constexpr std::size_t kMostCsvFields = 256;

/// The records of a text of comma-separated values (RFC 4180), one after the other. Beyond that standard,
/// blanks (spaces and tabs) around a field do not count, before and after quotation marks neither. What is
/// wrong with a field becomes a fault at its place, and reading goes on: after text behind a closing
/// quotation mark at the next field, after a mark without a partner on the next line.
class CsvText {
 public:
  /// @param text  as guarded_text() gives it; it must outlive the reader
  CsvText(std::string_view text, char separator, Faults& faults)
      : text_(text), separator_(separator), faults_(faults), lines_(text) {}

  /// Nothing at the end.
  std::optional<CsvRecord> next();

 private:
  CsvField plain_field(std::size_t begin);
  CsvField quoted_field(std::size_t begin);
  void skip_blanks();
  void skip_to_end_of_field();

  std::string_view text_;
  char separator_;
  Faults& faults_;
  LineCounter lines_;
  std::size_t position_ = 0;
};

/// What separates the fields of the first row that is not blank: a comma, or a semicolon or tab where that
/// row has one of these outside quotation marks and no comma.
char csv_separator(std::string_view text);

}  // namespace linkmargin::yaml

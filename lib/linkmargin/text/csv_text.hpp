#pragma once

#include "linkmargin/text/csv_separator.hpp"
#include "linkmargin/text/line_counter.hpp"
#include "linkmargin/text/text_decoding.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// One field of a record.
struct CsvField {
  std::string text;     ///< without the quotation marks, or without the blanks around it
  Mark mark;            ///< its first character, the quotation mark included; where it is empty, its place
  bool sound = true;    ///< no fault was found in it
  bool quoted = false;  ///< it began with a quotation mark
};

/// One row. Fields past kMostCsvFields are counted, not kept.
struct CsvRecord {
  std::vector<CsvField> fields;  ///< at least one
  std::size_t count = 0;
  std::size_t filled = 0;  ///< fields up to the last in which something is written

  Mark mark() const { return fields.front().mark; }
  bool sound() const;
  bool blank() const { return filled == 0; }
};

inline constexpr std::size_t kMostCsvFields = 256;

/// The records of a text of separated values (RFC 4180, with a separator of the file's own), one after the
/// other. Beyond that standard, blanks (see blank_at()) around a field do not count, before and after
/// quotation marks neither, and `="text"`, by which programs keep spreadsheets from taking a text as a
/// number, is a field in quotation marks whose text keeps those marks and the sign. What is wrong with a
/// field becomes a fault at its place, and reading goes on: after text behind a closing quotation mark at the
/// next field, after a mark without a partner on the next line.
class CsvText {
 public:
  /// @param text  as decoded_text() gives it; it must outlive the reader
  CsvText(std::string_view text, const CsvLayout& layout, Faults& faults)
      : text_(text), separator_(layout.separator), faults_(faults), lines_(text), position_(layout.begin) {}

  /// Nothing at the end.
  std::optional<CsvRecord> next();

 private:
  CsvField plain_field(std::size_t begin);
  CsvField quoted_field(std::size_t begin, std::string_view opening);
  void skip_blanks();
  void skip_to_end_of_field();

  std::string_view text_;
  char separator_;
  Faults& faults_;
  LineCounter lines_;
  std::size_t position_;
};

/// Tells of the first field that another separator than the file's parts.
/// @return whether there is one
bool report_two_ways(const CsvRecord& record, char separator, const std::string& path,
                     const std::string& hint, Faults& faults);

}  // namespace linkmargin

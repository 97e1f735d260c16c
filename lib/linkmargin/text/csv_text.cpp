#include "linkmargin/text/csv_text.hpp"

#include "linkmargin/text/blanks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::string_view kMark = "\"";
constexpr std::string_view kWrap = "=\"";

}  // namespace

bool CsvRecord::sound() const {
  return std::ranges::all_of(fields, &CsvField::sound);
}

std::optional<CsvRecord> CsvText::next() {
  if (position_ >= text_.size()) return {};
  CsvRecord record;
  for (;;) {
    const std::size_t place = position_;
    skip_blanks();
    const std::string_view rest = text_.substr(position_);
    CsvField field = rest.starts_with(kMark)   ? quoted_field(position_, kMark)
                     : rest.starts_with(kWrap) ? quoted_field(position_, kWrap)
                                               : plain_field(place);
    ++record.count;
    if (!field.sound || !field.text.empty()) record.filled = record.count;
    if (record.fields.size() < kMostCsvFields) record.fields.push_back(std::move(field));
    if (position_ >= text_.size() || text_[position_++] == '\n') return record;
  }
}

void CsvText::skip_blanks() {
  while (position_ < text_.size() && text_[position_] != separator_) {
    const std::size_t blank = blank_at(text_, position_);
    if (blank == 0) return;
    position_ += blank;
  }
}

void CsvText::skip_to_end_of_field() {
  while (position_ < text_.size() && text_[position_] != separator_ && text_[position_] != '\n') ++position_;
}

/// @param begin  after the separator, blanks included
CsvField CsvText::plain_field(std::size_t begin) {
  const std::size_t first = position_;
  skip_to_end_of_field();
  const std::string_view text = trimmed(text_.substr(first, position_ - first));
  CsvField field{std::string(text), lines_.at(text.empty() ? begin : first)};
  const std::size_t quote = text.find('"');
  if (quote != std::string_view::npos) {
    field.sound = false;
    faults_.add(lines_.at(first + quote), DiagnosticCode::syntax, "",
                "a quotation mark stands inside a field that does not begin with one",
                "put the whole field in quotation marks, and write each mark inside twice");
  }
  return field;
}

/// @param begin    where it stands
/// @param opening  kMark or kWrap
CsvField CsvText::quoted_field(std::size_t begin, std::string_view opening) {
  CsvField field{{}, lines_.at(begin), true, true};
  for (std::size_t from = begin + opening.size();;) {
    const std::size_t quote = text_.find('"', from);
    if (quote == std::string_view::npos) {
      field.sound = false;
      faults_.add(field.mark, DiagnosticCode::syntax, "", "this quotation mark has no partner");
      position_ = std::min(text_.find('\n', begin), text_.size());
      return field;
    }
    field.text += text_.substr(from, quote - from);
    from = quote + 2;
    if (quote + 1 >= text_.size() || text_[quote + 1] != '"') {
      position_ = quote + 1;
      break;
    }
    field.text += '"';
  }
  if (opening == kWrap) field.text = std::string(kWrap) + field.text + std::string(kMark);
  skip_blanks();
  const std::size_t rest = position_;
  skip_to_end_of_field();
  if (position_ > rest) {
    field.sound = false;
    const Mark mark = lines_.at(rest);
    faults_.add(mark, DiagnosticCode::syntax, "", "text after the closing quotation mark of a field",
                mark.line == field.mark.line ? "write a quotation mark inside a field twice"
                                             : "the field begins on line " + std::to_string(field.mark.line) +
                                                   ": is its mark closed there?");
  }
  return field;
}

bool report_two_ways(const CsvRecord& record, char separator, const std::string& path,
                     const std::string& hint, Faults& faults) {
  for (const CsvField& field : record.fields) {
    const auto other = field.quoted ? std::nullopt : other_separator(field.text, separator);
    if (!other) continue;
    const int before = LineCounter(field.text).at(*other).column - 1;
    faults.add({field.mark.line, field.mark.column + before}, DiagnosticCode::syntax, path,
               "the fields are separated two ways: by " + separator_name(separator) + "s, and here by a " +
                   separator_name(field.text[*other]),
               hint);
    return true;
  }
  return false;
}

}  // namespace linkmargin

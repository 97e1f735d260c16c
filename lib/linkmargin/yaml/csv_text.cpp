#include "linkmargin/yaml/csv_text.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

constexpr std::string_view kBlanks = " \t";

}  // namespace

bool CsvRecord::sound() const {
  return std::ranges::all_of(fields, &CsvField::sound);
}

bool CsvRecord::blank() const {
  return count == fields.size() && sound() &&
         std::ranges::all_of(fields, [](const CsvField& field) { return field.text.empty(); });
}

std::optional<CsvRecord> CsvText::next() {
  if (position_ >= text_.size()) return {};
  CsvRecord record;
  for (;;) {
    const std::size_t place = position_;
    skip_blanks();
    const bool opens = position_ < text_.size() && text_[position_] == '"';
    CsvField field = opens ? quoted_field(position_) : plain_field(place);
    ++record.count;
    if (record.fields.size() < kMostCsvFields) record.fields.push_back(std::move(field));
    if (position_ >= text_.size() || text_[position_++] == '\n') return record;
  }
}

void CsvText::skip_blanks() {
  while (position_ < text_.size() && text_[position_] != separator_ &&
         kBlanks.find(text_[position_]) != std::string_view::npos) {
    ++position_;
  }
}

void CsvText::skip_to_end_of_field() {
  while (position_ < text_.size() && text_[position_] != separator_ && text_[position_] != '\n') ++position_;
}

/// @param begin  after the separator, blanks included
CsvField CsvText::plain_field(std::size_t begin) {
  const std::size_t first = position_;
  skip_to_end_of_field();
  std::string_view text = text_.substr(first, position_ - first);
  const std::size_t last = text.find_last_not_of(kBlanks);
  text = text.substr(0, last == std::string_view::npos ? 0 : last + 1);
  CsvField field{std::string(text), lines_.at(text.empty() ? begin : first)};
  const std::size_t quote = text.find('"');
  if (quote != std::string_view::npos) {
    field.sound = false;
    faults_.add(lines_.at(first + quote), "",
                "a quotation mark stands inside a field that does not begin with one",
                "put the whole field in quotation marks, and write each mark inside twice");
  }
  return field;
}

/// @param begin  where the opening mark stands
CsvField CsvText::quoted_field(std::size_t begin) {
  CsvField field{{}, lines_.at(begin)};
  for (std::size_t from = begin + 1;;) {
    const std::size_t quote = text_.find('"', from);
    if (quote == std::string_view::npos) {
      field.sound = false;
      faults_.add(field.mark, "", "this quotation mark has no partner");
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
  skip_blanks();
  const std::size_t rest = position_;
  skip_to_end_of_field();
  if (position_ > rest) {
    field.sound = false;
    const Mark mark = lines_.at(rest);
    faults_.add(mark, "", "text after the closing quotation mark of a field",
                mark.line == field.mark.line ? "write a quotation mark inside a field twice"
                                             : "the field begins on line " + std::to_string(field.mark.line) +
                                                   ": is its mark closed there?");
  }
  return field;
}

char csv_separator(std::string_view text) {
  char other = ',';
  bool quoted = false;
  for (const char letter : text.substr(std::min(text.find_first_not_of(" \t\n"), text.size()))) {
    if (letter == '"') quoted = !quoted;
    if (quoted) continue;
    if (letter == ',') return ',';
    if (letter == '\n') break;
    if (other == ',' && (letter == ';' || letter == '\t')) other = letter;
  }
  return other;
}

}  // namespace linkmargin::yaml

#include "linkmargin/text/csv_separator.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/text/blanks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::string_view kSeparators = ",;\t";

bool is_separator(char letter) {
  return kSeparators.find(letter) != std::string_view::npos;
}

char most_used(std::string_view text) {
  std::ptrdiff_t commas = 0, semicolons = 0, tabs = 0;
  bool quoted = false;
  for (const char letter : text.substr(std::min(text.find_first_not_of(" \t\n"), text.size()))) {
    if (letter == '"') quoted = !quoted;
    if (quoted) continue;
    if (letter == '\n') break;
    commas += letter == ',' ? 1 : 0;
    semicolons += letter == ';' ? 1 : 0;
    tabs += letter == '\t' ? 1 : 0;
  }
  if (semicolons > commas) return ';';
  return commas == 0 && tabs > 0 ? '\t' : ',';
}

/// Whether a line, "sep=;", tells the separator. Where a spreadsheet wrote it as a row of its own, quotation
/// marks and the separators of empty fields stand about it.
bool tells_separator(std::string_view line) {
  constexpr std::string_view key = "sep=";
  if (!lower_case(line).starts_with(key) || line.size() == key.size()) return false;
  const char separator = line[key.size()];
  line.remove_prefix(key.size() + 1);
  if (line.starts_with('"')) line.remove_prefix(1);
  while (line.starts_with(separator) && is_separator(separator)) line.remove_prefix(1);
  return trimmed(line).empty();
}

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

}  // namespace

CsvLayout csv_layout(std::string_view text, Faults& faults) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  const std::size_t mark = text.starts_with('"') ? 1 : 0;
  const std::string_view line = text.substr(mark, end - std::min(mark, end));
  if (!tells_separator(line)) return {most_used(text), 0};
  const std::size_t begin = std::min(end + 1, text.size());
  const char separator = line[4];
  if (is_separator(separator)) return {separator, begin};
  faults.add({1, static_cast<int>(mark) + 5}, DiagnosticCode::syntax, "",
             "the fields are said to be separated by " + quoted(line.substr(4)),
             "a comma, a semicolon or a tab separates them");
  return {most_used(text.substr(begin)), begin};
}

std::string separator_name(char separator) {
  if (separator == ';') return "semicolon";
  return separator == '\t' ? "tab" : "comma";
}

std::optional<std::size_t> other_separator(std::string_view field, char separator) {
  for (std::size_t i = 0; i < field.size(); ++i) {
    if (field[i] == separator || !is_separator(field[i])) continue;
    const bool decimal =
        field[i] == ',' && i > 0 && i + 1 < field.size() && is_digit(field[i - 1]) && is_digit(field[i + 1]);
    if (!decimal) return i;
  }
  return {};
}

}  // namespace linkmargin

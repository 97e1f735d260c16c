#include "markdown.hpp"

#include "linkmargin/base/number_text.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::validation {
namespace {

std::string line(const std::vector<std::string>& row) {
  std::string text = "|";
  for (const std::string& cell : row) text += " " + cell + " |";
  return text + "\n";
}

/// Longest line of prose.
constexpr std::size_t kColumns = 116;

std::string wrapped(std::string_view text, std::string_view first, std::string_view next) {
  std::string result{first};
  std::size_t column = first.size();
  bool start = true;
  while (true) {
    const std::size_t from = text.find_first_not_of(" \n");
    if (from == std::string_view::npos) return result + "\n";
    text.remove_prefix(from);
    const std::size_t length = std::min(text.find_first_of(" \n"), text.size());
    if (!start && column + 1 + length > kColumns) {
      result += "\n" + std::string(next);
      column = next.size();
    } else if (!start) {
      result += " ";
      ++column;
    }
    result += text.substr(0, length);
    column += length;
    text.remove_prefix(length);
    start = false;
  }
}

}  // namespace

std::string paragraph(std::string_view text) {
  return wrapped(text, "", "") + "\n";
}

std::string list(const std::vector<std::string>& items) {
  std::string text;
  for (const std::string& item : items) text += wrapped(item, "- ", "  ");
  return text + "\n";
}

std::string table(const std::vector<std::string>& header, const std::vector<std::vector<std::string>>& rows) {
  std::string text = line(header) + "|";
  for (std::size_t i = 0; i < header.size(); ++i) text += "---|";
  text += "\n";
  for (const auto& row : rows) text += line(row);
  return text + "\n";
}

std::string decimals(double value, int count) {
  return fixed_text(value, count);
}

std::string with_sign(double value, int count) {
  const std::string text = fixed_text(value, count);
  return value < 0 || text.find_first_not_of("0.") == std::string::npos ? text : "+" + text;
}

std::string apart(double value, int count) {
  const double last_digit = std::pow(10, -count);
  return value < last_digit / 2 ? "< " + fixed_text(last_digit, count) : fixed_text(value, count);
}

std::vector<std::string> cells(const Deviations& deviations, int decimals_shown) {
  return {std::to_string(deviations.count()), apart(deviations.worst(), decimals_shown),
          apart(deviations.rms(), decimals_shown)};
}

}  // namespace linkmargin::validation

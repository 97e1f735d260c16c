#include "linkmargin/exchange/dxf/dxf_groups.hpp"

#include "linkmargin/exchange/drawing.hpp"
#include "linkmargin/text/blanks.hpp"

#include <charconv>
#include <cmath>
#include <string>

namespace linkmargin::exchange::dxf {
namespace {

std::string_view without_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

template <typename Number>
std::optional<Number> parsed(std::string_view text) {
  text = without_blanks(text);
  if (text.starts_with('+')) text.remove_prefix(1);
  Number value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return {};
  return value;
}

}  // namespace

GroupReader::GroupReader(std::string_view text, Faults& faults)
    : text_(text), line_end_(text.find('\n') == std::string_view::npos ? '\r' : '\n'), faults_(faults) {}

std::optional<std::string_view> GroupReader::next_line() {
  if (position_ >= text_.size()) return {};
  const std::size_t end = std::min(text_.find(line_end_, position_), text_.size());
  std::string_view line = text_.substr(position_, end - position_);
  if (line.ends_with('\r')) line.remove_suffix(1);
  position_ = end + 1;
  ++line_;
  return line;
}

std::optional<Group> GroupReader::next() {
  const auto code_line = next_line();
  if (!code_line) return {};
  const auto code = parsed<int>(*code_line);
  if (!code) {
    if (without_blanks(*code_line).empty() && position_ >= text_.size()) return {};
    faults_.add({line_, 1}, DiagnosticCode::syntax, "",
                "expected a group code, found " + quoted(*code_line, '"'),
                "a DXF file in text form has a whole number on every other line");
    position_ = text_.size();
    return {};
  }
  const auto value = next_line();
  if (!value) {
    faults_.add({line_, 1}, DiagnosticCode::syntax, "", "the file ends behind a group code: it is not whole");
    return {};
  }
  return Group{*code, *value, line_};
}

std::optional<double> number_of(const Group& group, Faults& faults) {
  const auto value = parsed<double>(group.value);
  if (value && std::abs(*value) <= kMostCoordinate) return value;
  if (value) {
    faults.add({group.line, 1}, DiagnosticCode::outside_range, "",
               "the number " + quoted(without_blanks(group.value), '"') + " lies outside every plan");
  } else {
    faults.add({group.line, 1}, DiagnosticCode::wrong_type, "",
               "expected a number, found " + quoted(group.value, '"'));
  }
  return {};
}

int whole_of(const Group& group) {
  return parsed<int>(group.value).value_or(0);
}

}  // namespace linkmargin::exchange::dxf

#include "linkmargin/report/write_text.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/display_text.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace linkmargin {
namespace {

constexpr int kBarCells = 8;
constexpr int kLeastWidthForBars = 80;
constexpr int kLeastShrunk = 5;

class TextWriter {
 public:
  explicit TextWriter(const TextStyle& style)
      : width_(std::max(style.width, kMinTextWidth)), colour_(style.colour) {}

  void operator()(const Heading& heading) {
    after_list_ = false;
    blank_line();
    line(heading.text, Tone::strong);
  }

  void operator()(const Paragraph& paragraph) {
    if (after_list_) blank_line();
    after_list_ = false;
    for (const std::string& text : wrapped(printable_lines(paragraph.text), width_))
      line(text, paragraph.tone);
  }

  void operator()(const BulletList& list) {
    after_list_ = true;
    for (const BulletList::Item& item : list.items) {
      const int indent = display_width(item.mark) + 2;
      bool first = true;
      for (const std::string& text : wrapped(printable_lines(item.text), width_ - indent)) {
        const std::string lead =
            first ? " " + item.mark + " " : std::string(static_cast<std::size_t>(indent), ' ');
        line(lead + text, item.tone);
        first = false;
      }
    }
  }

  void operator()(const Table& table) {
    blank_line();
    const std::vector<int> widths = fitted_widths(table);
    header(table, widths);
    for (const Row& row : table.rows) table_row(table, row, widths);
    blank_line();
  }

  std::string take() {
    while (text_.ends_with("\n\n")) text_.pop_back();
    return std::move(text_);
  }

 private:
  static std::string printable_lines(std::string_view text) {
    std::string lines;
    while (true) {
      const std::size_t end = text.find('\n');
      lines += printable(text.substr(0, end));
      if (end == std::string_view::npos) return lines;
      lines += '\n';
      text.remove_prefix(end + 1);
    }
  }

  std::string value_text(const Column& column, const Cell& cell) const {
    if (std::holds_alternative<std::monostate>(cell.value)) return "-";
    if (const auto* text = std::get_if<std::string>(&cell.value)) return printable(*text);
    const double value = std::get<double>(cell.value);
    if (!std::isfinite(value)) return "-";
    const std::string number = fixed_text(value, column.decimals);
    if (column.kind != ColumnKind::bar || width_ < kLeastWidthForBars) return number;
    const int full = static_cast<int>(std::lround(std::clamp(value, 0.0, 100.0) / 100 * kBarCells));
    std::string bar = padded(number, 3, true) + " ";
    for (int i = 0; i < kBarCells; ++i) bar += i < full ? "\u2588" : "\u2591";
    return bar;
  }

  static bool to_the_right(const Column& column) {
    return column.right_aligned || column.kind == ColumnKind::number;
  }

  std::vector<int> fitted_widths(const Table& table) const {
    std::vector<int> widths;
    int total = 0;
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
      const Column& column = table.columns[i];
      int width = std::max(display_width(column.title), display_width(column.unit));
      for (const Row& row : table.rows) {
        width = std::max(width,
                         display_width(value_text(column, row.cells[i])) + display_width(row.cells[i].tail));
      }
      widths.push_back(width);
      total += width + (i == 0 ? 0 : gap(table.columns[i - 1]));
    }
    while (total > width_ && shrink_widest(table, widths)) --total;
    return widths;
  }

  static bool shrink_widest(const Table& table, std::vector<int>& widths) {
    std::size_t widest = widths.size();
    for (std::size_t i = 0; i < widths.size(); ++i) {
      if (!table.columns[i].shrinks || widths[i] <= least_width(table, i)) continue;
      if (widest == widths.size() || widths[i] > widths[widest]) widest = i;
    }
    if (widest == widths.size()) return false;
    --widths[widest];
    return true;
  }

  static int least_width(const Table& table, std::size_t column) {
    int longest_tail = 0;
    for (const Row& row : table.rows)
      longest_tail = std::max(longest_tail, display_width(row.cells[column].tail));
    return std::max(kLeastShrunk, longest_tail + 3);
  }

  /// A column without a title holds a mark and stands close to what it marks.
  static int gap(const Column& column) { return column.title.empty() ? 1 : 2; }

  void header(const Table& table, const std::vector<int>& widths) {
    std::string titles;
    std::string units;
    bool any_unit = false;
    int total = 0;
    for (std::size_t i = 0; i < widths.size(); ++i) {
      const Column& column = table.columns[i];
      const std::string space(static_cast<std::size_t>(i == 0 ? 0 : gap(table.columns[i - 1])), ' ');
      titles += space + padded(shortened(column.title, widths[i]), widths[i], to_the_right(column));
      units += space + padded(shortened(column.unit, widths[i]), widths[i], to_the_right(column));
      any_unit = any_unit || !column.unit.empty();
      total += widths[i] + static_cast<int>(space.size());
    }
    line(titles, Tone::strong);
    if (any_unit) line(units, Tone::faint);
    std::string rule;
    for (int i = 0; i < total; ++i) rule += "\u2500";
    line(rule, Tone::faint);
  }

  void table_row(const Table& table, const Row& row, const std::vector<int>& widths) {
    std::string text;
    for (std::size_t i = 0; i < widths.size(); ++i) {
      const Cell& cell = row.cells[i];
      if (i > 0) text.append(static_cast<std::size_t>(gap(table.columns[i - 1])), ' ');
      const int room = std::max(1, widths[i] - display_width(cell.tail));
      const std::string value = shortened(value_text(table.columns[i], cell), room) + cell.tail;
      text += padded(value, widths[i], to_the_right(table.columns[i]));
    }
    line(text, row.tone);
  }

  void blank_line() {
    if (!text_.empty() && !text_.ends_with("\n\n")) text_ += '\n';
  }

  void line(std::string text, Tone tone) {
    while (!text.empty() && text.back() == ' ') text.pop_back();
    const bool coloured = colour_ && tone != Tone::plain && !text.empty();
    if (coloured) text_ += tone == Tone::weak ? "\x1b[1;31m" : tone == Tone::strong ? "\x1b[1m" : "\x1b[2m";
    text_ += text;
    if (coloured) text_ += "\x1b[0m";
    text_ += '\n';
  }

  int width_;
  bool colour_;
  bool after_list_ = false;
  std::string text_;
};

}  // namespace

std::string write_text(const Document& document, const TextStyle& style) {
  TextWriter writer(style);
  for (const Block& block : document.blocks) std::visit(writer, block);
  return writer.take();
}

}  // namespace linkmargin

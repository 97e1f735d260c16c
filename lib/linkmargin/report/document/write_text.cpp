#include "linkmargin/report/document/write_text.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

namespace linkmargin {
namespace {

constexpr int kBarCells = 6;
constexpr int kLeastShrunk = 5;

/// What of a table is shown at a width, and how wide each column is.
struct Layout {
  std::vector<std::size_t> columns;  ///< positions in the table
  std::vector<int> widths;           ///< of each of those
  bool bars = true;
};

class TextWriter {
 public:
  explicit TextWriter(const TextStyle& style)
      : width_(std::max(style.width, kMinTextWidth)), colour_(style.colour) {}

  void operator()(const Heading& heading) {
    after_list_ = false;
    blank_line();
    line(printable(heading.text), Tone::strong);
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
    const Layout layout = fitted(table);
    header(table, layout);
    for (const Row& row : table.rows) table_row(table, row, layout);
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

  static std::string value_text(const Column& column, const Cell& cell, bool bars) {
    if (std::holds_alternative<std::monostate>(cell.value)) return "-";
    if (const auto* text = std::get_if<std::string>(&cell.value)) return printable(*text);
    const double value = std::get<double>(cell.value);
    if (!std::isfinite(value)) return "-";
    const std::string number = fixed_text(value, column.decimals);
    if (column.kind != ColumnKind::bar) return number;
    if (!bars) return padded(number, 3, true);
    const int full = static_cast<int>(std::lround(std::clamp(value, 0.0, 100.0) / 100 * kBarCells));
    std::string bar = padded(number, 3, true) + " ";
    for (int i = 0; i < kBarCells; ++i) bar += i < full ? "\u2588" : "\u2591";
    return bar;
  }

  static bool to_the_right(const Column& column) {
    return column.right_aligned || column.kind == ColumnKind::number;
  }

  /// As much of a table as the width takes: texts are shortened, but not under their least, as long as
  /// something can be left out; only then further.
  Layout fitted(const Table& table) const {
    Layout layout;
    for (std::size_t i = 0; i < table.columns.size(); ++i) layout.columns.push_back(i);
    while (true) {
      layout.widths = natural_widths(table, layout);
      if (shrunk_to_fit(table, layout, true)) return layout;
      if (leave_out_next(table, layout)) continue;
      shrunk_to_fit(table, layout, false);
      return layout;
    }
  }

  static std::vector<int> natural_widths(const Table& table, const Layout& layout) {
    std::vector<int> widths;
    for (const std::size_t i : layout.columns) {
      const Column& column = table.columns[i];
      int width = std::max(display_width(column.title), display_width(column.unit));
      for (const Row& row : table.rows) {
        const Cell& cell = row.cells[i];
        width =
            std::max(width, display_width(value_text(column, cell, layout.bars)) + display_width(cell.tail));
      }
      widths.push_back(width);
    }
    return widths;
  }

  static int total_width(const Table& table, const Layout& layout) {
    int total = 0;
    for (std::size_t k = 0; k < layout.columns.size(); ++k) {
      total += layout.widths[k] + (k == 0 ? 0 : gap(table.columns[layout.columns[k - 1]]));
    }
    return total;
  }

  /// Takes a column at a time from the widest that may shrink. @return whether the table fits now
  bool shrunk_to_fit(const Table& table, Layout& layout, bool keep_least) const {
    for (int over = total_width(table, layout) - width_; over > 0; --over) {
      std::size_t widest = layout.columns.size();
      for (std::size_t k = 0; k < layout.columns.size(); ++k) {
        const bool may = table.columns[layout.columns[k]].shrinks &&
                         layout.widths[k] > least_width(table, layout.columns[k], keep_least);
        if (may && (widest == layout.columns.size() || layout.widths[k] > layout.widths[widest])) widest = k;
      }
      if (widest == layout.columns.size()) return false;
      --layout.widths[widest];
    }
    return true;
  }

  /// What comes next by Column::drop: a column, or of one with bars these alone.
  static bool leave_out_next(const Table& table, Layout& layout) {
    auto next = layout.columns.end();
    for (auto at = layout.columns.begin(); at != layout.columns.end(); ++at) {
      const Column& column = table.columns[*at];
      const bool may = column.kind == ColumnKind::bar ? layout.bars : column.drop > 0;
      if (may && (next == layout.columns.end() || column.drop < table.columns[*next].drop)) next = at;
    }
    if (next == layout.columns.end()) return false;
    if (table.columns[*next].kind == ColumnKind::bar) {
      layout.bars = false;
    } else {
      layout.columns.erase(next);
    }
    return true;
  }

  static int least_width(const Table& table, std::size_t column, bool keep_least) {
    int longest_tail = 0;
    for (const Row& row : table.rows)
      longest_tail = std::max(longest_tail, display_width(row.cells[column].tail));
    const int tail_kept = std::max(kLeastShrunk, longest_tail + 3);
    return keep_least ? std::max(tail_kept, table.columns[column].least) : tail_kept;
  }

  /// A column without a title holds a mark and stands close to what it marks.
  static int gap(const Column& column) { return column.title.empty() ? 1 : 2; }

  void header(const Table& table, const Layout& layout) {
    std::string titles;
    std::string units;
    bool any_unit = false;
    for (std::size_t k = 0; k < layout.columns.size(); ++k) {
      const Column& column = table.columns[layout.columns[k]];
      const int width = layout.widths[k];
      const std::string space = k == 0 ? "" : space_after(table.columns[layout.columns[k - 1]]);
      titles += space + padded(shortened(column.title, width), width, to_the_right(column));
      units += space + padded(shortened(column.unit, width), width, to_the_right(column));
      any_unit = any_unit || !column.unit.empty();
    }
    line(titles, Tone::strong);
    if (any_unit) line(units, Tone::faint);
    std::string rule;
    for (int i = 0; i < total_width(table, layout); ++i) rule += "\u2500";
    line(rule, Tone::faint);
  }

  void table_row(const Table& table, const Row& row, const Layout& layout) {
    std::string text;
    for (std::size_t k = 0; k < layout.columns.size(); ++k) {
      const Column& column = table.columns[layout.columns[k]];
      const Cell& cell = row.cells[layout.columns[k]];
      if (k > 0) text += space_after(table.columns[layout.columns[k - 1]]);
      const int room = std::max(1, layout.widths[k] - display_width(cell.tail));
      std::string value = value_text(column, cell, layout.bars);
      if (!cell.brief.empty() && display_width(value) > room) value = printable(cell.brief);
      text += padded(shortened(value, room) + cell.tail, layout.widths[k], to_the_right(column));
    }
    line(text, row.tone);
  }

  static std::string space_after(const Column& column) {
    return std::string(static_cast<std::size_t>(gap(column)), ' ');
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
  return style.ascii ? plain_ascii(writer.take()) : writer.take();
}

}  // namespace linkmargin

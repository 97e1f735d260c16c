#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace linkmargin {

/// How a part of a document is meant. A writer may show it by colour or weight, never by that alone.
enum class Tone { plain, strong, weak, faint };

/// Over what follows it.
struct Heading {
  std::string text;
};

/// Sentences that run on.
struct Paragraph {
  std::string text;
  Tone tone = Tone::plain;
};

/// Items below each other, each after its mark.
struct BulletList {
  /// A text with the mark before it.
  struct Item {
    std::string text;
    std::string mark = "-";
    Tone tone = Tone::plain;
  };
  std::vector<Item> items;
};

/// A list of plain items, one a text.
inline BulletList bullet_list(const std::vector<std::string>& texts) {
  BulletList list;
  for (const std::string& text : texts) list.items.push_back({text});
  return list;
}

/// bar: a number 0..100 with a small bar beside it where the medium can draw one.
enum class ColumnKind { text, number, bar };

/// How the cells below each other are headed and written.
struct Column {
  std::string key{};    ///< for programs, unit included: "distance_m"
  std::string title{};  ///< for people
  std::string unit{};   ///< for people, under the title
  ColumnKind kind = ColumnKind::text;
  int decimals = 0;            ///< for people; for programs the key says it (known_digits())
  bool right_aligned = false;  ///< text too: "<1"
  bool shrinks = false;        ///< its texts may be shortened where the width is short
  int least = 0;               ///< columns that its texts keep as long as another column can be left out
  /// Where the width is short, columns are left out by rising number; 0: this one never. Of a column with
  /// bars the bars alone, with 0 before anything else.
  int drop = 0;
};

/// A column of numbers for people.
inline Column number_column(std::string title, std::string unit, int decimals) {
  return {
      .title = std::move(title), .unit = std::move(unit), .kind = ColumnKind::number, .decimals = decimals};
}

/// What stands in one column of a row.
struct Cell {
  std::variant<std::monostate, double, std::string> value;  ///< monostate: nothing known
  std::string tail{};                                       ///< after the value, never shortened
  std::string brief{};  ///< instead of a text that the width would cut; empty where there is none
  /// Of a number in CSV: it is not rounded over to the other side of this.
  std::optional<double> threshold{};
};

/// A switch in a table for programs.
inline Cell flag_cell(bool flag) {
  return {.value = flag ? "true" : "false"};
}

/// A reading in a table for programs, which is weak under a threshold.
inline Cell reading_cell(double percent, double weak_below_percent) {
  return {.value = percent, .threshold = weak_below_percent};
}

/// Cells beside each other.
struct Row {
  std::vector<Cell> cells;  ///< one a column
  Tone tone = Tone::plain;
};

/// Rows under columns.
struct Table {
  std::vector<Column> columns;
  std::vector<Row> rows;
};

/// A part of a document, one below the other.
using Block = std::variant<Heading, Paragraph, BulletList, Table>;

/// What a report says, before any medium: text, a page, a sheet.
struct Document {
  std::vector<Block> blocks;
};

}  // namespace linkmargin

#pragma once

#include <charconv>
#include <cstddef>
#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

/// Reader of the published values in tests/published/*.csv. Strict: nothing is skipped, every doubt is an
/// error.
namespace linkmargin::testing {

/// A table with one header row. Cells are separated by commas; quotes do not occur. Each row names its
/// source.
class PublishedTable {
 public:
  class Row {
   public:
    Row(const PublishedTable& table, std::size_t index) : table_(&table), index_(index) {}

    const std::string& text(const std::string& column) const {
      return table_->cells_.at(index_).at(table_->column(column));
    }
    double number(const std::string& column) const {
      const std::string& cell = text(column);
      double value = 0;
      const char* end = cell.data() + cell.size();
      const auto [stop, fault] = std::from_chars(cell.data(), end, value);
      if (fault != std::errc{} || stop != end) {
        throw std::runtime_error(table_->place(index_) + ": '" + cell + "' in column " + column +
                                 " is no number");
      }
      return value;
    }
    /// For the message of a failed check: the file, the line and the source.
    std::string where() const {
      return table_->place(index_) + ", " + text("source") + "; " + text("verified");
    }

   private:
    const PublishedTable* table_;
    std::size_t index_;
  };

  /// @throws std::runtime_error for a row of another length than the header, an empty or quoted cell (the two
  /// optional range columns aside), a column named twice, no source or verified column, no final line end, or
  /// another count of rows than expected.
  static PublishedTable parse(std::string_view content, std::size_t expected_rows,
                              std::string name = "table") {
    PublishedTable table;
    table.name_ = std::move(name);
    if (content.empty() || content.back() != '\n')
      throw std::runtime_error(table.name_ + ": no final line end");
    while (!content.empty()) {
      const std::size_t end = content.find('\n');
      table.add_line(content.substr(0, end));
      content.remove_prefix(end + 1);
    }
    if (table.cells_.size() != expected_rows) {
      throw std::runtime_error(table.name_ + ": " + std::to_string(table.cells_.size()) +
                               " rows instead of " + std::to_string(expected_rows));
    }
    return table;
  }

  /// A file of tests/published.
  static PublishedTable read(const std::string& file_name, std::size_t expected_rows) {
    std::ifstream file(std::string(LINKMARGIN_TEST_DATA) + "/published/" + file_name, std::ios::binary);
    if (!file) throw std::runtime_error("cannot open " + file_name);
    const std::string content{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    return parse(content, expected_rows, file_name);
  }

  /// Rows point into the table, which must outlive them.
  std::vector<Row> rows() const&& = delete;
  std::vector<Row> rows() const& {
    std::vector<Row> result;
    for (std::size_t index = 0; index < cells_.size(); ++index) result.emplace_back(*this, index);
    return result;
  }

 private:
  std::string place(std::size_t index) const { return name_ + ":" + std::to_string(index + 2); }

  std::size_t column(const std::string& wanted) const {
    const auto found = columns_.find(wanted);
    if (found == columns_.end()) throw std::runtime_error(name_ + ": no column " + wanted);
    return found->second;
  }

  void add_line(std::string_view line) {
    std::vector<std::string> cells{""};
    for (const char letter : line) {
      if (letter == '"' || letter == '\r')
        throw std::runtime_error(place(cells_.size()) + ": quote or carriage return");
      if (letter == ',') {
        cells.emplace_back();
      } else {
        cells.back() += letter;
      }
    }
    columns_.empty() ? add_header(cells) : add_row(std::move(cells));
  }

  void add_header(const std::vector<std::string>& names) {
    for (const std::string& name : names) {
      if (name.empty() || !columns_.emplace(name, columns_.size()).second) {
        throw std::runtime_error(name_ + ": column '" + name + "' is empty or named twice");
      }
    }
    column("source");
    column("verified");
  }

  void add_row(std::vector<std::string> cells) {
    if (cells.size() != columns_.size()) {
      throw std::runtime_error(place(cells_.size()) + ": " + std::to_string(cells.size()) +
                               " cells instead of " + std::to_string(columns_.size()));
    }
    for (const auto& [name, index] : columns_) {
      if (cells[index].empty() && name != "from_ghz" && name != "to_ghz") {
        throw std::runtime_error(place(cells_.size()) + ": no " + name);
      }
    }
    cells_.push_back(std::move(cells));
  }

  std::string name_;
  std::map<std::string, std::size_t> columns_;
  std::vector<std::vector<std::string>> cells_;
};

/// The largest distance seen between computed and published values, for the record.
class Worst {
 public:
  double add(double computed, double published) {
    const double apart = computed > published ? computed - published : published - computed;
    if (!(apart <= largest_)) largest_ = apart;  // NaN is kept
    return apart;
  }
  double largest() const { return largest_; }

 private:
  double largest_ = 0;
};

}  // namespace linkmargin::testing

#pragma once

#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/readings/decimal_marks.hpp"
#include "linkmargin/yaml/readings/known_names.hpp"
#include "linkmargin/yaml/readings/readings_header.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// Reads the rows of a readings file against the names of a site.
class ReadingRows {
 public:
  /// @param header  it and the site must outlive the reader
  ReadingRows(const ReadingsHeader& header, const Site& site, Faults& faults);

  /// Adds a row's faults. What it returns serves only where there is none; nothing where the row has neither
  /// a percentage nor a level: it was not read yet, and nothing else in it is looked at.
  /// @param row  position among the readings
  std::optional<Reading> read(const CsvRecord& record, std::size_t row);

  /// Adds the faults that only all rows together show.
  void finish() { marks_.report(faults_); }

 private:
  /// A row as a map from its columns to what is written in them.
  struct Row;

  std::optional<std::size_t> field_of(std::string_view column) const;
  Node filled(const CsvRecord& record) const;
  void read_device(Row& row, Reading& reading);
  bool is_read(Row& row) const;
  bool heard_nothing(Row& row) const;
  void read_value(Row& row, Reading& reading);
  void read_via(Row& row, Reading& reading);
  void read_taken(Row& row, Reading& reading);
  std::optional<bool> doors_open(Row& row);
  std::optional<double> number(Row& row, std::string_view column, const Range& range);
  std::optional<Placement> place(Row& row, const std::string& device);
  std::size_t storey(Row& row);
  void check_height(const Row& row, const Placement& place, const std::string& device);
  std::optional<std::string> known_name(Row& row, std::string_view column, const KnownNames& known);
  std::string name_hint(std::string_view column, const std::string& name, const KnownNames& known);

  const ReadingsHeader& header_;
  const Site& site_;
  Faults& faults_;
  DecimalMarks marks_;
  KnownNames devices_;  ///< and repeaters
  KnownNames hubs_, repeaters_, storeys_;
  int hints_ = 0;  ///< given for unknown names
};

}  // namespace linkmargin::yaml

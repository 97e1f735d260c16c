#pragma once

#include "linkmargin/text/faults.hpp"

#include <cstddef>
#include <optional>
#include <string_view>

/// Not installed.
namespace linkmargin::exchange::dxf {

/// A group of a DXF file: a code, and its value on the line below.
struct Group {
  int code = 0;
  std::string_view value;  ///< without the line's end
  int line = 0;            ///< of the value
};

/// Reads a file group by group, with any line ends.
class GroupReader {
 public:
  /// @param text  outlives what is read
  GroupReader(std::string_view text, Faults& faults);

  /// @return nothing at the end of the file, and behind a fault: a code that is no whole number
  std::optional<Group> next();

  int line() const { return line_; }

 private:
  std::optional<std::string_view> next_line();

  std::string_view text_;
  std::size_t position_ = 0;
  char line_end_;
  int line_ = 0;
  Faults& faults_;
};

/// The value of a group as a number of the plane. @return nothing, and a fault, where it is none
std::optional<double> number_of(const Group& group, Faults& faults);

/// The value of a group as a whole number, 0 where it is none.
int whole_of(const Group& group);

}  // namespace linkmargin::exchange::dxf

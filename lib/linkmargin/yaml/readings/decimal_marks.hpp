#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/text/sheet_number.hpp"
#include "linkmargin/yaml/tree/cursor.hpp"

#include <set>
#include <vector>

namespace linkmargin::yaml {

/// Whether "1,234" is 1.234 or 1234. Both where both lie in the range of the column, unless all other numbers
/// of the file that have a decimal mark have this one. Where there is no such number, a point in a file that
/// commas separate, and a comma where semicolons do, are decimal marks too.
class DecimalMarks {
 public:
  explicit DecimalMarks(char separator) : separator_(separator) {}

  /// @param value  as written
  void note(const SheetNumber& number, const Range& range, const Cursor& value);

  /// Adds a fault for each number that can be read in two ways.
  void report(Faults& faults) const;

 private:
  struct Doubt {
    char mark;
    Diagnostic fault;
  };

  char separator_;
  std::set<char> seen_;  ///< in numbers that can be read in one way only
  std::vector<Doubt> doubts_;
};

}  // namespace linkmargin::yaml

#include "linkmargin/yaml/readings/decimal_marks.hpp"

#include "linkmargin/base/number_text.hpp"

namespace linkmargin::yaml {

void DecimalMarks::note(const SheetNumber& number, const Range& range, const Cursor& value) {
  if (!number.decimal) return;
  const double read = parse_number(number.text).value_or(0);
  if (!number.parted || !range.contains(*number.parted) || !range.contains(read)) {
    seen_.insert(*number.decimal);
    return;
  }
  doubts_.push_back({*number.decimal,
                     {"", value.mark().line, value.mark().column, value.pointer(),
                      std::string(value.key()) + ": " + quoted(value.node().text, '"') + " may be " +
                          shortest_text(read) + " or " + shortest_text(*number.parted),
                      "write one decimal more, or no mark between thousands", DiagnosticCode::wrong_type}});
}

void DecimalMarks::report(Faults& faults) const {
  std::set<char> decimal = seen_;
  if (decimal.empty() && separator_ == ',') decimal = {'.'};
  if (decimal.empty() && separator_ == ';') decimal = {','};
  for (const auto& [mark, fault] : doubts_) {
    if (decimal == std::set{mark}) continue;
    faults.add({fault.line, fault.column}, fault);
  }
}

}  // namespace linkmargin::yaml

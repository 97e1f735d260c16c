#include "linkmargin/base/range.hpp"

#include "linkmargin/base/number_text.hpp"

namespace linkmargin {

std::string outside_text(const Range& range, double value) {
  return std::string(range.name) + " = " + shortest_text(value) + " is outside " + shortest_text(range.min) +
         ".." + shortest_text(range.max) + " (" + std::string(range.source) + ")";
}

void require_in(const Range& range, double value) {
  if (!range.contains(value)) throw DomainError(outside_text(range, value));
}

}  // namespace linkmargin

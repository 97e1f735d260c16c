#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace linkmargin {

/// The closed interval in which a quantity is accepted, written once: the check, the message, the
/// documentation and the tests of the edges all read this object.
struct Range {
  double min;
  double max;
  std::string_view name;    ///< what is bounded, unit included: "frequency_hz"
  std::string_view source;  ///< where the bounds come from

  /// NaN is never contained.
  constexpr bool contains(double value) const { return value >= min && value <= max; }
};

/// A call outside a documented range.
class DomainError : public std::domain_error {
 public:
  using std::domain_error::domain_error;
};

/// "frequency_hz = 12 is outside 300000000..6000000000 (source)"
std::string outside_text(const Range& range, double value);

/// @throws DomainError naming value, bounds and source, when the value is NaN or outside.
void require_in(const Range& range, double value);

}  // namespace linkmargin

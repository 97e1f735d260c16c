#pragma once

#include "linkmargin/base/range.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

namespace linkmargin::testing {

/// A call takes both ends of the range, and throws just outside them and for NaN.
template <typename Call>
void check_edges(const Range& range, Call call) {
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  CAPTURE(range.name);
  CHECK(std::isfinite(call(range.min)));
  CHECK(std::isfinite(call(range.max)));
  CHECK_THROWS_AS(call(std::nextafter(range.min, -kInfinity)), DomainError);
  CHECK_THROWS_AS(call(std::nextafter(range.max, kInfinity)), DomainError);
  CHECK_THROWS_AS(call(std::numeric_limits<double>::quiet_NaN()), DomainError);
}

}  // namespace linkmargin::testing

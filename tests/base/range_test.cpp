#include "linkmargin/base/range.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace linkmargin;

namespace {
constexpr Range kRange{-1.5, 2, "width_m", "a test"};
}

TEST_CASE("both bounds are in, what lies next to them outside is not, and NaN never is") {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  CHECK(kRange.contains(-1.5));
  CHECK(kRange.contains(2));
  CHECK_FALSE(kRange.contains(std::nextafter(-1.5, -infinity)));
  CHECK_FALSE(kRange.contains(std::nextafter(2.0, infinity)));
  CHECK_FALSE(kRange.contains(std::numeric_limits<double>::quiet_NaN()));
  CHECK_FALSE(kRange.contains(infinity));
}

TEST_CASE("a breach names value, bounds and source") {
  CHECK_NOTHROW(require_in(kRange, 0));
  CHECK_THROWS_WITH_AS(require_in(kRange, 2.5), "width_m = 2.5 is outside -1.5..2 (a test)", DomainError);
  CHECK_THROWS_WITH_AS(require_in(kRange, std::numeric_limits<double>::quiet_NaN()),
                       "width_m = nan is outside -1.5..2 (a test)", DomainError);
}

#include "linkmargin/base/result.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <string>

using namespace linkmargin;

TEST_CASE("a result holds a value or its faults") {
  const Result<std::string> good(std::string("text"));
  CHECK(good.has_value());
  CHECK(*good == "text");
  CHECK(good->size() == 4);
  Diagnostic fault;
  fault.message = "no";
  const Result<std::string> bad(Diagnostics{fault});
  CHECK_FALSE(bad);
  REQUIRE(bad.error().size() == 1);
  CHECK(bad.error()[0].message == "no");
  CHECK_THROWS_AS(bad.value(), std::bad_variant_access);
}

TEST_CASE("a value that only moves") {
  Result<std::unique_ptr<int>> result(std::make_unique<int>(3));
  const std::unique_ptr<int> taken = std::move(*result);
  CHECK(*taken == 3);
}

#include "linkmargin/base/number_text.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <bit>
#include <clocale>
#include <cmath>
#include <cstdint>
#include <limits>

using namespace linkmargin;

TEST_CASE("fixed decimals") {
  CHECK(fixed_text(1.25, 1) == "1.2");  // exact half: to even
  CHECK(fixed_text(1.35, 1) == "1.4");  // the double lies above
  CHECK(fixed_text(-0.04, 1) == "0.0");
  CHECK(fixed_text(-0.06, 1) == "-0.1");
  CHECK(fixed_text(-0.0, 0) == "0");
  CHECK(fixed_text(868.3, 2) == "868.30");
  CHECK(fixed_text(1e20, 0) == "100000000000000000000");
  CHECK(fixed_text(-std::numeric_limits<double>::max(), 3).size() == 314);
  CHECK(fixed_text(std::numeric_limits<double>::quiet_NaN(), 1) == "nan");
  CHECK(fixed_text(-std::numeric_limits<double>::infinity(), 1) == "-inf");
  CHECK(fixed_text(std::numeric_limits<double>::infinity(), 1) == "inf");
}

TEST_CASE("the shortest text reads back as the same double") {
  CHECK(shortest_text(0.1) == "0.1");
  CHECK(shortest_text(5) == "5");
  CHECK(shortest_text(868300000) == "868300000");
  CHECK(shortest_text(1e-6) == "0.000001");
  CHECK(shortest_text(-2.5) == "-2.5");
  const RandomStream stream(1, 1);
  int checked = 0;
  for (std::uint64_t i = 0; i < 50'000; ++i) {
    const auto value = std::bit_cast<double>(stream.bits(i));
    if (!std::isfinite(value)) continue;
    ++checked;
    const std::string text = shortest_text(value);
    CHECK(parse_number(text) == value);
    const double magnitude = std::abs(value);
    if (magnitude >= 1e-6 && magnitude < 1e15) CHECK(text.find('e') == std::string::npos);
  }
  CHECK(checked > 49'000);
}

TEST_CASE("text is the same in every locale") {
  const char* const before = std::setlocale(LC_ALL, nullptr);
  const std::string kept = before != nullptr ? before : "C";
  for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C"}) {
    std::setlocale(LC_ALL, name);  // those that the machine has
    CHECK(fixed_text(1234.5, 1) == "1234.5");
    CHECK(parse_number("1.5") == 1.5);
  }
  std::setlocale(LC_ALL, kept.c_str());
}

TEST_CASE("whole numbers are read, anything else is not") {
  CHECK(parse_number("1.5") == 1.5);
  CHECK(parse_number("-3") == -3.0);
  CHECK(parse_number("+3") == 3.0);
  CHECK(parse_number("1e3") == 1000.0);
  CHECK(parse_number(".5") == 0.5);
  for (const char* text : {"", "+", "-", "e", "1.5 m", " 1", "1 ", "1,5", "0x10", "nan", ".nan", "inf",
                           "-inf", "1e999", "1..2", "--1", "+-1", "1e", "1_000"}) {
    CAPTURE(std::string(text));
    CHECK_FALSE(parse_number(text));
  }
}

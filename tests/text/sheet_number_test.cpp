#include "linkmargin/text/sheet_number.hpp"

#include <doctest/doctest.h>

#include <array>

using namespace linkmargin;

namespace {

struct Written {
  const char* text;
  const char* unit;
  const char* read;  ///< nothing where it is no number
};

/// One row an oddity.
constexpr std::array kWritten{
    Written{"35", "%", "35"},
    Written{"+35", "%", "+35"},
    Written{" 35\t", "%", "35"},
    Written{"0.35", "%", "0.35"},
    Written{"0,35", "%", "0.35"},
    Written{",5", "%", ".5"},
    Written{"1.5e1", "%", "1.5e1"},
    Written{"1,5E+01", "%", "1.5E+01"},
    Written{"35%", "%", "35"},
    Written{"35 %", "%", "35"},
    Written{"35\u00A0%", "%", "35"},  // no-break space
    Written{"35\u202F%", "%", "35"},  // narrow no-break space
    Written{"35\u2009%", "%", "35"},  // thin space
    Written{"\u200735%", "%", "35"},  // figure space
    Written{"35\u3000", "%", "35"},   // ideographic space
    Written{"%35", "%", "35"},        // as Turkish has it
    Written{"% 35,5", "%", "35.5"},
    Written{"-61 dBm", "dBm", "-61"},
    Written{"-61dbm", "dBm", "-61"},
    Written{"-61,5\u00A0DBM", "dBm", "-61.5"},
    Written{"\u221261 dBm", "dBm", "-61"},  // minus sign
    Written{"\u201361", "dBm", "-61"},      // en dash
    Written{"\u201061", "dBm", "-61"},      // hyphen
    Written{"\u201161", "dBm", "-61"},      // non-breaking hyphen
    Written{"2,6 m", "m", "2.6"},
    Written{"-2.6M", "m", "-2.6"},
    Written{"", "m", nullptr},
    Written{"m", "m", nullptr},
    Written{"%", "%", nullptr},
    Written{"% 35 %", "%", nullptr},
    Written{"35 %", "dBm", nullptr},
    Written{"-61 dBm", "%", nullptr},
    Written{"-61 dBm", "m", nullptr},
    Written{"90 cm", "m", nullptr},
    Written{"90 mm", "m", nullptr},
    Written{"m 5", "m", nullptr},
    Written{"- 61", "dBm", nullptr},
    Written{"\u2212-61", "dBm", nullptr},
    Written{"61-", "dBm", nullptr},
    Written{"(61)", "dBm", nullptr},
    Written{"1.234,5", "m", nullptr},
    Written{"1,234.5", "m", nullptr},
    Written{"1.234.567", "m", nullptr},
    Written{"1 234", "m", nullptr},
    Written{"1\u202F234,5", "m", nullptr},
    Written{"1'234", "m", nullptr},
    Written{"=1+1", "m", nullptr},
    Written{"nan", "m", nullptr},
    Written{"1e999", "m", nullptr},
    Written{"35 x", "%", nullptr},
};

}  // namespace

TEST_CASE("numbers as spreadsheets write them") {
  for (const auto& [text, unit, read] : kWritten) {
    const auto& text_shown = text;
    CAPTURE(text_shown);
    const auto& unit_shown = unit;
    CAPTURE(unit_shown);
    const auto number = sheet_number(text, unit);
    CHECK(number.has_value() == (read != nullptr));
    if (number && read != nullptr) CHECK(number->text == read);
  }
}

TEST_CASE("a number tells its decimal mark and whether its unit stood there") {
  CHECK(sheet_number("35", "%")->decimal == std::nullopt);
  CHECK(sheet_number("3.5", "%")->decimal == '.');
  CHECK(sheet_number("3,5 %", "%")->decimal == ',');
  CHECK(sheet_number("3,5 %", "%")->has_unit);
  CHECK(sheet_number("%3", "%")->has_unit);
  CHECK_FALSE(sheet_number("3,5", "%")->has_unit);
}

TEST_CASE("a mark before three figures may part thousands") {
  const auto parted = [](const char* text) { return sheet_number(text, "m")->parted; };
  CHECK(parted("1,234") == 1234);
  CHECK(parted("-12.345 m") == -12345);
  CHECK(parted("\u2212123.456") == -123456);
  CHECK(parted("1.000") == 1000);
  for (const char* one_way :
       {"1234", "1.23", "1,2340", "0.123", "-0,123", ".123", "1234.567", "1.5e3", "1.2e3"}) {
    CAPTURE(one_way);
    CHECK(parted(one_way) == std::nullopt);
  }
}

TEST_CASE("marks between thousands are told") {
  for (const char* text : {"1.234,5", "1,234.5", "1 234", "1\u202F234,5 m", "-1'234", "\u22121 234"}) {
    CAPTURE(text);
    CHECK(parted_hint(text, "m") == "write no mark between thousands");
  }
  for (const char* text : {"", "x", "1 234 x", ",", "--1 2", "90 cm"}) {
    CAPTURE(text);
    CHECK(parted_hint(text, "m") == "");
  }
}

TEST_CASE("what marks a text as text is taken off, and nothing is calculated") {
  CHECK(unwrapped("'-61") == "-61");
  CHECK(unwrapped("''a") == "'a");
  CHECK(unwrapped("=\"0012\"") == "0012");
  CHECK(unwrapped("=\"\"") == "");
  CHECK(unwrapped("'") == "");
  for (const char* text : {"", "=", "=\"", "=1+1", "a'b", "=\"a", "\"a\"", "=SUM(A1)"}) {
    CAPTURE(text);
    CHECK(unwrapped(text) == text);
  }
}

#include "linkmargin/text/csv_separator.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

/// The separator and what is left of the text, then the faults.
std::string layout(const std::string& text) {
  Faults faults("f");
  const CsvLayout found = csv_layout(text, faults);
  return separator_name(found.separator) + "|" + text.substr(found.begin) + "|" +
         fault_lines(std::move(faults).sorted());
}

}  // namespace

TEST_CASE("the separator is what stands most often in the first row") {
  for (const auto& [text, name] :
       {std::pair("a,b,c;d", "comma"), std::pair("a;b;c,d", "semicolon"), std::pair("a,b;c", "comma"),
        std::pair("\n\na;b\nc,d", "semicolon"), std::pair(";;;\na;b", "semicolon"),
        std::pair("\"a,b,c\";d", "semicolon"), std::pair("\"a;b\"\nc;d", "comma"), std::pair("a\tb", "tab"),
        std::pair("a\tb\tc;d", "semicolon"), std::pair("a,\tb\t,\tc", "comma"), std::pair("a\nb;c", "comma"),
        std::pair("a", "comma"), std::pair("", "comma")}) {
    const auto& text_shown = text;
    CAPTURE(text_shown);
    CHECK(layout(text) == std::string(name) + "|" + text + "|");
  }
}

TEST_CASE("a first line tells the separator, and is no record") {
  CHECK(layout("sep=;\na,b") == "semicolon|a,b|");
  CHECK(layout("sep=,\na;b") == "comma|a;b|");
  CHECK(layout("SEP=\t\na,b") == "tab|a,b|");
  CHECK(layout("\"sep=;\"\na") == "semicolon|a|");
  CHECK(layout("\"sep=;\";;;\na") == "semicolon|a|");
  CHECK(layout("sep=;;;; \na") == "semicolon|a|");
  CHECK(layout("sep=;") == "semicolon||");
}

TEST_CASE("a line that only begins like it is a record") {
  for (const char* text : {"sep=\na", "sep=,b\na", "sep", "separate,b", "a\nsep=;\n"}) {
    CAPTURE(text);
    CHECK(layout(text) == "comma|" + std::string(text) + "|");
  }
}

TEST_CASE("another separator than these is a fault") {
  const std::string rest = "' (a comma, a semicolon or a tab separates them)\n";
  CHECK(layout("sep=|\na;b") == "semicolon|a;b|f:1:5: the fields are said to be separated by '|" + rest);
  CHECK(layout("\"sep=:\"\na") == "comma|a|f:1:6: the fields are said to be separated by ':\"" + rest);
}

TEST_CASE("another separator in a field, and a decimal comma") {
  CHECK(other_separator("a;b", ',') == 1);
  CHECK(other_separator("a\tb;", ',') == 1);
  CHECK(other_separator("loft,35", ';') == 4);
  CHECK(other_separator("35,loft", ';') == 2);
  CHECK(other_separator("0,35", ';') == std::nullopt);
  CHECK(other_separator("0,35", '\t') == std::nullopt);
  CHECK(other_separator(",5", ';') == 0);
  CHECK(other_separator("0,35;1", '\t') == 4);
  CHECK(other_separator("a,b", ',') == std::nullopt);
  CHECK(other_separator("", ',') == std::nullopt);
}

#include "linkmargin/report/document/write_csv.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace linkmargin;

TEST_CASE("fields are quoted where RFC 4180 wants it") {
  const Table table{{{.key = "device"}, {.key = "level_dbm"}},
                    {{{{"plain"}, {-91.5}}},
                     {{{"with, comma"}, {0.1 + 0.2}}},
                     {{{"with \"quotes\""}, {-0.0}}},
                     {{{"two\nlines"}, {std::numeric_limits<double>::infinity()}}},
                     {{{""}, {}}}}};
  CHECK(write_csv(table) ==
        "device,level_dbm\r\n"
        "plain,-91.5\r\n"
        "\"with, comma\",0.3\r\n"
        "\"with \"\"quotes\"\"\",0\r\n"
        "\"two\nlines\",\r\n"
        ",\r\n");
}

TEST_CASE("controls and turns of the direction of writing reach no file") {
  CHECK(csv_text("a\u202Eb") == "a\uFFFDb");
  CHECK(csv_text("a\u0085b\u2066") == "a\uFFFDb\uFFFD");
  CHECK(csv_text("a\tb") == "a\tb");
}

TEST_CASE("a table without rows is its header") {
  CHECK(write_csv({{{.key = "a"}}, {}}) == "a\r\n");
}

TEST_CASE("what a spreadsheet would run as a formula stands behind an apostrophe, numbers stay") {
  CHECK(csv_text("=1+1") == "'=1+1");
  CHECK(csv_text("+49 door") == "'+49 door");
  CHECK(csv_text("-front") == "'-front");
  CHECK(csv_text("@sum(a,b)") == "\"'@sum(a,b)\"");
  CHECK(csv_text("\tx") == "'\tx");
  CHECK(csv_text("-3.5") == "-3.5");
  CHECK(csv_text("+2") == "+2");
  CHECK(csv_text("a=b") == "a=b");
  CHECK(csv_text("'=1") == "'=1");
}

namespace {

std::string figure(const char* key, const Cell& cell, const CsvStyle& style = {}) {
  const std::string csv = write_csv({{{.key = key}}, {{{cell}}}}, style);
  return csv.substr(csv.find('\n') + 1, csv.size() - csv.find('\n') - 3);
}

}  // namespace

TEST_CASE("a figure has the digits that are known, by the unit of its column") {
  CHECK(figure("reading_percent", {56.4999}) == "56");
  CHECK(figure("level_dbm", {-91.44999}) == "-91.4");
  CHECK(figure("margin_db", {-0.04}) == "0");
  CHECK(figure("pass_probability", {0.23499}) == "0.23");
  CHECK(figure("pass_probability_before", {0.9961}) == "1");
  CHECK(figure("distance_m", {12.3456}) == "12.35");
  CHECK(figure("x_m", {12.34564}) == "12.3456");
  CHECK(figure("incidence_deg", {30.06}) == "30.1");
  CHECK(figure("outage", {0.00123}) == "0.0012");
  CHECK(figure("row", {1234567.0}) == "1234567");
  CHECK(figure("frequency_mhz", {868.3125}) == "868.3125");
  CHECK(figure("reading_percent", {100.0}) == "100");
  CHECK(figure("reading_percent", {56.49996}, {.precise = true}) == "56.49996");
  CHECK(figure("reading_percent", {std::numeric_limits<double>::quiet_NaN()}) == "");
}

TEST_CASE("what is weak is not rounded up to the threshold, what is not sure not up to sure") {
  CHECK(figure("reading_percent", reading_cell(39.6, 40)) == "39");
  CHECK(figure("reading_percent", reading_cell(40.4, 40)) == "40");
  CHECK(figure("reading_percent", reading_cell(39.6, 39.5)) == "40");
  CHECK(figure("reading_percent", reading_cell(39.6, 40), {.precise = true}) == "39.6");
  CHECK(figure("pass_probability", {0.8999}) == "0.89");
  CHECK(figure("pass_probability", {0.9}) == "0.9");
}

TEST_CASE("with decimal commas semicolons part the fields") {
  const Table table{{{.key = "device"}, {.key = "level_dbm"}},
                    {{{{"one, two"}, {-91.5}}}, {{{"one; two"}, {3.0}}}}};
  CHECK(write_csv(table, {.decimal_comma = true}) ==
        "\xEF\xBB\xBF"
        "device;level_dbm\r\n"
        "one, two;-91,5\r\n"
        "\"one; two\";3\r\n");
}

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

#include "linkmargin/report/write_csv.hpp"

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

TEST_CASE("a table without rows is its header") {
  CHECK(write_csv({{{.key = "a"}}, {}}) == "a\r\n");
}

#include "linkmargin/text/moment_text.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace linkmargin;

TEST_CASE("dates, times and both come in one writing") {
  const std::pair<const char*, const char*> moments[] = {
      {"2026-03-01", "2026-03-01"},
      {"2026-3-1", "2026-03-01"},
      {"2024-02-29", "2024-02-29"},
      {"2026-03-01 14:05", "2026-03-01T14:05"},
      {"2026-03-01T14:05", "2026-03-01T14:05"},
      {"2026-03-01t9:05", "2026-03-01T09:05"},
      {"2026-03-01 14:05:00", "2026-03-01T14:05"},
      {"2026-03-01 14:05:30", "2026-03-01T14:05:30"},
      {"14:05", "14:05"},
      {"0:00", "00:00"},
      {"23:59:59", "23:59:59"},
  };
  for (const auto& moment : moments) {
    const char* written = moment.first;
    const char* text = moment.second;
    CAPTURE(written);
    CHECK(moment_text(written).value_or("nothing") == text);
    CHECK(moment_text(text) == text);  // as it stands, it stays
  }
}

TEST_CASE("moments of one kind sort by time") {
  CHECK(*moment_text("9:05") < *moment_text("14:05"));
  CHECK(*moment_text("2026-3-9 9:05") < *moment_text("2026-03-09 10:00"));
  CHECK(*moment_text("2026-03-01 14:05") < *moment_text("2026-03-01 14:05:30"));
  CHECK(*moment_text("2026-03-01 14:05:30") < *moment_text("2026-03-01 14:06"));
  CHECK(*moment_text("2026-03-01") < *moment_text("2026-03-01 0:00"));
}

TEST_CASE("what is no moment gives nothing") {
  for (const char* written : {"",
                              "2026",
                              "2026-03",
                              "2026-02-29",
                              "2026-13-01",
                              "2026-00-10",
                              "2026-03-32",
                              "26-03-01",
                              "0999-03-01",
                              "02026-03-01",
                              "2026-03-01 ",
                              "2026-03-01  14:05",
                              "2026-03-01 24:00",
                              "2026-03-01 14:5",
                              "14:60",
                              "14",
                              "14.05",
                              "14:05:60",
                              "14:05Z",
                              "2026-03-01T14:05+01:00",
                              "2026/03/01",
                              "1.3.2026",
                              " 14:05",
                              "after lunch",
                              "99999999999-01-01"}) {
    CAPTURE(written);
    CHECK_FALSE(moment_text(written));
  }
}

TEST_CASE("a date with the day first and points can be read in one way") {
  CHECK(meant_moment("1.3.2026").value_or("nothing") == "2026-03-01");
  CHECK(meant_moment("31.12.2026 9:05").value_or("nothing") == "2026-12-31T09:05");
  for (const char* written :
       {"31.13.2026", "29.2.2026", "1.3.26", "1/3/2026", "2026-03-01", "1.3.2026 25:00"}) {
    CAPTURE(written);
    CHECK_FALSE(meant_moment(written));
  }
}

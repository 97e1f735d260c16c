#include "fixtures/published_table.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using linkmargin::testing::PublishedTable;

TEST_CASE("a sound table is read whole") {
  const auto table = PublishedTable::parse("a,source,verified\n1.5,book,yes\n-2e3,book,yes\n", 2);
  REQUIRE(table.rows().size() == 2);
  CHECK(table.rows()[0].number("a") == 1.5);
  CHECK(table.rows()[1].number("a") == -2000);
  CHECK(table.rows()[1].where() == "table:3, book; yes");
}

TEST_CASE("every doubt is an error") {
  const char* const faulty[] = {
      "",                                     // empty
      "a,source,verified\n1,book,yes",        // no final line end
      "a,source,verified\n1,book\n",          // too few cells
      "a,source,verified\n1,book,yes,no\n",   // too many
      "a,source,verified\n1,,yes\n",          // no source
      "a,source,verified\n,book,yes\n",       // no value
      "a,source,verified\n\n",                // empty row
      "a,source,verified\n\"1\",book,yes\n",  // quotes
      "a,source,verified\r\n1,book,yes\r\n",  // carriage returns
      "a,verified\n1,yes\n",                  // no source column
      "a,source\n1,book\n",                   // no verified column
      "a,a,source,verified\n1,1,book,yes\n",  // named twice
      "a,source,verified\n",                  // no row
  };
  for (const char* content : faulty) {
    CAPTURE(content);
    CHECK_THROWS_AS(PublishedTable::parse(content, 1), std::runtime_error);
  }
  const auto table = PublishedTable::parse("a,source,verified\n1x,book,yes\n", 1);
  CHECK_THROWS_AS(table.rows()[0].number("a"), std::runtime_error);
  CHECK_THROWS_AS(table.rows()[0].number("b"), std::runtime_error);
  CHECK_THROWS_AS(PublishedTable::read("no_such_table.csv", 1), std::runtime_error);
}

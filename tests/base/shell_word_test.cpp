#include "linkmargin/base/shell_word.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

TEST_CASE("one word stays, anything else stands between quotation marks") {
  CHECK(shell_word("site.yaml") == "site.yaml");
  CHECK(shell_word("jobs/2026-03/mill_lane.yaml") == "jobs/2026-03/mill_lane.yaml");
  CHECK(shell_word("hall motion") == "'hall motion'");
  CHECK(shell_word("owner's flat") == "'owner'\\''s flat'");
  CHECK(shell_word("a$HOME;b") == "'a$HOME;b'");
  CHECK(shell_word("~") == "'~'");
  CHECK(shell_word("") == "''");
  CHECK(shell_word("Küche") == "Küche");
}

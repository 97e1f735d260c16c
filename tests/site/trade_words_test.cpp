#include "linkmargin/site/trade_words.hpp"

#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <tuple>

using namespace linkmargin;

namespace {

std::vector<std::string> materials() {
  return checks::keys(embedded_tables().materials);
}
std::vector<std::string> profiles() {
  return checks::keys(embedded_tables().profiles);
}

}  // namespace

TEST_CASE("every word leads to a name of the tables, once, and is none itself") {
  std::set<std::tuple<std::string_view, std::string_view, std::string_view>> seen;
  for (const auto& row : trade_words()) {
    CAPTURE(row.word);
    if (row.what == "room") {
      CHECK(row.name == "wet");
      CHECK(names_wet_room(row.word));
      CHECK(seen.emplace(row.what, row.word, row.name).second);
      continue;
    }
    CHECK((row.what == "material" || row.what == "profile"));
    const auto known = row.what == "material" ? materials() : profiles();
    CHECK(std::ranges::find(known, row.name) != known.end());
    CHECK(std::ranges::find(known, row.word) == known.end());
    CHECK(seen.emplace(row.what, row.word, row.name).second);
  }
  CHECK(trade_words().size() > 250);
}

TEST_CASE("words of the trade are told in the tables' names") {
  CHECK(name_hint("material", "uPVC door", materials()) == "did you mean 'plastic door'?");
  CHECK(name_hint("material", "UPVC  DOOR", materials()) == "did you mean 'plastic door'?");
  CHECK(name_hint("material", "drywall", materials()) == "did you mean 'plasterboard' or 'stud wall'?");
  CHECK(name_hint("material", "Up and over door", materials()) == "did you mean 'garage door'?");
  CHECK(name_hint("material", "PIR", materials()) == "did you mean 'foil-faced board'?");
  CHECK(name_hint("profile", "PIR", profiles()) == "did you mean 'motion'?");
  CHECK(name_hint("profile", "bell box", profiles()) == "did you mean 'outdoor siren'?");
  CHECK(name_hint("profile", "Türkontakt", profiles()) == "did you mean 'contact'?");
  CHECK(name_hint("profile", "turkontakt", profiles()) == "did you mean 'contact'?");
}

TEST_CASE("a slip in a name or in a word is told too, and nothing where nothing is near") {
  CHECK(name_hint("material", "brik", materials()) == "did you mean 'brick'?");
  CHECK(name_hint("profile", "smoke detecter", profiles()) == "did you mean 'smoke'?");
  CHECK(name_hint("material", "xylophone", materials()) == "");
  CHECK(name_hint("room", "drywall", std::vector<std::string>{"plasterboard"}) == "");
}

TEST_CASE("only names that are known are told") {
  CHECK(name_hint("material", "drywall", std::vector<std::string>{"stud wall", "x"}) ==
        "did you mean 'stud wall'?");
  CHECK(name_hint("material", "drywall", std::vector<std::string>{"x"}) == "");
}

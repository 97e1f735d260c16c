#include "linkmargin/base/nearest_name.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace linkmargin;

TEST_CASE("the nearest known name") {
  const std::vector<std::string> known{"height_m", "level_m", "plasterboard", "hall"};
  CHECK(nearest_name("hieght_m", known) == "height_m");  // two neighbours swapped
  CHECK(nearest_name("HEIGHT_M", known) == "height_m");  // case
  CHECK(nearest_name("heigt_m", known) == "height_m");   // one left out
  CHECK(nearest_name("plaster board", known) == "plasterboard");
  CHECK(nearest_name("hal", known) == "hall");
  CHECK(nearest_name("h", known) == std::nullopt);
  CHECK(nearest_name("", known) == std::nullopt);
  CHECK(nearest_name("chimney breast", known) == std::nullopt);
  CHECK(nearest_name("hall", {}) == std::nullopt);
  CHECK(nearest_name(std::string(100'000, 'h'), known) == std::nullopt);
}

TEST_CASE("ties go to the name that stands first; an exact name beats all") {
  CHECK(nearest_name("cat", std::vector<std::string>{"bat", "hat"}) == "bat");
  CHECK(nearest_name("cat", std::vector<std::string>{"hat", "bat"}) == "hat");
  CHECK(nearest_name("hat", std::vector<std::string>{"bat", "hat"}) == "hat");
}

TEST_CASE("no more than four letters, and no more than a third, may differ") {
  const std::vector<std::string> known{"abcdefghijklmnopqrst"};
  CHECK(nearest_name("abcdefghijklmnop____", known).has_value());
  CHECK_FALSE(nearest_name("abcdefghijklmno_____", known).has_value());
  CHECK_FALSE(nearest_name("ab", std::vector<std::string>{"cd"}).has_value());
}

TEST_CASE("where no name is near, the names with the words written") {
  const std::vector<std::string> known{"shed back door", "front door", "back bedroom", "front bedroom",
                                       "hall"};
  CHECK(nearest_hint("shed door", known) == "did you mean 'shed back door'?");
  CHECK(nearest_hint("Door Shed", known) == "did you mean 'shed back door'?");
  CHECK(nearest_hint("the front door contact", known) == "did you mean 'front door'?");
  CHECK(nearest_hint("bedroom", known) == "did you mean 'back bedroom' or 'front bedroom'?");
  CHECK(nearest_hint("garage window", known).empty());
  CHECK(nearest_hint("garage door", known).empty());                                       // one of two words
  CHECK(nearest_hint("x", std::vector<std::string>{"x a", "x b", "x c", "x d"}).empty());  // too many to help
  CHECK(nearest_name("shed door", known) == std::nullopt);
}

TEST_CASE("a hint, or nothing") {
  const std::vector<std::string> known{"brick"};
  CHECK(nearest_hint("brik", known) == "did you mean 'brick'?");
  CHECK(nearest_hint("zzz", known).empty());
}

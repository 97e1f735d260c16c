#include "linkmargin/messages/language.hpp"

#include "linkmargin/base/range.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

Language tongue() {
  LanguageWords words{.tag = "xx", .name = "Tongue", .decimal_mark = ","};
  words.texts = {{"greet", "{name}, hail {name} from {place}"},
                 {"plain", "nothing { to fill"},
                 {"doors.one", "one door in {room}"},
                 {"doors.other", "{count} doors in {room}"},
                 {"list.and", "{names} et {last}"},
                 {"list.more", "{names} et {count} alii"},
                 {"list.quoted", "<<{name}>>"}};
  words.materials = {{"brick", "later"}};
  return Language(words);
}

}  // namespace

TEST_CASE("a text is said with what goes to its places") {
  const Language language = tongue();
  CHECK(language.say("greet", {{"place", "Rome"}, {"name", "Ave"}, {"unused", "x"}}) ==
        "Ave, hail Ave from Rome");
  CHECK(language.say("greet", {{"place", "{name}"}, {"name", "{place}"}}) ==
        "{place}, hail {place} from {name}");
  CHECK(language.say("plain") == "nothing { to fill");
  CHECK(language.counted("doors", 1, {{"room", "aula"}}) == "one door in aula");
  CHECK(language.counted("doors", 0, {{"room", "aula"}}) == "0 doors in aula");
  CHECK(language.counted("doors", 2, {{"room", "aula"}}) == "2 doors in aula");
}

TEST_CASE("a key that is not there, and a place that nothing goes to, are defects") {
  const Language language = tongue();
  CHECK_THROWS_AS(language.say("greets"), DomainError);
  CHECK_THROWS_AS(language.say("greet", {{"name", "Ave"}}), DomainError);
  CHECK_THROWS_AS(language.counted("greet", 2), DomainError);
}

TEST_CASE("numbers have the language's decimal mark, lists its words") {
  const Language language = tongue();
  CHECK(language.number(12.345, 2) == "12,35");
  CHECK(language.number(12.0, 0) == "12");
  CHECK(language.number(-0.5) == "-0,5");
  CHECK(language.listed({}, 3).empty());
  CHECK(language.listed({"a"}, 3) == "a");
  CHECK(language.listed({"a", "b", "c"}, 3) == "a, b et c");
  CHECK(language.listed({"a", "b", "c", "d"}, 2) == "a, b et 2 alii");
  CHECK(language.quoted("a") == "<<a>>");
}

TEST_CASE("the places of a text in their order") {
  CHECK(places_of("{a} and {b}, {a}") == std::vector<std::string>{"a", "b", "a"});
  CHECK(places_of("{} {") == std::vector<std::string>{""});
  CHECK(places_of("").empty());
}

TEST_CASE("a material of the table goes by its name in the language, its thickness after it") {
  const Language language = tongue();
  CHECK(language.material("brick 0.24 m") == "later 0,24 m");
  CHECK(language.material("brick") == "later");
  CHECK(language.material("clay 0.5 m") == "clay 0,5 m");
  CHECK(language.material("clay wall m") == "clay wall m");
}

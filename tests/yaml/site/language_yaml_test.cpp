#include "linkmargin/yaml/site/language_yaml.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

std::string file_of(const std::string& tag) {
  return read_text_file(std::string(LINKMARGIN_DATA) + "/languages/" + tag + ".yaml").value();
}

std::string with(std::string text, const std::string& old, const std::string& now) {
  const std::size_t at = text.find(old);
  REQUIRE(at != text.npos);
  return text.replace(at, old.size(), now);
}

/// The faults of a file, a line each.
std::string language_faults(const std::string& text) {
  const auto language = parse_language(text, "own.yaml");
  if (language) return "none";
  std::string lines;
  for (const Diagnostic& fault : language.error()) lines += to_text(fault) + "\n";
  return lines;
}

}  // namespace

TEST_CASE("the built-in languages say all texts with all places") {
  const LanguageWords& english = built_in_language("en").words();
  REQUIRE(english.texts.size() > 150);
  for (const std::string& tag : built_in_languages()) {
    const LanguageWords& words = built_in_language(tag).words();
    CHECK(words.tag == tag);
    REQUIRE(words.texts.size() == english.texts.size());
    for (const auto& [key, text] : english.texts) {
      const auto& key_shown = key;
      CAPTURE(key_shown);
      auto known = places_of(text), own = places_of(words.texts.at(key));
      std::ranges::sort(known);
      std::ranges::sort(own);
      CHECK(own == known);
      if (tag != "en" && key != "list.more" && text.find(' ') != text.npos && known.empty())
        CHECK(words.texts.at(key) != text);
    }
  }
  CHECK_THROWS_AS(built_in_language("xx"), DomainError);
}

TEST_CASE("the built-in languages are their files, flattened when the library is built") {
  for (const std::string& tag : built_in_languages()) {
    CAPTURE(tag);
    const auto read = parse_language(file_of(tag), tag + ".yaml");
    REQUIRE(read);
    CHECK(read->words() == built_in_language(tag).words());
  }
}

TEST_CASE("a file of one's own is held to the English one, with all its faults at once") {
  const std::string german = file_of("de");
  CHECK(language_faults(german) == "none");
  CHECK(language_faults(with(german, "    skip: ", "    skipp: ")).starts_with("own.yaml:"));
  const std::string two = language_faults(
      with(with(german, "    skip: ", "    skipp: "), "mit {hub} funktionieren", "mit {hubb} funktionieren"));
  CHECK(two.find("no text 'page.skipp' is asked for (did you mean 'page.skip'?)") != two.npos);
  CHECK(two.find("the text 'page.skip' is missing") != two.npos);
  CHECK(two.find("has no place '{hubb}' (did you mean 'hub'?)") != two.npos);
  CHECK(language_faults(with(german, "language: de", "lang: de")).find("unknown key 'lang'") !=
        std::string::npos);
  CHECK(language_faults("language: de\nname: Deutsch\n").find("'texts'") != std::string::npos);
  CHECK(language_faults("language: [").find("own.yaml:1:") == 0);
  CHECK(language_faults(with(german, "    skip: \"Zu den Geräten\"", "    skip: [a]"))
            .find("a text is needed for 'page.skip'") != std::string::npos);
}

TEST_CASE("the locale names a language") {
  CHECK(language_of_locale({nullptr, nullptr, "de_AT.UTF-8"}) == "de");
  CHECK(language_of_locale({"", nullptr, "de"}) == "de");
  CHECK(language_of_locale({"C", nullptr, "de_DE"}) == "en");
  CHECK(language_of_locale({nullptr, "de@euro", "fr_FR"}) == "de");
  CHECK(language_of_locale({nullptr, nullptr, "fr_FR.UTF-8"}) == "en");
  CHECK(language_of_locale({nullptr, nullptr, nullptr}) == "en");
}

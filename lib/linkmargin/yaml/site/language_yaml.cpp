#include "linkmargin/yaml/site/language_yaml.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/messages/flat_words.hpp"
#include "linkmargin/yaml/tree/document.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <algorithm>
#include <cctype>
#include <set>

namespace linkmargin {
namespace {

using yaml::Entry;
using yaml::Node;

constexpr const char* kTextsPath = "/texts";

/// The scalars of maps in maps, by their keys joined.
void flatten(const Node& node, const std::string& key, const std::string& path,
             std::map<std::string, std::string>& texts, std::map<std::string, Mark>& marks, Faults& faults) {
  for (const Entry& entry : node.entries) {
    const std::string own = key.empty() ? entry.key : key + "." + entry.key;
    const std::string place = path + "/" + pointer_token(entry.key);
    if (entry.value.kind == Node::Kind::mapping) {
      flatten(entry.value, own, place, texts, marks, faults);
    } else if (entry.value.kind != Node::Kind::scalar) {
      faults.add(entry.mark, DiagnosticCode::missing_key, place, "a text is needed for " + quoted(own));
    } else if (!texts.emplace(own, entry.value.text).second) {
      faults.add(entry.mark, DiagnosticCode::given_twice, place, quoted(own) + " is there twice");
    } else {
      marks.emplace(own, entry.mark);
    }
  }
}

/// Holds a language's texts to the English ones: all of them, no others, no place that English lacks.
void compare(const LanguageWords& english, const LanguageWords& words,
             const std::map<std::string, Mark>& marks, Mark top, Faults& faults) {
  std::vector<std::string> known;
  for (const auto& [key, text] : english.texts) known.push_back(key);
  for (const auto& [key, text] : words.texts) {
    const auto same = english.texts.find(key);
    if (same == english.texts.end()) {
      faults.add(marks.at(key), DiagnosticCode::unknown_name, kTextsPath,
                 "no text " + quoted(key) + " is asked for", faults.full() ? "" : nearest_hint(key, known));
      continue;
    }
    const std::vector<std::string> places = places_of(same->second);
    for (const std::string& place : places_of(text)) {
      if (std::ranges::find(places, place) == places.end())
        faults.add(marks.at(key), DiagnosticCode::unknown_name, kTextsPath,
                   quoted(key) + " has no place " + quoted("{" + place + "}"), nearest_hint(place, places));
    }
  }
  std::vector<std::string> missing;
  for (const std::string& key : known) {
    if (!words.texts.contains(key)) missing.push_back(key);
  }
  constexpr std::size_t kTold = 12;
  for (std::size_t i = 0; i < std::min(missing.size(), kTold); ++i)
    faults.add(top, DiagnosticCode::missing_key, kTextsPath,
               "the text " + quoted(missing[i]) + " is missing");
  if (missing.size() > kTold)
    faults.add(top, DiagnosticCode::missing_key, kTextsPath, "so are others; data/languages/en.yaml has all");
}

std::map<std::string, std::string> plain_map(const yaml::Cursor& map, Faults& faults) {
  std::map<std::string, std::string> texts;
  std::map<std::string, Mark> marks;
  flatten(map.node(), {}, map.pointer(), texts, marks, faults);
  return texts;
}

Result<LanguageWords> read_words(std::string_view text, const std::string& file_name,
                                 const LanguageWords& english) {
  Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const yaml::Cursor top(*root);
  yaml::ObjectReader reader(top, "", faults);
  LanguageWords words;
  words.tag = reader.name("language");
  words.name = reader.name("name");
  if (const auto mark = reader.name_if("decimal_mark")) words.decimal_mark = *mark;
  if (const auto texts = reader.need("texts")) {
    std::map<std::string, Mark> marks;
    flatten(texts->node(), {}, kTextsPath, words.texts, marks, faults);
    compare(english, words, marks, texts->node().mark, faults);
  }
  if (const auto materials = reader.find("materials")) words.materials = plain_map(*materials, faults);
  reader.finish();
  if (faults.empty()) return words;
  return std::move(faults).sorted();
}

const Language& english() {
  static const Language language(words_of_lines(embedded::en()));
  return language;
}

}  // namespace

const std::vector<std::string>& built_in_languages() {
  static const std::vector<std::string> tags{"en", "de"};
  return tags;
}

const Language& built_in_language(std::string_view tag) {
  if (tag == "en") return english();
  if (tag != "de") throw DomainError("no language '" + std::string(tag) + "' is built in");
  static const Language german(words_of_lines(embedded::de()));
  return german;
}

Result<Language> parse_language(std::string_view text, const std::string& file_name) {
  Result<LanguageWords> words = read_words(text, file_name, english().words());
  if (!words) return words.error();
  return Language(std::move(words.value()));
}

std::string language_of_locale(const std::vector<const char*>& settings) {
  for (const char* setting : settings) {
    if (setting == nullptr || *setting == '\0') continue;
    const std::string_view all(setting);
    const std::string tag(all.substr(0, all.find_first_of("_.@-")));
    const auto& known = built_in_languages();
    return std::ranges::find(known, tag) == known.end() ? known.front() : tag;
  }
  return built_in_languages().front();
}

}  // namespace linkmargin

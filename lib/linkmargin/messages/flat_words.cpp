#include "linkmargin/messages/flat_words.hpp"

#include <string>

namespace linkmargin {
namespace {

void take(std::string_view key, std::string_view text, LanguageWords& words) {
  constexpr std::string_view of_texts = "texts.";
  constexpr std::string_view of_materials = "materials.";
  if (key.starts_with(of_texts)) {
    words.texts.emplace(key.substr(of_texts.size()), text);
  } else if (key.starts_with(of_materials)) {
    words.materials.emplace(key.substr(of_materials.size()), text);
  } else {
    (key == "language" ? words.tag : key == "name" ? words.name : words.decimal_mark) = text;
  }
}

}  // namespace

LanguageWords words_of_lines(std::span<const std::string_view> parts) {
  LanguageWords words;
  for (std::string_view lines : parts) {
    while (!lines.empty()) {
      const std::size_t end = lines.find('\n');
      const std::string_view line = lines.substr(0, end);
      const std::size_t tab = line.find('\t');
      take(line.substr(0, tab), line.substr(tab + 1), words);
      lines.remove_prefix(end + 1);
    }
  }
  return words;
}

}  // namespace linkmargin

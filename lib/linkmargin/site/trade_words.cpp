#include "linkmargin/site/trade_words.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/text/look_alike.hpp"

#include <algorithm>
#include <stdexcept>

namespace linkmargin {
namespace {

/// "material,uPVC door,plastic door"
TradeWord row_of(std::string_view line) {
  const std::size_t first = line.find(',');
  const std::size_t second = line.find(',', first + 1);
  if (second == std::string_view::npos || line.find(',', second + 1) != std::string_view::npos)
    throw std::logic_error("a line of the words of the trade is faulty: " + std::string(line));
  return {line.substr(0, first), line.substr(first + 1, second - first - 1), line.substr(second + 1)};
}

std::vector<TradeWord> read_words() {
  std::vector<TradeWord> words;
  for (std::string_view part : embedded::trade_words()) {  // each ends with a line
    while (!part.empty()) {
      const std::size_t end = std::min(part.find('\n'), part.size());
      if (end > 0 && part.front() != '#') words.push_back(row_of(part.substr(0, end)));
      part.remove_prefix(std::min(end + 1, part.size()));
    }
  }
  return words;
}

/// How a word is compared.
std::string bare(std::string_view word) {
  std::string look = look_of(word);
  std::erase(look, '-');
  return look;
}

/// The words of one kind, each with how it is compared.
struct Index {
  std::vector<std::string> bare_words;
  std::vector<std::string_view> names;
};

Index index_of(std::string_view what) {
  Index index;
  for (const TradeWord& row : trade_words()) {
    if (row.what != what) continue;
    index.bare_words.push_back(bare(row.word));
    index.names.push_back(row.name);
  }
  return index;
}

const Index& words_of(std::string_view what) {
  static const Index materials = index_of("material");
  static const Index profiles = index_of("profile");
  static const Index none;
  if (what == "material") return materials;
  return what == "profile" ? profiles : none;
}

/// The known names for a word; "did you mean 'X' or 'Y'?"
std::string hint_by_word(const Index& index, std::string_view bare_word, std::span<const std::string> known) {
  std::string names;
  for (std::size_t i = 0; i < index.names.size(); ++i) {
    if (index.bare_words[i] != bare_word) continue;
    if (std::ranges::find(known, index.names[i]) == known.end()) continue;
    names += (names.empty() ? "'" : " or '") + std::string(index.names[i]) + "'";
  }
  return names.empty() ? names : "did you mean " + names + "?";
}

/// The words of a name, each as it is compared; figures and signs part them.
std::vector<std::string> bare_parts(std::string_view name) {
  constexpr std::string_view between = " -_/.,()&+0123456789";
  std::vector<std::string> parts;
  while (!name.empty()) {
    const std::size_t end = std::min(name.find_first_of(between), name.size());
    if (end > 0) parts.push_back(bare(name.substr(0, end)));
    name.remove_prefix(std::min(end + 1, name.size()));
  }
  return parts;
}

}  // namespace

bool names_wet_room(std::string_view name) {
  static const Index wet = index_of("room");
  const auto is_word = [](const std::string& word) {
    return std::ranges::find(wet.bare_words, word) != wet.bare_words.end();
  };
  const std::vector<std::string> parts = bare_parts(name);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (is_word(parts[i]) || (i > 0 && is_word(parts[i - 1] + parts[i]))) return true;
  }
  return false;
}

const std::vector<TradeWord>& trade_words() {
  static const std::vector<TradeWord> words = read_words();
  return words;
}

std::string name_hint(std::string_view what, std::string_view written, std::span<const std::string> known) {
  const Index& index = words_of(what);
  const std::string word = bare(written);
  std::string hint = hint_by_word(index, word, known);
  if (index.names.empty()) return nearest_hint(written, known);
  if (const auto near = nearest_name(written, known); near && hint.empty())
    hint = "did you mean '" + *near + "'?";
  if (!hint.empty()) return hint;
  const auto near = nearest_name(word, index.bare_words);
  return near ? hint_by_word(index, *near, known) : std::string();
}

}  // namespace linkmargin

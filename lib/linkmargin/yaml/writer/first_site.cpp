#include "linkmargin/yaml/writer/first_site.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/name_flaw.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/scalar_text.hpp"

#include <array>
#include <optional>
#include <sstream>
#include <vector>

namespace linkmargin {
namespace {

constexpr const char* kSource = "rooms";

struct Relation {
  std::array<std::string_view, 2> words;  ///< the second may be empty
  std::string_view key;
};
constexpr std::array<Relation, 4> kRelations{{{{"left", "of"}, "left_of"},
                                              {{"right", "of"}, "right_of"},
                                              {{"above", ""}, "above"},
                                              {{"below", ""}, "below"}}};

using Words = std::vector<std::string>;

Words words_of(std::string_view text) {
  std::istringstream stream{std::string(text)};
  Words words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

std::string joined_words(const Words& words, std::size_t begin, std::size_t end) {
  std::string text;
  for (std::size_t i = begin; i < end; ++i) text += (text.empty() ? "" : " ") + words[i];
  return text;
}

/// "6x5" as "[6, 5]", or nothing.
std::optional<std::string> size_text(const std::string& word) {
  const std::size_t cross = word.find('x');
  if (cross == std::string::npos) return {};
  const auto width_m = parse_number(word.substr(0, cross));
  const auto depth_m = parse_number(word.substr(cross + 1));
  if (!width_m || !depth_m) return {};
  return "[" + shortest_text(*width_m) + ", " + shortest_text(*depth_m) + "]";
}

/// A room as a line of the map `rooms`, or nothing.
std::optional<std::string> room_line(const Words& words, std::string& name) {
  std::size_t size_at = 0;
  while (size_at < words.size() && !size_text(words[size_at])) ++size_at;
  if (size_at == 0 || size_at == words.size()) return {};
  name = joined_words(words, 0, size_at);
  if (!name_flaw(name, name).empty()) return {};
  std::string line =
      yaml::scalar_text(name, yaml::Quotes::as_needed) + ": {size_m: " + *size_text(words[size_at]);
  if (size_at + 1 == words.size()) return line + "}";
  for (const Relation& relation : kRelations) {
    const std::size_t count = relation.words[1].empty() ? 1 : 2;
    const std::size_t other_at = size_at + 1 + count;
    if (other_at >= words.size() || words[size_at + 1] != relation.words[0]) continue;
    if (count == 2 && words[size_at + 2] != relation.words[1]) continue;
    const std::string other = joined_words(words, other_at, words.size());
    return line + ", " + std::string(relation.key) + ": " +
           yaml::scalar_text(other, yaml::Quotes::as_needed) + "}";
  }
  return {};
}

Diagnostic unread(std::string_view item) {
  Diagnostic fault;
  fault.file = kSource;
  fault.code = DiagnosticCode::syntax;
  fault.message = "this is no room: '" + joined_words(words_of(item), 0, words_of(item).size()) + "'";
  fault.hint = "a name, width x depth in metres, and a neighbour: shop 6x5 left of hall";
  return fault;
}

}  // namespace

Result<std::string> first_site(std::string_view rooms, const Tables& tables) {
  std::string lines;
  std::string first;
  Diagnostics faults;
  for (std::size_t begin = 0; begin <= rooms.size();) {
    const std::size_t end = std::min(rooms.find(',', begin), rooms.size());
    const std::string_view item = rooms.substr(begin, end - begin);
    std::string name;
    if (const auto line = room_line(words_of(item), name)) {
      lines += "      " + *line + "\n";
      if (first.empty()) first = name;
    } else {
      faults.push_back(unread(item));
    }
    begin = end + 1;
  }
  if (!faults.empty()) return faults;
  std::string text =
      "# A first file. Next: other storeys, doors and windows (openings), devices; docs/short-form.md shows "
      "how.\n"
      "site: My site\n"
      "radio: {frequency_mhz: 868.3}\n"
      "construction: solid brick      # how the house is built; docs/site-file.md lists others\n"
      "storeys:\n"
      "  - name: ground\n"
      "    height_m: 2.5              # from floor to ceiling\n"
      "    rooms:                     # [width, depth], and which room each stands by\n" +
      lines + "    openings: []               # - {name: front door, in: " + first +
      ", wall: bottom}\n"
      "hubs:\n"
      "  hub: {in: " +
      yaml::scalar_text(first, yaml::Quotes::as_needed) +
      ", at: corner top left}\n"
      "devices:                       # hall motion: {in: hall, at: corner bottom right}\n";
  const auto site = parse_site(text, kSource, tables);
  if (!site) return site.error();
  return text;
}

}  // namespace linkmargin

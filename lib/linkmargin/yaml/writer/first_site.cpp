#include "linkmargin/yaml/writer/first_site.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/name_flaw.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/scalar_text.hpp"

#include <algorithm>
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

/// "6x5" as "[6, 5]", "12'6\"x10'" as "[12'6\", 10']"; or nothing.
std::optional<std::string> size_text(const std::string& word) {
  const std::size_t cross = word.find('x');
  if (cross == std::string::npos) return {};
  const auto side = [](const std::string& text) -> std::optional<std::string> {
    if (const auto figure = parse_number(text)) return shortest_text(*figure);
    return parse_length_m(text) ? std::optional(text) : std::nullopt;
  };
  const auto width = side(word.substr(0, cross));
  const auto depth = side(word.substr(cross + 1));
  if (!width || !depth) return {};
  return "[" + *width + ", " + *depth + "]";
}

/// Feet where a size is typed in feet or inches.
LengthUnit unit_in(std::string rooms) {
  std::ranges::replace(rooms, ',', ' ');
  const Words words = words_of(rooms);
  const bool in_feet = std::ranges::any_of(words, [](const std::string& word) {
    constexpr std::array<std::string_view, 4> marks{"'", "\"", "ft", "in"};
    return size_text(word) && std::ranges::any_of(marks, [&](std::string_view mark) {
             return word.find(mark) != std::string::npos;
           });
  });
  return in_feet ? LengthUnit::foot : LengthUnit::metre;
}

/// The clear height as the file has it; what nobody said is a usual one in the unit of the file.
std::string height_text(double height_m, LengthUnit unit) {
  if (unit == LengthUnit::metre) return shortest_text(height_m);
  return height_m == FirstHouse{}.height_m ? "8'" : feet_text(height_m, 2);
}

/// A room as a line of the map `rooms`, or nothing.
std::optional<std::string> room_line(const Words& words, std::string& name) {
  std::size_t size_at = 0;
  while (size_at < words.size() && !size_text(words[size_at])) ++size_at;
  if (size_at == 0 || size_at == words.size()) return {};
  name = joined_words(words, 0, size_at);
  if (!name_flaw(name, name).empty()) return {};
  std::string line = yaml::scalar_text(name) + ": {size_m: " + *size_text(words[size_at]);
  if (size_at + 1 == words.size()) return line + "}";
  for (const Relation& relation : kRelations) {
    const std::size_t count = relation.words[1].empty() ? 1 : 2;
    const std::size_t other_at = size_at + 1 + count;
    if (other_at >= words.size() || words[size_at + 1] != relation.words[0]) continue;
    if (count == 2 && words[size_at + 2] != relation.words[1]) continue;
    const std::string other = joined_words(words, other_at, words.size());
    return line + ", " + std::string(relation.key) + ": " + yaml::scalar_text(other) + "}";
  }
  return {};
}

Diagnostic unread(std::string_view item) {
  Diagnostic fault;
  fault.file = kSource;
  fault.code = DiagnosticCode::syntax;
  fault.message = "this is no room: '" + joined_words(words_of(item), 0, words_of(item).size()) + "'";
  fault.hint = "a name, width x depth, and a neighbour: shop 6x5 left of hall, shop 20'x16'6\" left of hall";
  return fault;
}

Diagnostic unread_answer(const std::string& answer, const char* what, const char* hint) {
  Diagnostic fault;
  fault.file = kSource;
  fault.code = DiagnosticCode::syntax;
  fault.message = std::string("this is no ") + what + ": '" + answer + "'";
  fault.hint = hint;
  return fault;
}

/// "hall bottom" as a line of the list `openings`.
std::optional<std::string> door_line(const std::string& answer) {
  const Words words = words_of(answer);
  constexpr std::array<std::string_view, 4> kSides{"left", "right", "top", "bottom"};
  if (words.size() < 2 || std::ranges::find(kSides, words.back()) == kSides.end()) return {};
  const std::string room = joined_words(words, 0, words.size() - 1);
  return "      - {name: " + yaml::scalar_text(room + " " + words.back() + " front door") +
         ", in: " + yaml::scalar_text(room) + ", wall: " + words.back() + "}\n";
}

/// "hall motion in hall" as a line of the map `devices`. @param at  where it hangs in its room; may be empty
std::optional<std::string> device_line(const std::string& answer, const std::string& at) {
  const Words words = words_of(answer);
  for (std::size_t i = words.size(); i-- > 1;) {
    if ((words[i] != "in" && words[i] != "on") || i + 1 == words.size()) continue;
    const bool in = words[i] == "in";
    return "  " + yaml::scalar_text(joined_words(words, 0, i)) + ": {" + words[i] + ": " +
           yaml::scalar_text(joined_words(words, i + 1, words.size())) +
           (in && !at.empty() ? ", at: " + at + "}   # assumed: put it where it hangs\n" : "}\n");
  }
  return {};
}

/// The file with some devices' places in their rooms said.
std::string file_text(const FirstHouse& house, const std::string& rooms, const std::string& first,
                      const std::string& doors, const std::string& devices) {
  const LengthUnit unit = unit_in(house.rooms);
  return "# A first file. Next: other storeys, doors and windows (openings), devices; docs/short-form.md "
         "shows "
         "how.\n"
         "site: " +
         yaml::scalar_text(house.name) + "\n" + (unit == LengthUnit::foot ? "units: {length: ft}\n" : "") +
         "radio: {frequency_mhz: " + shortest_text(house.frequency_mhz) +
         "}\n"
         "construction: " +
         yaml::scalar_text(house.construction) +
         "      # how the house is built; docs/site-file.md lists others\n"
         "storeys:\n"
         "  - name: ground\n"
         "    height_m: " +
         height_text(house.height_m, unit) +
         "              # from floor to ceiling\n"
         "    rooms:                     # [width, depth], and which room each stands by\n" +
         rooms +
         (doors.empty()
              ? "    openings: []               # - {name: front door, in: " + first + ", wall: bottom}\n"
              : "    openings:                  # in the middle of that wall\n" + doors) +
         "hubs:\n"
         "  hub: {in: " +
         yaml::scalar_text(house.hub_room.empty() ? first : house.hub_room) + ", at: corner " +
         house.hub_corner +
         "}\n"
         "devices:                       # hall motion: {in: hall, at: corner bottom right}\n" +
         devices;
}

}  // namespace

Result<std::string> first_site(const FirstHouse& house, const Tables& tables) {
  std::string rooms, doors, first;
  Diagnostics faults;
  for (std::size_t begin = 0; begin <= house.rooms.size();) {
    const std::size_t end = std::min(house.rooms.find(',', begin), house.rooms.size());
    const std::string item = house.rooms.substr(begin, end - begin);
    std::string name;
    if (const auto line = room_line(words_of(item), name)) {
      rooms += "      " + *line + "\n";
      if (first.empty()) first = name;
    } else {
      faults.push_back(unread(item));
    }
    begin = end + 1;
  }
  for (const std::string& answer : house.doors) {
    if (const auto line = door_line(answer)) {
      doors += *line;
    } else {
      faults.push_back(unread_answer(answer, "door", "a room and a side of it: hall bottom"));
    }
  }
  std::string devices;
  for (const std::string& answer : house.devices) {
    auto line = device_line(answer, "");
    if (!line) {
      faults.push_back(unread_answer(answer, "device",
                                     "a name and a room: hall motion in hall; or a door: contact on door"));
      continue;
    }
    // A device on a wall needs its place there: a corner, until a person says better.
    if (faults.empty() && !parse_site(file_text(house, rooms, first, doors, *line), kSource, tables))
      line = device_line(answer, "corner bottom right");
    devices += *line;
  }
  if (!faults.empty()) return faults;
  std::string text = file_text(house, rooms, first, doors, devices);
  const auto site = parse_site(text, kSource, tables);
  if (!site) return site.error();
  return text;
}

Result<std::string> first_site(std::string_view rooms, const Tables& tables) {
  return first_site(FirstHouse{.rooms = std::string(rooms)}, tables);
}

}  // namespace linkmargin

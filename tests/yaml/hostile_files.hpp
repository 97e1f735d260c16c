#pragma once

#include "linkmargin/yaml/text_file.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <utility>
#include <vector>

/// Files as long as may be, written to cost their reader as much as they can.
namespace hostile {

using linkmargin::kMaxFileBytes;

/// The same piece again and again, as often as a file holds it.
inline std::string filled_with(const std::string& piece, const std::string& before = {}) {
  std::string text = before;
  while (text.size() + piece.size() <= kMaxFileBytes) text += piece;
  return text;
}

/// A site of these storeys and devices, sound but for them.
inline std::string site(const std::string& storeys, const std::string& devices,
                        const std::string& more = {}) {
  return "site: s\nradio: {frequency_mhz: 868.3}\n" + more + "storeys:\n" + storeys +
         "hubs:\n  hub: {profile: hub, storey: g, at_m: [1, 1], height_m: 2}\ndevices:\n" + devices;
}

inline const std::string kStorey =
    "  - {name: g, level_m: 0, height_m: 2.6, outer_wall: {material: brick, thickness_m: 0.2}, inner_wall: "
    "{material: brick, thickness_m: 0.1}, rooms: {a: {rect_m: [0, 0, 5, 4]}}}\n";

/// Items made by their number, until there are so many or the text is so long.
inline std::string items(std::size_t count, std::size_t most_bytes,
                         const std::function<std::string(std::size_t)>& item) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i) {
    std::string next = item(i);
    if (text.size() + next.size() > most_bytes) break;
    text += next;
  }
  return text;
}

inline std::string number(std::size_t i) {
  return std::to_string(i);
}

inline std::string device(std::size_t i, const std::string& profile, const std::string& more = {}) {
  return "  d" + number(i) + ": {profile: " + profile + ", storey: g, at_m: [1, 1], height_m: 1" + more +
         "}\n";
}

/// A name as long as names may be, another for each number.
inline std::string long_name(std::size_t i) {
  std::string name = "name" + number(i);
  name.resize(80, 'x');
  return name;
}

using File = std::pair<std::string, std::function<std::string()>>;

/// Text that is no site, or hardly.
inline std::vector<File> texts() {
  std::vector<File> files;
  for (const char* piece :
       {"[",     "{",    "{a: ",     "[a: ",        "[]",  "- ",    "? ",     "- - ",    ": ",
        "a: {",  "],[",  "[\"]\",",  "&a ",         "*a ", "!a ",   "! ",     "&a\n",    "!a\n",
        "\"\" ", "\"\"", "''",       "' ' ",        "\"",  "'",     "a: 1\n", "a:\n",    "a: [1,2]\n",
        "- 1\n", "-\n",  "{}: ",     "x",           "x ",  "word ", "word\n", "word\n ", "# note\n",
        "#",     "\n",   " ",        "a: |\n  x\n", "%",   "%a\n",  "---\n",  "...\n",   "--- a\n",
        "|",     ">",    "\xC3\xA9", "a:b:",        "\\",  "\t",    ", ",     "@",       "`"}) {
    files.emplace_back("of " + std::string(piece), [piece] { return filled_with(piece); });
  }
  for (const auto& [before, piece] : std::vector<std::pair<std::string, std::string>>{
           {"a: [", "1,"},     {"a: [", "1,\n"},       {"a: [", "[],"},
           {"a: {", "b: 1, "}, {"a: {", "b: 1,\n"},    {"a: [", "\"\","},
           {"a: [", "'','',"}, {"a: \"", "\\u00e9"},   {"a: \"", "\n\n"},
           {"a: '", "''"},     {"a: |\n", "  text\n"}, {"a: >\n", "  text\n\n"},
           {"a: ", "word "},   {"a: \n", "  word\n"},  {"a: [", "&b c,"},
           {"a: [", "*b,"},    {"&b a: [", "*b,"},     {"&b a: 1\nc: [\n", "*b,\n"},
           {"a: [", "!b c,"},  {"a: [", "? b,"},       {"x: [", "{a: 1},"},
           {"x: [", "a: 1,"},  {"- [", "\n[1],"},      {"a: [\"", "]\",\"["}}) {
    files.emplace_back("of " + before + piece,
                       [before = before, piece = piece] { return filled_with(piece, before); });
  }
  files.emplace_back("indented ever deeper", [] {
    std::string text;
    for (std::size_t depth = 0; text.size() + depth + 3 <= kMaxFileBytes; ++depth)
      text += std::string(depth, ' ') + "a:\n";
    return text;
  });
  files.emplace_back("of many keys", [] {
    return items(kMaxFileBytes, kMaxFileBytes, [](std::size_t i) { return "k" + number(i) + ": 1\n"; });
  });
  files.emplace_back("of many anchors and aliases", [] {
    return items(kMaxFileBytes, kMaxFileBytes,
                 [](std::size_t i) { return "- &a" + number(i) + " 1\n- *a" + number(i) + "\n"; });
  });
  files.emplace_back("of one long key", [] { return std::string(kMaxFileBytes - 3, 'x') + ": 1"; });
  files.emplace_back("of one long text",
                     [] { return "site: \"" + std::string(kMaxFileBytes - 8, 'x') + '"'; });
  return files;
}

/// Sites with as much in them, or as much wrong with them, as a file holds.
inline std::vector<File> sites() {
  const std::size_t room = kMaxFileBytes - 2000;
  const auto of_devices = [room](const std::function<std::string(std::size_t)>& item) {
    return [room, item] { return site(kStorey, items(20'000, room, item)); };
  };
  const auto of_storeys = [room](const std::string& head, std::size_t count,
                                 const std::function<std::string(std::size_t)>& item) {
    return [=] {
      return site(
          "  - name: g\n    level_m: 0\n    height_m: 2.6\n    outer_wall: {material: brick wall}\n    "
          "inner_wall: {material: brick wall}\n" +
              head + items(count, room, item),
          device(0, "contact"));
    };
  };
  const std::string one_room = "    rooms: {a: {rect_m: [0, 0, 5, 4]}}\n";
  std::vector<File> files;
  files.emplace_back("20000 devices", of_devices([](std::size_t i) { return device(i, "contact"); }));
  files.emplace_back("unknown profiles",
                     of_devices([](std::size_t i) { return device(i, "p" + number(i)); }));
  files.emplace_back("unknown hubs",
                     of_devices([](std::size_t i) { return device(i, "contact", ", hub: h"); }));
  files.emplace_back("unknown keys",
                     of_devices([](std::size_t i) { return device(i, "contact", ", a: 1, b: 2, c: 3"); }));
  files.emplace_back("empty devices", of_devices([](std::size_t i) { return "  d" + number(i) + ": {}\n"; }));
  files.emplace_back("devices of no map",
                     of_devices([](std::size_t i) { return "  d" + number(i) + ": 1\n"; }));
  files.emplace_back("devices too high", of_devices([](std::size_t i) {
                       return "  d" + number(i) + ": {profile: hub, storey: g, at_m: [1, 1], height_m: 90}\n";
                     }));
  files.emplace_back("the same device", of_devices([](std::size_t) { return device(0, "contact"); }));
  files.emplace_back("bad names", of_devices([](std::size_t i) { return device(i, "\"a\\u200b\""); }));
  files.emplace_back("long names", of_devices([](std::size_t i) {
                       return "  " + long_name(i) + ": {profile: " + long_name(i + 1) + ", storey: g}\n";
                     }));
  files.emplace_back("one device wrong, 20000 unknown profiles", of_devices([](std::size_t i) {
                       return i == 0 ? "  d: {profile: hub, storey: g, at_m: [1], height_m: 1}\n"
                                     : device(i, "p");
                     }));
  files.emplace_back("many profiles and many unknown ones", [room] {
    return site(kStorey, items(20'000, room / 2, [](std::size_t i) { return device(i, "q" + number(i)); }),
                "profiles:\n" + items(5'000, room / 2, [](std::size_t i) {
                  return "  " + long_name(i) + ": {erp_dbm: 10}\n";
                }));
  });
  files.emplace_back("many materials, many unknown ones", [room] {
    return site(kStorey, device(0, "contact"), "materials:\n" + items(5'000, room, [](std::size_t i) {
                                                 return "  m" + number(i) + ": {layers: [{of: n" + number(i) +
                                                        ", thickness_m: 0.1}]}\n";
                                               }));
  });
  files.emplace_back("unknown keys at the top", [room] {
    return site(kStorey, device(0, "contact"),
                items(200'000, room, [](std::size_t i) { return "z" + number(i) + ": 1\n"; }));
  });
  files.emplace_back("2000 rooms", of_storeys("    rooms:\n", 2'000, [](std::size_t i) {
                       return "      r" + number(i) + ": {rect_m: [" + number(i % 40 * 5) + ", " +
                              number(i / 40 * 5) + ", 5, 5]}\n";
                     }));
  files.emplace_back("2000 rooms in one place", of_storeys("    rooms:\n", 2'000, [](std::size_t i) {
                       return "      r" + number(i) + ": {rect_m: [0, 0, 5, 5]}\n";
                     }));
  files.emplace_back("rooms of 500 corners", of_storeys("    rooms:\n", 2'000, [](std::size_t i) {
                       std::string corners;
                       for (std::size_t k = 0; k < 250; ++k)
                         corners += "[" + number(i * 3) + "." + number(k) + "1," + number(k % 2) + "],";
                       for (std::size_t k = 250; k-- > 0;)
                         corners += "[" + number(i * 3) + "." + number(k) + "2,9],";
                       corners.pop_back();
                       return "      r" + number(i) + ": {corners_m: [" + corners + "]}\n";
                     }));
  files.emplace_back(
      "openings of unknown rooms", of_storeys(one_room + "    openings:\n", 5'000, [](std::size_t i) {
        return "      - {name: o" + number(i) + ", between: [b, c], at_m: [1, 0], width_m: 1, height_m: 2}\n";
      }));
  files.emplace_back("openings off their wall",
                     of_storeys(one_room + "    openings:\n", 5'000, [](std::size_t i) {
                       return "      - {name: o" + number(i) +
                              ", between: [a, outside], at_m: [1, 3], width_m: 1, height_m: 2}\n";
                     }));
  files.emplace_back("openings in one place",
                     of_storeys(one_room + "    openings:\n", 5'000, [](std::size_t i) {
                       return "      - {name: o" + number(i) +
                              ", between: [a, outside], at_m: [1, 0], width_m: 1, height_m: 2}\n";
                     }));
  files.emplace_back("walls across each other",
                     of_storeys(one_room + "    walls:\n", 5'000, [](std::size_t i) {
                       return "      - {name: w" + number(i) + ", line_m: [[0, " + number(i) + "], [100, " +
                              number(5000 - i) + "]], material: brick wall}\n";
                     }));
  files.emplace_back(
      "obstacles in one place", of_storeys(one_room + "    obstacles:\n", 5'000, [](std::size_t i) {
        return "      - {name: o" + number(i) + ", rect_m: [1, 1, 1, 1], height_m: 1, material: metal}\n";
      }));
  files.emplace_back("200 storeys in one place", [room] {
    return site(items(200, room,
                      [](std::size_t i) {
                        return "  - {name: s" + number(i) +
                               ", level_m: 0, height_m: 2.6, outer_wall: {material: brick wall}, "
                               "rooms: {a: {rect_m: [0, 0, 5, 4]}}}\n";
                      }),
                items(19'000, room / 2, [](std::size_t i) { return device(i, "contact"); }));
  });
  files.emplace_back("correlations of everything", [room] {
    return site(kStorey, device(0, "contact"),
                "calibration:\n  correlations:\n" + items(5'000, room, [](std::size_t) {
                  return std::string("    - [/radio/exponent, /reading/zero_dbm, 0.5]\n");
                }));
  });
  files.emplace_back("a site in brackets", [room] {
    return "{site: s, radio: {frequency_mhz: 868.3}, storeys: [{name: g, level_m: 0, height_m: 2.6}], hubs: "
           "{}, "
           "devices: {" +
           items(20'000, room,
                 [](std::size_t i) {
                   return "d" + number(i) + ": {profile: p, storey: g, at_m: [1, 1], height_m: 1},";
                 }) +
           "}}";
  });
  return files;
}

}  // namespace hostile

#include "linkmargin/yaml/short_form/sockets_yaml.hpp"

#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/sheet_side.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/yaml/fields/shapes_yaml.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <string_view>

namespace linkmargin::yaml {
namespace {

constexpr Range kAlongWallM{0, 300, "distance along a wall", "common practice"};

constexpr const char* kForm = "a place such as \"left wall, 0.4 m from bottom\"";

std::optional<SheetSide> side_of(std::string_view word) {
  const auto* found = std::ranges::find(kSideWords, word, &EnumName<SheetSide>::word);
  return found == std::end(kSideWords) ? std::nullopt : std::optional(found->meaning);
}

/// "left wall, 0.4 m from bottom"; nothing where the text has another form.
std::optional<WallSpot> parsed(std::string_view text) {
  constexpr std::string_view on_wall = " wall,", from = " from ";
  const std::size_t comma = text.find(on_wall);
  const std::size_t unit = text.rfind(from);
  if (comma == std::string_view::npos || unit == std::string_view::npos || unit < comma) return {};
  const std::size_t number = comma + on_wall.size();
  const auto wall = side_of(text.substr(0, comma));
  const auto end = side_of(text.substr(unit + from.size()));
  const auto distance_m = parse_length_m(trimmed(text.substr(number, unit - number)));
  if (!wall || !end || !distance_m) return {};
  return WallSpot{*wall, *end, *distance_m};
}

std::optional<Socket> read_spot(const Cursor& cursor, Faults& faults) {
  if (!expect(cursor, Node::Kind::scalar, kForm, faults)) return {};
  const std::string& text = cursor.node().text;
  const auto spot = parsed(text);
  if (!spot) {
    const bool cut = text.ends_with(" wall");
    add_fault(cursor, DiagnosticCode::wrong_type,
              "expected " + std::string(kForm) + ", found " + quoted(text, '"'),
              cut ? "inside { } and [ ] put it in quotation marks, for it holds a comma" : "", faults);
    return {};
  }
  if (is_upright(spot->wall) == is_upright(spot->from)) {
    const char* ends = is_upright(spot->wall) ? "from bottom or from top" : "from left or from right";
    add_fault(cursor, DiagnosticCode::impossible,
              quoted(text, '"') + ": along this wall one measures " + ends, "", faults);
    return {};
  }
  if (!kAlongWallM.contains(spot->distance_m)) {
    add_fault(cursor, DiagnosticCode::outside_range,
              shortest_text(spot->distance_m) + " is outside " + shortest_text(kAlongWallM.min) + ".." +
                  shortest_text(kAlongWallM.max),
              "", faults);
    return {};
  }
  return *spot;
}

std::optional<Socket> read_socket(const Cursor& cursor, Faults& faults) {
  if (cursor.node().kind != Node::Kind::mapping) return read_spot(cursor, faults);
  ObjectReader reader(cursor, "socket", faults);
  reader.exactly_one_of({"on", "at_m"});
  std::optional<Socket> found;
  if (const auto on = reader.find("on")) {
    found = read_spot(*on, faults);
    if (!found) return {};  // what else stands there may be the rest of it
  }
  if (const auto at = reader.find("at_m")) {
    if (const auto point = read_point(*at, faults)) found = *point;
  }
  reader.finish();
  return found;
}

}  // namespace

std::vector<Socket> read_sockets(const Cursor& cursor, Faults& faults) {
  std::vector<Socket> sockets;
  for_one_or_each(cursor, limits::kSockets, faults, [&](const Cursor& item) {
    if (const auto socket = read_socket(item, faults)) sockets.push_back(*socket);
  });
  return sockets;
}

}  // namespace linkmargin::yaml

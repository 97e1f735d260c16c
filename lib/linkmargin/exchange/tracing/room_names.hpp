#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <string>
#include <string_view>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// A text of a drawing that may name a room.
struct NameText {
  Point2 at;
  double height = 0;
  std::string text;
  bool of_room = false;  ///< it stands on a layer of names, or is the name of a room drawn for itself
};

/// The part of a text that may be a name: its first line with letters that is no area, height or number.
/// Empty where there is none.
std::string name_in(std::string_view text);

struct RoomNames {
  std::vector<std::string> names;  ///< one a room
  std::vector<std::string>
      several_names;  ///< of rooms that have more than one name of one size: is a wall missing?
};

/// A name for each room: of the texts in it the one on a layer of names, then the largest, then the first;
/// "room 3" where there is none. A name that another room has gets a number behind it.
RoomNames room_names(const std::vector<Polygon2>& rooms, const std::vector<NameText>& texts);

/// A name that is none of the names taken: with a number behind it where it is.
std::string fresh_name(const std::string& name, std::vector<std::string>& taken);

}  // namespace linkmargin::exchange

#pragma once

#include "linkmargin/site/layout/room_layout.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// Walls of its own that a room was given.
struct OwnWalls {
  std::string room;
  std::optional<Construction> outer{};
  std::optional<Construction> inner{};
  std::string_view outer_key = "outer_wall";  ///< that said it, or `walls`
  std::string_view inner_key = "inner_wall";
  Mark mark{};  ///< of `inner_wall`, or of `walls`
};

/// What one room of the map `rooms` says.
struct TypedRoom {
  Room room;
  layout::SizedRoom sized;
  bool by_size = false;
  OwnWalls walls;
  std::optional<OwnCeiling> ceiling{};
};

/// [a, b], both in a range. @param form  for the fault: "[width, depth]"
std::optional<Point2> read_pair(const Cursor& list, std::string_view form, const Range& range,
                                Faults& faults);

/// One name, or a list of them.
std::vector<std::string> read_names(const Cursor& cursor, Faults& faults);

/// Reads one room of the map `rooms`, and which of its keys go together.
/// @param in_grid  whether the storey's grid gives it its place
TypedRoom read_typed_room(const Cursor& cursor, const std::string& name, bool in_grid, Faults& faults);

}  // namespace linkmargin::yaml

#pragma once

#include "linkmargin/site/layout/room_layout.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>

namespace linkmargin::yaml {

/// Walls of its own that a room was given.
struct OwnWalls {
  std::string room;
  std::optional<Construction> outer{};
  std::optional<Construction> inner{};
  Mark mark{};  ///< of `inner_wall`
};

/// What one room of the map `rooms` says.
struct TypedRoom {
  Room room;
  layout::SizedRoom sized;
  bool by_size = false;
  OwnWalls walls;
};

/// Reads one room of the map `rooms`, and which of its keys go together.
/// @param in_grid  whether the storey's grid gives it its place
TypedRoom read_typed_room(const Cursor& cursor, const std::string& name, bool in_grid, Faults& faults);

}  // namespace linkmargin::yaml

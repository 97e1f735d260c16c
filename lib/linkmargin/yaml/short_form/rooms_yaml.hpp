#pragma once

#include "linkmargin/yaml/short_form/room_reader.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin::yaml {

/// Where the rooms of a storey are typed; each may be missing.
struct RoomSources {
  std::optional<Cursor> rooms{};
  std::optional<Cursor> grid{};
  bool measured_inside = false;
};

/// The key `measured`: whether sizes count between the faces of the walls.
bool read_measured_inside(const Cursor& word, Faults& faults);

/// The storey that another one stands on.
struct Beneath {
  const Storey& storey;
  const StoreyMeasures& measures;
};

/// Reads the rooms of a storey whose usual walls and boundaries are known, those of the grid first. One
/// without a readable place is a square far from all others, so that what can be judged of the rest still
/// can.
/// @param position  of the storey in the file
/// @param beneath   the storey listed before it
/// @return the walls of its own of each room that has some
std::vector<OwnWalls> read_rooms(const RoomSources& sources, std::size_t position,
                                 const std::optional<Beneath>& beneath, Storey& storey,
                                 StoreyMeasures& measures, Faults& faults);

/// Turns walls of rooms into boundaries, where none is typed for a pair. Two rooms that differ are a fault.
void add_own_walls(const std::vector<OwnWalls>& own, const std::string& storey_path, Storey& storey,
                   Faults& faults);

}  // namespace linkmargin::yaml

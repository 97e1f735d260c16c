#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/site/part_name.hpp"

/// Not installed.
namespace linkmargin {

/// Calls with each construction of a storey and the name of what is made of it.
template <typename Call>
void for_each_construction(const Storey& storey, Call call) {
  const auto of = [](PartKind kind, const std::string& name) {
    return PartName{.kind = kind, .first = name};
  };
  if (storey.floor) call(*storey.floor, of(PartKind::floor, storey.name));
  if (storey.roof) call(*storey.roof, of(PartKind::roof, storey.name));
  for (const Room& room : storey.rooms) {
    if (room.roof) call(*room.roof, of(PartKind::roof, room.name));
    if (room.floor) call(*room.floor, of(PartKind::floor, room.name));
  }
  call(storey.outer_wall, of(PartKind::outer_walls, storey.name));
  call(storey.inner_wall, of(PartKind::inner_walls, storey.name));
  for (const Boundary& one : storey.boundaries) {
    call(one.construction,
         PartName{.kind = PartKind::wall_between, .first = one.first, .second = one.second});
  }
  for (const TracedWall& one : storey.walls) call(one.construction, of(PartKind::traced_wall, one.name));
  for (const Opening& one : storey.openings) call(one.leaf, own_name(one.name));
  for (const Obstacle& one : storey.obstacles) call(one.construction, own_name(one.name));
}

}  // namespace linkmargin

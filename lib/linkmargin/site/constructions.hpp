#pragma once

#include "linkmargin/site/building.hpp"

#include <string>

/// Not installed.
namespace linkmargin {

/// Calls with each construction of a storey and the name of what is made of it.
template <typename Call>
void for_each_construction(const Storey& storey, Call call) {
  if (storey.floor) call(*storey.floor, "floor of " + storey.name);
  if (storey.roof) call(*storey.roof, "roof of " + storey.name);
  for (const Room& room : storey.rooms) {
    if (room.roof) call(*room.roof, "roof of " + room.name);
  }
  call(storey.outer_wall, "outer walls of " + storey.name);
  call(storey.inner_wall, "inner walls of " + storey.name);
  for (const Boundary& one : storey.boundaries)
    call(one.construction, "wall between " + one.first + " and " + one.second);
  for (const TracedWall& one : storey.walls) call(one.construction, one.name);
  for (const Opening& one : storey.openings) call(one.leaf, one.name);
  for (const Obstacle& one : storey.obstacles) call(one.construction, one.name);
}

}  // namespace linkmargin

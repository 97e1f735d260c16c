#pragma once

#include "linkmargin/site/site.hpp"

#include <algorithm>
#include <cstddef>

/// Whether a site is small enough for thousands of runs a minute.
inline bool is_small(const linkmargin::Site& site, std::size_t most_rooms, std::size_t most_radios) {
  std::size_t rooms = 0, obstacles = 0, openings = 0;
  for (const linkmargin::Storey& storey : site.storeys) {
    rooms += storey.rooms.size() + storey.walls.size();
    obstacles += storey.obstacles.size();
    openings += storey.openings.size();
  }
  return std::max({rooms, obstacles, openings}) <= most_rooms &&
         site.devices.size() + site.hubs.size() + site.repeaters.size() <= most_radios;
}

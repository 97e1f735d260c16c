#pragma once

#include "linkmargin/base/random.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <cmath>
#include <cstdint>
#include <vector>

namespace linkmargin {

/// An invented office for tests and benchmarks: the walls of a grid of rooms of uneven size, snapped.
///
/// Every wall between two rooms has a door, which splits it into jamb, leaf and jamb; every eighth room has a
/// slanting partition. About four walls a room.
/// @param count how many walls to return, at least 1: the grid is made just large enough
/// @param seed the same seed gives the same office
inline std::vector<Segment2> random_office(std::size_t count, std::uint64_t seed) {
  constexpr double mean_room_m = 4;
  constexpr double door_m = 0.9;
  const RandomStream stream(seed, 0x0FF1CE);
  std::uint64_t draw = 0;
  const auto uniform = [&](double from, double to) { return from + (to - from) * stream.uniform(draw++); };

  const auto side_count =
      static_cast<std::size_t>(std::ceil(std::sqrt(static_cast<double>(count) / 4.0)) + 1);
  std::vector<double> xs{0};
  std::vector<double> ys{0};
  for (std::size_t i = 0; i < side_count; ++i) {
    xs.push_back(xs.back() + mean_room_m * uniform(0.5, 1.5));
    ys.push_back(ys.back() + mean_room_m * uniform(0.5, 1.5));
  }
  std::vector<Segment2> walls;
  const auto add = [&](Point2 from, Point2 to, bool door) {
    const Point2 a = snapped(from);
    const Point2 b = snapped(to);
    const double length_m = length({a, b});
    if (!door || length_m < 1.5 * door_m) {
      walls.push_back({a, b});
      return;
    }
    const double hinge_m = uniform(0.1, length_m - door_m - 0.1);
    const Point2 p = snapped(at_fraction({a, b}, hinge_m / length_m));
    const Point2 q = snapped(at_fraction({a, b}, (hinge_m + door_m) / length_m));
    walls.insert(walls.end(), {{a, p}, {p, q}, {q, b}});
  };
  for (std::size_t i = 0; i < side_count; ++i) {
    for (std::size_t j = 0; j < side_count; ++j) {
      const Point2 low{xs[i], ys[j]};
      const Point2 high{xs[i + 1], ys[j + 1]};
      add(low, {high.x, low.y}, j > 0);
      add(low, {low.x, high.y}, i > 0);
      if (j + 1 == side_count) add({low.x, high.y}, high, false);
      if (i + 1 == side_count) add({high.x, low.y}, high, false);
      if (uniform(0, 1) < 0.125) {
        add({uniform(low.x, high.x), low.y}, {uniform(low.x, high.x), high.y}, false);
      }
      if (walls.size() >= count) {
        walls.resize(count);
        return walls;
      }
    }
  }
  while (walls.size() < count) {  // a short draw of the doors: slanting partitions make up the number
    add({uniform(0, xs.back()), uniform(0, ys.back())}, {uniform(0, xs.back()), uniform(0, ys.back())},
        false);
  }
  return walls;
}

}  // namespace linkmargin

#pragma once

#include "linkmargin/geometry/arrangement.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <functional>
#include <span>
#include <vector>

namespace linkmargin {

/// Part of a plan by the edges round it, holes included; a point is inside when a ray from it meets an odd
/// number of them. Edges that stand there twice, or jut in from the outside, must be left out or stand there
/// twice.
struct Outline {
  std::vector<Segment2> edges;
  Box2 box = Box2::nothing();

  void add(Segment2 edge);
  static Outline of(const Polygon2& polygon);
  static Outline of(const Arrangement& plan, std::uint32_t face);
};

/// Cuts an outline where the edges of others cross it, and tells of each piece which of the others hold it.
/// @param visit  (inside, area_m2): inside[i] tells whether others[i] holds the piece; pieces that lie alike
/// may come
///               in several calls, their areas add up to the outline's
/// Accuracy: 1e-9 m2 for outlines some metres wide, whichever way the sheet is turned (overlap_test.cpp).
void for_overlaps(const Outline& outline, std::span<const Outline> others,
                  const std::function<void(const std::vector<bool>& inside, double area_m2)>& visit);

}  // namespace linkmargin

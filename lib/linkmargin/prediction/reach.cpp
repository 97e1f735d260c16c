#include "linkmargin/prediction/reach.hpp"

#include <limits>
#include <vector>

namespace linkmargin {

std::optional<double> reach_m(const std::optional<Mobility>& mobility) {
  if (!mobility) return {};
  const auto extent_m = [](const std::vector<Point2>& points) {
    const Box2 box = bounding_box(points);
    return distance(box.min, box.max);
  };
  if (const auto* radius = std::get_if<Mobility::Radius>(&mobility->reach)) return radius->radius_m;
  if (const auto* along = std::get_if<Mobility::Along>(&mobility->reach)) return extent_m(along->line);
  if (const auto* within = std::get_if<Mobility::Within>(&mobility->reach)) return extent_m(within->corners);
  return std::numeric_limits<double>::infinity();  // within a room
}

}  // namespace linkmargin

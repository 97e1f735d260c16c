#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <algorithm>

namespace linkmargin {

float least_chance(const PlacementLayout& layout) {
  float least = 1;
  for (const PlacementRoute& route : layout.routes) least = std::min(least, route.chance);
  return least;
}

bool better(const PlacementLayout& one, const PlacementLayout& other) {
  if (one.worst != other.worst) return one.worst > other.worst;
  if (one.sum != other.sum) return one.sum > other.sum;
  return one.exists() && one.parts.size() < other.parts.size();
}

}  // namespace linkmargin

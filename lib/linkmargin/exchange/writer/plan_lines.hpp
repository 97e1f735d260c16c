#pragma once

#include "linkmargin/geometry/segment.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <string>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// A straight line of a plan that is written for others.
struct PlanLine {
  enum class Kind { wall, door, window };
  Kind kind = Kind::wall;
  Segment2 line;
  double thickness_m = 0;  ///< of a wall; 0: not known
  std::string name{};      ///< of a door or window
};

/// The walls of a storey, with gaps at their openings, and the openings that something closes.
std::vector<PlanLine> plan_lines(const Storey& storey);

}  // namespace linkmargin::exchange

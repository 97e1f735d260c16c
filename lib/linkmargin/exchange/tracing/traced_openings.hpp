#pragma once

#include "linkmargin/exchange/tracing/opening_marks.hpp"
#include "linkmargin/exchange/tracing/traced_storey.hpp"

#include <cstddef>
#include <vector>

/// Not installed.
namespace linkmargin::exchange {

/// Puts openings into the walls of a storey whose rooms and boundaries are known.
/// @param doors_drawn  the drawing shows doors: a gap without one is a passage
/// @return how many fit no wall, or overlap another
std::size_t place_openings(const std::vector<FoundOpening>& found, bool doors_drawn, TracedStorey& storey);

}  // namespace linkmargin::exchange

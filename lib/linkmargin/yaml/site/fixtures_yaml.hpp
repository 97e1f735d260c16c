#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <vector>

/// The lists of a storey.
namespace linkmargin::yaml {

std::vector<Boundary> read_boundaries(const Cursor& list, Faults& faults);
std::vector<TracedWall> read_walls(const Cursor& list, Faults& faults);

/// @param storey    its rooms and traced walls are read
/// @param measures  of the storey; takes what openings with a kind add
std::vector<Opening> read_openings(const Cursor& list, const Storey& storey, StoreyMeasures& measures,
                                   Faults& faults);

std::vector<Obstacle> read_obstacles(const Cursor& list, Faults& faults);
std::vector<FloorOpening> read_floor_openings(const Cursor& list, Faults& faults);

/// Tells of every item whose `name` an earlier item of the list has.
void report_repeated_names(const Cursor& list, Faults& faults);

}  // namespace linkmargin::yaml

#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"
#include "linkmargin/site/mounting/mounting_places.hpp"
#include "linkmargin/site/site.hpp"

#include <string>
#include <vector>

// Inside analysis/ only: what is placed, and where it may go.
namespace linkmargin {

/// A hub, or a repeater, which has all that a hub has but slots.
struct PlacedRadio {
  Hub radio;
  bool repeater = false;
  bool present = true;  ///< the site has it; else it would be one more
};

/// How many of each, and what they are. Those of the site come first, fixed ones before others; what is more
/// is like the first, or has the profile of that name. What has no `may_move` keeps to what mobility() says,
/// or may go anywhere; what is added always may.
/// @throws DomainError when fewer are asked for than are fixed, or a repeater where no profile is one
std::vector<PlacedRadio> placed_radios(const Site& site, int hubs, int repeaters, bool anywhere);

/// Radios that are alike, with the places open to each of them.
struct PlaceGroup {
  std::vector<PlacedRadio> radios;
  std::vector<std::uint32_t> points;  ///< positions in PlacementPlaces::points
};

struct PlacementPlaces {
  double step_m = 0;              ///< between places along a wall, at most
  std::vector<Placement> points;  ///< each once
  std::vector<PlaceGroup> groups;

  const Placement& point(PlacementPart part) const { return points[groups[part.group].points[part.place]]; }
};

/// Every place where each radio can hang (mounting_places.hpp) and may go: a fixed one at its own alone, one
/// with `may_move` within that, on its storey, any other in every room. Where it is counts too, where that is
/// allowed.
PlacementPlaces placement_places(const Site& site, const MountingPlaces& mounting,
                                 const std::vector<PlacedRadio>& radios, double step_m);

/// Of those a finer step apart, the ones near some places: for each group, those within a step of its parts
/// of a layout. @param step_m the finer one
PlacementPlaces places_near(const Site& site, const MountingPlaces& mounting, const PlacementPlaces& all,
                            const std::vector<PlacementPart>& parts, double step_m);

}  // namespace linkmargin

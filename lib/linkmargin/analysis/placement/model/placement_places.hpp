#pragma once

#include "linkmargin/analysis/coverage/level_grid.hpp"
#include "linkmargin/analysis/placement/solver/placement_problem.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
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

/// A place where something may go.
struct PlacePoint {
  Placement place;
  int level = -1;          ///< position in PlacementPlaces::levels; under 0: on no grid
  std::uint32_t cell = 0;  ///< of that level
};

/// Cells of one storey at one height.
struct PlaceLevel {
  std::size_t storey = 0;
  double height_m = 0;
  LevelGrid grid;
};

/// Radios that are alike, with the places open to each of them.
struct PlaceGroup {
  std::vector<PlacedRadio> radios;
  std::vector<std::uint32_t> points;  ///< positions in PlacementPlaces::points
};

struct PlacementPlaces {
  double step_m = 0;
  std::vector<PlaceLevel> levels;
  std::vector<PlacePoint> points;  ///< each once
  std::vector<PlaceGroup> groups;

  const PlacePoint& point(PlacementPart part) const { return points[groups[part.group].points[part.place]]; }
};

/// Radios that do the same at a place and may go to the same places, together.
std::vector<std::vector<PlacedRadio>> placed_kinds(const Site& site, const std::vector<PlacedRadio>& radios);

/// Every place of a grid where each radio may go:
/// - a fixed one at its own alone;
/// - one with `may_move` within that, on its storey;
/// - any other in every room of every storey at its own height over the floor, or as high as the storey is;
///   on a site without rooms anywhere about what stands on a storey.
/// Off by kWallClearanceM from walls, off the obstacles at its height, out of `keep_out` rooms, no farther
/// than `near_mains_m` from where it is, where a supply is known to be. Where it is counts too, where that is
/// allowed.
PlacementPlaces placement_places(const Site& site, const Scene& scene, const std::vector<PlacedRadio>& radios,
                                 double step_m);

/// Of all those, the ones on a finer grid near some places: for each group, places within a step of its parts
/// of a layout. @param step_m of the finer grid
PlacementPlaces places_near(const Site& site, const Scene& scene, const PlacementPlaces& all,
                            const std::vector<PlacementPart>& parts, double step_m);

}  // namespace linkmargin

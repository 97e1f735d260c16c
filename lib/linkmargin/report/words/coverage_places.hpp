#pragma once

#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Inside report/ only: a map summed up by rooms and areas.
namespace linkmargin {

/// The cells of a room or an area in few figures.
struct PlaceCover {
  std::string name;
  double lowest = 0;  ///< the weakest: of a loss the greatest
  double median = 0;
  std::string_view lowest_in;  ///< the ninth of its box: "top_left", "middle", "bottom"
  double weak_percent = 0;
};

/// @return nothing where no cell's centre lies inside
std::optional<PlaceCover> place_cover(const CoverageMap& map, CoverageValue value, const Polygon2& corners);

/// What a storey's map says of its rooms and areas.
struct CoveragePlaces {
  struct AreaShare {
    std::string name;
    double weak_percent = 0;
    double most_weak_percent = 0;  ///< that its share_percent allows
  };
  std::vector<PlaceCover> rooms;    ///< the worst first
  std::vector<AreaShare> areas;     ///< in the order of the site
  std::vector<std::string> missed;  ///< those in which no cell's centre lies
};

CoveragePlaces coverage_places(const Site& site, const CoverageMap& map, CoverageValue value);

}  // namespace linkmargin

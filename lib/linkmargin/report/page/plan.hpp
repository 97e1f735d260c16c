#pragma once

#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/page_model.hpp"
#include "linkmargin/report/plan/framed_plan.hpp"

#include <string>
#include <utility>
#include <vector>

// Inside report/ only: the drawings of a page, as `svg` elements.
namespace linkmargin::page {

/// What the drawings refer to, once a page: patterns, and of each storey with a map its building, as it
/// stands in small plans and over maps.
std::string plan_parts(const PageModel& content);

/// A storey's building among these, and where it lies.
std::string building_id(std::size_t storey);
plan::Frame building_frame(const Site& site, std::size_t storey);

/// A storey's map under its plan, each device a link to its card, with the ways of all its devices for a
/// script to show. @param state  position in SiteReview::states
/// @param map         position in the state's maps
std::string map_drawing(const PageModel& content, std::size_t state, std::size_t map, CoverageValue value);

/// A storey's map of readings under its plan from the origin on, as large as it may be, without links; doors
/// as asked for. @return its size
Point2 draw_map(svg::Writer& out, const PageModel& content, std::size_t map, Point2 most_px);

/// Of the hops beyond a device's own.
inline constexpr const char* kOnwardDashes = "8 5";

/// A hop in plan, from what sends to what hears it, with its bends.
std::vector<Point2> hop_points(const Link& hop);

/// From the repeater that hears a device on to its hub, a line a hop; none where the hub hears it.
std::vector<std::vector<Point2>> onward_lines(const Link& link);

/// Hubs and repeaters that the plan of the visit adds or moves, where they then are.
std::vector<plan::PlannedStation> planned_stations(const PageModel& content);

inline constexpr Point2 kWaySizePx{420, 320};

/// The way from a device to its hub on the device's storey, what its own hop passes numbered as in its fall.
std::string way_drawing(const PageModel& content, const DevicePage& entry,
                        const std::vector<FallStep>& steps);

/// The sign of a standing, which differs by shape: a triangle, a diamond, a disc.
std::string standing_sign(const Wording& wording, Standing standing);

/// Where a place lies on the sheets of its storey's maps; nothing where that storey has none.
struct MapPoint {
  std::size_t map = 0;  ///< position in DoorsReview::maps
  Point2 at_px;
};
class MapPoints {
 public:
  explicit MapPoints(const PageModel& content);
  std::optional<MapPoint> of(const Placement& place) const;

 private:
  std::vector<std::pair<std::size_t, plan::FramedPlan>> sheets_;  // storeys, in the order of the maps
};

}  // namespace linkmargin::page

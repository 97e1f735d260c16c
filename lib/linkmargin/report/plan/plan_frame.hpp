#pragma once

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

// Inside report/ only: one storey of a floor plan, and what its signs look like.
namespace linkmargin::plan {

inline constexpr const char* kOuterWall = "#2f3640";
inline constexpr const char* kInnerWall = "#868f9b";
inline constexpr const char* kDoor = "#b3560a";
inline constexpr const char* kGlazing = "#2278a8";
inline constexpr const char* kObstacle = "#54466a";
inline constexpr const char* kFloorOpening = "#8a5a00";
inline constexpr const char* kHub = "#124f8c";
inline constexpr const char* kRepeater = "#7a3b8f";
inline constexpr const char* kDevice = "#e08214";
inline constexpr const char* kArea = "#1b6f57";

inline constexpr double kUnknownThicknessM = 0.1;
inline constexpr double kHubPx = 8;
inline constexpr double kDevicePx = 5.5;

/// A material of walls as it is drawn, and how thick it is somewhere.
struct WallSign {
  const char* fill = "";
  std::optional<double> least_m{};  ///< absent: no thickness is known
  std::optional<double> most_m{};
};

/// What occurs on the plans of a sheet, for the legend.
struct Signs {
  std::map<std::string, WallSign> walls{};  ///< by material
  bool open_plan = false;
  bool door = false, glazing = false, gap = false;
  bool obstacle = false, floor_opening = false, area = false;
  bool hub = false, repeater = false, device = false, ruled_device = false, reach = false;
  bool map = false, weak_device = false;  ///< the plan lies over a map
  bool planned = false;                   ///< a hub or repeater that a visit puts there
};

struct Frame;

/// How a device stands on a map.
struct DeviceMark {
  std::string colour;
  std::string figure;  ///< under its name: "29 %, weak"
  bool weak = false;   ///< ringed
  std::string link{};  ///< where its symbol leads on a page: "#device-3"; empty: nowhere
};

/// Where the plan of a visit puts a hub or repeater.
struct PlannedStation {
  Placement place;
  bool is_hub = false;
  std::string name;
  std::string stop;  ///< its number among the stops
};

/// A map under the plan. The plan is then drawn sparingly: no papers of rooms, no reaches, no names but those
/// of rooms, radios and areas, and a pale rim about the walls.
struct Underlay {
  std::function<void(svg::Writer&, const Frame&)> draw;
  std::map<std::string, DeviceMark> devices;  ///< by name
  std::vector<PlannedStation> planned{};      ///< of all storeys
  /// Instead of draw_over_map(), where that stands elsewhere already; may be empty.
  std::function<void(svg::Writer&, const Frame&)> building{};
};

/// Where a storey's plan lies on the sheet.
struct Frame {
  Box2 world;        ///< in site metres
  Point2 origin_px;  ///< of the world's upper left corner on the sheet
  double px_per_m = 1;
  Box2 labels_px;                   ///< where names may stand
  std::string clip{};               ///< id of what cuts it (draw_clips()); empty: nothing does
  std::optional<Box2> elsewhere{};  ///< what a larger plan beside it shows: no radios and names of that here

  /// Whether what stands there has its sign and name on this plan.
  bool holds(Point2 p) const { return world.holds(p) && !(elsewhere && elsewhere->holds(p)); }

  /// Whether the world holds all of it.
  bool shows(const Polygon2& corners) const {
    const Box2 box = bounding_box(corners);
    return box.min.x >= world.min.x && box.min.y >= world.min.y && box.max.x <= world.max.x &&
           box.max.y <= world.max.y;
  }

  Point2 at(Point2 p) const {
    return {origin_px.x + (p.x - world.min.x) * px_per_m, origin_px.y + (world.max.y - p.y) * px_per_m};
  }
};

}  // namespace linkmargin::plan

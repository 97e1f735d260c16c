#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/plan/plan_framing.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <string>

namespace linkmargin {

/// A picture of the building that lies under the plan, so that slips of the plan are seen.
struct PlanPicture {
  std::string address;  ///< of the picture, or the picture itself: data_address()
  Point2 lower_left_m;  ///< of the picture, in site metres
  Point2 size_m;
};

struct FloorPlanOptions {
  /// Position in Site::storeys; absent: all, the highest at the top.
  std::optional<std::size_t> storey{};
  PlanFraming shown = PlanFraming::building;  ///< large; all where there is a picture
  std::optional<PlanPicture> under{};         ///< the plan is then drawn sparingly, walls to be seen through
};

/// The plan as typed, as an SVG sheet: rooms, walls by kind and thickness, openings in them and in the floor,
/// obstacles, radios with their names, areas, rulers in site metres, a scale bar and a legend. Names never
/// overlap each other nor leave the sheet; those for which no room is left are counted under the plan and
/// stay readable as tooltips.
/// @param site sound: validate(site) is empty
std::string floor_plan_svg(const Language& language, const Site& site, const FloorPlanOptions& options = {});

}  // namespace linkmargin

#pragma once

#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/prediction/serving/hub_endpoint.hpp"

#include <span>
#include <string>
#include <vector>

namespace linkmargin {

struct Stations;

/// How much of an area, from which hand-held remotes are pressed, is served.
struct AreaCover {
  std::string area;
  std::string hub;                 ///< the named one, or the one that covers most
  std::vector<std::string> via{};  ///< repeaters on the way, the one that hears it first
  double share_percent = 0;        ///< expected share of the area from which a press reaches the threshold
  double edge_share_percent = 0;   ///< the same of its outline: the mean chance along it
  double wanted_percent = 0;
  double worst_reading_percent = 0;  ///< the lowest reading predicted at a sample point
  bool weak = false;                 ///< the share is under the wanted one
  int points = 0;                    ///< sample points
};

/// Sample points of an area: the centres of square cells of at most step_m, fewer than kMaxAreaPoints in all,
/// that lie inside. At least one.
std::vector<Point2> sample_points(const Polygon2& corners, double step_m);
inline constexpr int kMaxAreaPoints = 200;

/// Points along an area's outline, evenly spaced, at most step_m apart unless that made more than
/// kMaxEdgePoints; at least one.
std::vector<Point2> edge_points(const Polygon2& corners, double step_m);
inline constexpr int kMaxEdgePoints = 100;

struct AreaCoverOptions {
  double step_m = 0.5;  ///< between sample points, at most
  bool edge = true;     ///< whether the share of its outline is wanted
  int threads = 1;      ///< >= 1; changes nothing in the result
};

/// By the hub or repeater that covers most, of those that may serve the area. By a repeater a press is heard
/// where its own hop and the repeater's way hold.
/// @throws DomainError when the area's profile reaches none of them even in principle (it does not transmit)
AreaCover area_cover(const Site& site, const Area& area, const Stations& stations,
                     const FadingModel& fading_model, const AreaCoverOptions& options);

}  // namespace linkmargin

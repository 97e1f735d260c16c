#pragma once

#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_framing.hpp"

#include <optional>
#include <string>

// Inside report/ only: a storey's plan that shows its building large, and all of it small beside.
namespace linkmargin::plan {

/// The building with most hubs, then with most radios, then the largest: rooms that touch, over all storeys.
/// With what hangs on its outside and a little more. Empty where there is no room.
Box2 main_building(const Site& site);

/// Which part of a storey is shown large.
struct Framing {
  Box2 all;
  Box2 main;                 ///< within `all`
  bool all_beside = false;   ///< whether all of it is shown small as well, on the right
  bool below = false;        ///< then below it
  double most_beside = 0.5;  ///< of the large plan's width, or height, that the small one takes

  /// How wide and high both are, in metres of the larger scale, without what lies between them.
  double wide_m() const;
  double high_m() const;
  Point2 main_m() const { return main.max - main.min; }
};

/// All of it where the building takes up most of it anyway.
/// @param all  of the storey, not empty
Framing framing(const Site& site, const Box2& all, PlanFraming asked);

/// The small plan on the right or below, where the large one is larger for it.
Framing arranged(Framing of, Point2 most_px);

/// Between the two; below the large one are figures of its rulers.
inline constexpr double kBesidePx = 26;
inline constexpr double kBelowPx = 30;

/// Where both lie on a sheet.
struct FramedPlan {
  Frame main;
  std::optional<Frame> all{};
  Point2 size_px;  ///< of both together

  const Frame& frame_of(Point2 at) const { return all && !main.holds(at) ? *all : main; }
};

/// The scale at which both fit.
double fitting_px_per_m(const Framing& of, Point2 most_px);

/// @param upper_left_px  of the building's plan
/// @param id             that tells the plans of one document apart
/// @param beside_px      more white between the two
FramedPlan framed_plan(const Framing& of, Point2 upper_left_px, double px_per_m, const std::string& id,
                       double beside_px = 0);

/// What the plans are cut by, once a document.
void draw_clips(svg::Writer& out, const FramedPlan& of);

/// Both, and the rim of the small one. @return how many names found no room
int draw_framed(const Wording& wording, svg::Writer& out, const Site& site, std::size_t storey,
                const FramedPlan& of, Signs& signs, const Underlay* underlay = nullptr);

}  // namespace linkmargin::plan

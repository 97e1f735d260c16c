#pragma once

#include "linkmargin/report/plan/plan_frame.hpp"

#include <string>

// Inside report/ only: the signs of a plan.
namespace linkmargin::plan {

void draw_hub(svg::Writer& out, Point2 at, const std::string& tooltip);
/// One that is to go there: dashed, with the number of its stop.
void draw_planned(svg::Writer& out, Point2 at, bool is_hub, const std::string& stop,
                  const std::string& tooltip);

void draw_repeater(svg::Writer& out, Point2 at, const std::string& tooltip);
void draw_device(svg::Writer& out, Point2 at, bool ruled, const std::string& tooltip,
                 const std::string& colour = kDevice);
void draw_weak_ring(svg::Writer& out, Point2 at);
void draw_hatches(svg::Writer& out);  ///< the patterns that the signs refer to

}  // namespace linkmargin::plan

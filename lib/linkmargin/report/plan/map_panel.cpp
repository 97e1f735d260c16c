#include "linkmargin/report/plan/map_panel.hpp"

#include "linkmargin/report/plan/plan_scale.hpp"

#include <algorithm>

namespace linkmargin::plan {
namespace {

constexpr double kRulerPx = 26;
constexpr double kTickPx = 4;
constexpr double kAbovePx = 8;
constexpr Point2 kComfortablePx{1000, 860};

}  // namespace

MapPanel::MapPanel(const Framing& shown) : shown_(shown) {
  longest_m_ = std::max(shown.wide_m(), shown.high_m());
  const double comfortable = std::min(fitting_px_per_m(shown, kComfortablePx), 80.0);
  px_per_m_ = std::max({comfortable, std::min(34.0, 1400 / longest_m_), std::min(8.0, 3600 / longest_m_)});
}

double MapPanel::wide_px() const {
  return px_per_m_ * shown_.wide_m() + (shown_.all_beside ? kBesidePx : 0);
}

double MapPanel::sheet_width_px() const {
  return std::max(Sheet::kLeastWidthPx, 2 * Sheet::kMarginPx + kRulerPx + wide_px());
}

FramedPlan MapPanel::begin(const Wording& wording, Sheet& sheet) const {
  sheet.skip(kAbovePx);
  const Point2 upper_left{(sheet.width_px() - wide_px() + kRulerPx) / 2, sheet.y()};
  const Point2 lower_right = upper_left + main_px();
  const FramedPlan plan = framed_plan(shown_, upper_left, px_per_m_, "plan");
  draw_clips(sheet.body(), plan);
  draw_grid(wording, sheet.body(), plan.main, shown_.main, 0,
            grid_step_m(px_per_m_, longest_m_, wording.language().length_unit()),
            {upper_left - Point2{kTickPx, 0}, lower_right + Point2{0, kTickPx}});
  return plan;
}

void MapPanel::end(Sheet& sheet, const FramedPlan& plan) const {
  const Point2 corner = plan.main.origin_px;
  draw_frame(sheet.body(), {corner, corner + main_px()}, kFaintInk);
  sheet.go_to(corner.y + main_px().y + kRulerPx);
}

}  // namespace linkmargin::plan

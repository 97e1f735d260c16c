#include "linkmargin/report/plan/map_panel.hpp"

#include "linkmargin/report/plan/plan_scale.hpp"

#include <algorithm>

namespace linkmargin::plan {
namespace {

constexpr double kRulerPx = 26;
constexpr double kTickPx = 4;
constexpr double kNameRimPx = 3;
constexpr double kAbovePx = 8;
constexpr Point2 kComfortablePx{1000, 860};

}  // namespace

MapPanel::MapPanel(const Box2& world) : world_(world) {
  const Point2 size = world.max - world.min;
  longest_m_ = std::max(size.x, size.y);
  const double comfortable = std::min({kComfortablePx.x / size.x, kComfortablePx.y / size.y, 80.0});
  px_per_m_ = std::max({comfortable, std::min(34.0, 1400 / longest_m_), std::min(8.0, 3600 / longest_m_)});
}

double MapPanel::sheet_width_px() const {
  return std::max(Sheet::kLeastWidthPx, 2 * Sheet::kMarginPx + kRulerPx + size_px().x);
}

Frame MapPanel::begin(const Wording& wording, Sheet& sheet) const {
  sheet.skip(kAbovePx);
  const Point2 size = size_px();
  const Point2 upper_left{(sheet.width_px() - size.x + kRulerPx) / 2, sheet.y()};
  const Point2 lower_right = upper_left + size;
  const Point2 rim{kNameRimPx, kNameRimPx};
  const Frame frame{.world = world_,
                    .origin_px = upper_left,
                    .px_per_m = px_per_m_,
                    .labels_px = {upper_left + rim, lower_right - rim}};
  draw_grid(wording, sheet.body(), frame, world_, 0,
            grid_step_m(px_per_m_, longest_m_, wording.language().length_unit()),
            {upper_left - Point2{kTickPx, 0}, lower_right + Point2{0, kTickPx}});
  return frame;
}

void MapPanel::end(Sheet& sheet, const Frame& frame) const {
  draw_frame(sheet.body(), {frame.origin_px, frame.origin_px + size_px()}, kFaintInk);
  sheet.go_to(frame.origin_px.y + size_px().y + kRulerPx);
}

}  // namespace linkmargin::plan

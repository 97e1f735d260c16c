#include "linkmargin/geometry/projection/panel_projection.hpp"

#include "linkmargin/base/constants.hpp"
#include "linkmargin/geometry/projection/projection_cuts.hpp"
#include "linkmargin/geometry/projection/row_loop.hpp"

#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

/// Wider than any rounding of a cut in double precision within kCoordinateM, apart from what the slope of its
/// line adds.
constexpr double kPanelRoundingM = 1e-9;

/// Of a few steps in single precision, relative.
constexpr double kSingle = 4e-7;

/// A bound past every grid, in columns.
constexpr double kNowhere = 1e30;

/// Relative rounding of a few steps in double precision.
constexpr double kDouble = 1e-15 * 16;

/// Cuts less certain than this many columns are made in double precision.
constexpr double kLeastCertain = 0.25;

}  // namespace

PanelProjection::PanelProjection(std::span<const UprightPanel> panels, Point3 end, const ProjectionGrid& grid)
    : panels_(panels), end_(end), grid_(&grid), level_(rows_between(grid, end.y, end.y)) {
  end_column_ = (end.x - grid.corner.x) / grid.step_m - 0.5;
  reach_m_ = std::max(std::abs(grid.xs.front() - end.x), std::abs(grid.xs.back() - end.x)) + grid.step_m;
  for (std::uint32_t position = 0; position < panels.size(); ++position) add(position);
}

PanelProjection::Magnification PanelProjection::magnification(const UprightPanel& panel) const {
  const double end_z = end_.z;
  const double z = grid_->z_m;
  Magnification result;
  const double rise = z - end_z;
  if (rise == 0) {
    result.none = end_z < panel.bottom_m || end_z >= panel.top_m;
    return result;
  }
  const double at_bottom = (panel.bottom_m - end_z) / rise;
  const double at_top = (panel.top_m - end_z) / rise;
  const double least = std::min(at_bottom, at_top);
  const double most = std::max(at_bottom, at_top);
  const double heights = std::abs(panel.bottom_m) + std::abs(panel.top_m) + std::abs(end_z) + std::abs(z);
  const double rounding = 1e-14 * heights / std::abs(rise);
  result.none = most < -rounding || least > 1 + rounding;
  if (most < 1 + rounding) {
    const double fraction = std::max(most, rounding);
    result.near = std::max(1.0, 1 / fraction);
    result.near_rounding = 1e-12 + rounding / fraction;
  }
  if (least > 0) {
    result.far = 1 / least;
    result.far_rounding = 1e-12 + rounding / least;
  }
  return result;
}

void PanelProjection::add(std::uint32_t position) {
  const UprightPanel& panel = panels_[position];
  const Point2 end = end_.plan();
  const auto [a, b] = panel.base;
  if (a == b) return;
  if (side(a, b, end) == 0) {  // seen edge on: the end stands on it, or nothing is met
    if (dot(a - end, b - end) <= 0) careful_.push_back({position, {0, grid_->rows}});
    return;
  }
  if (magnification(panel).none) return;
  if (a.y > end.y || b.y > end.y) add_half(position, 1);
  if (a.y < end.y || b.y < end.y) add_half(position, -1);
}

/// The rows of one half that the projection may meet. Where the base runs along the rows, so do bounds of its
/// projection: rows on these need care and are left out.
Span PanelProjection::rows_of(std::uint32_t position, const Magnification& by, double sign) {
  const Segment2 base = panels_[position].base;
  const double a_t = sign * (base.a.y - end_.y);
  const double b_t = sign * (base.b.y - end_.y);
  const double low_t = std::min(a_t, b_t) > 0 ? by.near * std::min(a_t, b_t) : 0;
  const double high_t = std::min(by.far * std::max(a_t, b_t), kFarM);
  const auto rows = [&](double from_t, double to_t) {
    return sign > 0 ? rows_between(*grid_, end_.y + from_t, end_.y + to_t)
                    : rows_between(*grid_, end_.y - to_t, end_.y - from_t);
  };
  const Span half = sign > 0 ? Span{level_.to, grid_->rows} : Span{0, level_.from};
  const auto clipped = [&](Span span) {
    return Span{std::max(span.from, half.from), std::min(span.to, half.to)};
  };
  if (a_t != b_t) return clipped(rows(low_t - kGridPitchM, high_t + kGridPitchM));
  const auto rows_on = [&](double t, double rounding) {
    const double slack_m = kGridPitchM / 2 + 2 * rounding * t;
    return clipped(rows(t - slack_m, t + slack_m));
  };
  const Span near = rows_on(low_t, by.near_rounding);
  Span far = sign > 0 ? Span{half.to, half.to} : Span{half.from, half.from};
  if (high_t < kFarM) far = rows_on(high_t, by.far_rounding);
  if (near.from < near.to) careful_.push_back({position, near});
  far = {std::max(far.from, sign > 0 ? near.to : far.from), std::min(far.to, sign > 0 ? far.to : near.from)};
  if (far.from < far.to) careful_.push_back({position, far});
  return sign > 0 ? Span{near.to, far.from} : Span{far.to, near.from};
}

/// Where copies of the base bound the projection, as x over t, both from the end. A bound that no column
/// reaches is left out.
PanelProjection::Bounds PanelProjection::base_bounds(Point2 a, Point2 b, const Magnification& by, double sign,
                                                     double most_t) const {
  const double rise = b.y - a.y;
  if (rise == 0) return {};
  Bounds bounds;
  const double level_x = cross(a, b) / rise;  // where the base's line meets the end's row
  const double slope = sign * (b.x - a.x) / rise;
  const double within_m = std::abs(slope) * most_t + reach_m_;
  bounds.left = level_x * (level_x > 0 ? by.near : by.far);
  bounds.right = level_x * (level_x > 0 ? by.far : by.near);
  bounds.none = bounds.left > within_m || bounds.right < -within_m;  // all columns lie before or behind
  if (bounds.left < -within_m) bounds.left = -kInfinity;
  if (bounds.right > within_m) bounds.right = kInfinity;
  if (bounds.left > -kInfinity || bounds.right < kInfinity) {
    bounds.slope = slope;
    bounds.rounding_m = 2 * within_m;
  }
  return bounds;
}

/// t counts from the end towards the half's rows, so that both halves are alike.
void PanelProjection::add_half(std::uint32_t position, double sign) {
  const Magnification by = magnification(panels_[position]);
  const Span rows = rows_of(position, by, sign);
  if (rows.from >= rows.to) return;
  const Point2 a = panels_[position].base.a - end_.plan();
  const Point2 b = panels_[position].base.b - end_.plan();
  const double rise = b.y - a.y;
  const double level_x = rise == 0 ? 0 : cross(a, b) / rise;  // where the base's line meets the end's row
  double left_ray = kInfinity;
  double right_ray = -kInfinity;
  for (const Point2 p : {a, b}) {
    const double t = sign * p.y;
    const double slope = t > 0 ? p.x / t : (level_x > 0 ? kInfinity : -kInfinity);
    left_ray = std::min(left_ray, slope);
    right_ray = std::max(right_ray, slope);
  }
  const auto t_of = [&](int row) { return std::abs(grid_->ys[static_cast<std::size_t>(row)] - end_.y); };
  const Bounds bounds = base_bounds(a, b, by, sign, std::max(t_of(rows.from), t_of(rows.to - 1)));
  if (bounds.none) return;
  const double slack =
      (kGridPitchM / 2 + kPanelRoundingM + kSingle * (2 * reach_m_ + bounds.rounding_m)) / grid_->step_m;
  const bool shaky = std::max(by.near_rounding, by.far < kInfinity ? by.far_rounding : 0) > kSingle / 4;
  if (0.5 - slack < kLeastCertain || shaky) {
    careful_.push_back({position, rows});
    return;
  }
  const auto columns = [&](double x_m) {
    return static_cast<float>(std::clamp(x_m / grid_->step_m, -kNowhere, kNowhere));
  };
  const auto base = [&](double x_m) { return columns(x_m + (end_column_ + 1) * grid_->step_m); };
  (sign > 0 ? above_ : below_)
      .push_back({position, rows, columns(left_ray), base(bounds.left), columns(bounds.slope),
                  columns(right_ray), base(bounds.right), columns(bounds.slope),
                  static_cast<float>(0.5 - slack)});
}

void PanelProjection::begin(Band& band, int first_row, int last_row) const {
  band.first_row = first_row;
  band.last_row = last_row;
  for (auto* list : {&band.left_ray, &band.left, &band.left_slope, &band.right_ray, &band.right,
                     &band.right_slope, &band.certain}) {
    list->clear();
  }
  for (auto* list : {&band.first, &band.last}) list->clear();
  band.panel.clear();
  band.careful.clear();
  if (first_row >= level_.from && first_row < level_.to) {
    for (std::uint32_t position = 0; position < panels_.size(); ++position) {
      const Segment2 base = panels_[position].base;
      const auto [low, high] = std::minmax(base.a.y, base.b.y);
      if (low <= end_.y && high >= end_.y) band.careful.push_back({position, level_});
    }
  } else {
    for (const Careful& careful : careful_) {
      if (careful.rows.from < last_row && careful.rows.to > first_row) band.careful.push_back(careful);
    }
    const double near_t = std::abs(grid_->ys[static_cast<std::size_t>(first_row)] - end_.y);
    const double far_t = std::abs(grid_->ys[static_cast<std::size_t>(last_row - 1)] - end_.y);
    for (const Half& half : first_row >= level_.to ? above_ : below_) {
      if (half.rows.from >= last_row || half.rows.to <= first_row) continue;
      if (misses(half, static_cast<float>(near_t), static_cast<float>(far_t))) continue;
      band.panel.push_back(half.panel);
      band.left_ray.push_back(half.left_ray);
      band.left.push_back(half.left);
      band.left_slope.push_back(half.left_slope);
      band.right_ray.push_back(half.right_ray);
      band.right.push_back(half.right);
      band.right_slope.push_back(half.right_slope);
      band.certain.push_back(half.certain);
      band.first.push_back(half.rows.from);
      band.last.push_back(half.rows.to);
    }
  }
  band.from.resize(band.panel.size());
  band.to.resize(band.panel.size());
  band.doubtful.resize(band.panel.size());
}

/// Whether one bound leaves out the whole band: it does so at both of its outer rows.
bool PanelProjection::misses(const Half& half, float t, float u) const {
  const float end = static_cast<float>(end_column_) + 1;
  const float before = -1;  // a column of room for rounding
  const float behind = static_cast<float>(grid_->columns) + 2;
  return std::min(end + half.left_ray * t, end + half.left_ray * u) > behind ||
         std::min(half.left + half.left_slope * t, half.left + half.left_slope * u) > behind ||
         std::max(end + half.right_ray * t, end + half.right_ray * u) < before ||
         std::max(half.right + half.right_slope * t, half.right + half.right_slope * u) < before;
}

void PanelProjection::row(Band& band, int row) const {
  const double y = grid_->ys[static_cast<std::size_t>(row)];
  const RowLoop loop{.count = static_cast<int>(band.panel.size()),
                     .row = row,
                     .columns = static_cast<float>(grid_->columns),
                     .end_column = static_cast<float>(end_column_),
                     .t = static_cast<float>(std::abs(y - end_.y)),
                     .left_ray = band.left_ray.data(),
                     .left = band.left.data(),
                     .left_slope = band.left_slope.data(),
                     .right_ray = band.right_ray.data(),
                     .right = band.right.data(),
                     .right_slope = band.right_slope.data(),
                     .certain = band.certain.data(),
                     .first = band.first.data(),
                     .last = band.last.data(),
                     .from = band.from.data(),
                     .to = band.to.data(),
                     .doubtful = band.doubtful.data()};
  run_row(loop);
  for (std::size_t k = 0; k < band.panel.size(); ++k) {
    if (band.doubtful[k] != 0) settle(band, k, row);
  }
  band.more.clear();
  std::vector<Span> spans;
  for (const auto& [panel, rows] : band.careful) {
    if (row < rows.from || row >= rows.to) continue;
    spans.clear();
    careful_spans(panel, row, spans);
    for (const Span span : spans) band.more.push_back({panel, span});
  }
}

/// Asks for the cells whose centres lie too near a cut.
void PanelProjection::settle(Band& band, std::size_t k, int row) const {
  const UprightPanel& panel = panels_[band.panel[k]];
  const float end = static_cast<float>(end_column_) + 1;
  const double y = grid_->ys[static_cast<std::size_t>(row)];
  const auto t = static_cast<float>(std::abs(y - end_.y));
  const auto columns = static_cast<float>(grid_->columns);
  const float l = within(std::max(end + band.left_ray[k] * t, band.left[k] + band.left_slope[k] * t), 0.5F,
                         columns + 0.5F);
  const float r = within(std::min(end + band.right_ray[k] * t, band.right[k] + band.right_slope[k] * t), 0.5F,
                         columns + 0.5F);
  const auto column_of = [&](float cut, bool begins) {
    const int column = static_cast<int>(cut);
    if (std::abs(cut - static_cast<float>(column) - 0.5F) <= band.certain[k]) return column;
    const int near = static_cast<int>(cut + 0.5F) - 1;  // the cell whose centre lies by the cut
    if (near < 0 || near >= grid_->columns) return column;
    return near + static_cast<int>(blocks(panel, end_, grid_->centre(near, row)) != begins);
  };
  band.from[k] = column_of(l, true);
  band.to[k] = std::max(band.from[k], column_of(r, false));
}

/// In double precision, from every place where a bound may cut the row.
void PanelProjection::careful_spans(std::uint32_t position, int row, std::vector<Span>& spans) const {
  const UprightPanel& panel = panels_[position];
  const Magnification by = magnification(panel);
  if (by.none) return;
  thread_local std::vector<ProjectionCut> cuts;
  cuts.clear();
  const auto add = [&](double x, double slack_m) {
    cuts.push_back({end_.x + x - kPanelRoundingM - slack_m, end_.x + x + kPanelRoundingM + slack_m});
  };
  const double y = grid_->ys[static_cast<std::size_t>(row)] - end_.y;
  const Point2 a = panel.base.a - end_.plan();
  const Point2 b = panel.base.b - end_.plan();
  add(0, 0);
  for (const Point2 p : {a, b}) {
    if (p.y != 0 && p.y * y > 0) add(p.x / p.y * y, kDouble * std::abs(p.x / p.y * y));
  }
  const double area = cross(a, b);
  const double rise = b.y - a.y;
  const auto add_base = [&](double magnified, double rounding) {
    if (magnified == kInfinity) return;
    if (rise == 0) {
      if (rounding > 0 && std::abs(y - magnified * a.y) <= kPanelRoundingM + 2 * rounding * std::abs(y)) {
        cuts.push_back({-kInfinity, kInfinity});
      }
      return;
    }
    const double at = area == 0 ? 0 : magnified * area / rise;
    const double run = (b.x - a.x) / rise * y;
    add(at + run, (kDouble + rounding) * std::abs(at) + kDouble * std::abs(run));
  };
  add_base(by.near, by.near_rounding);
  add_base(by.far, by.far_rounding);
  walk_cuts(
      *grid_, cuts, [&](int column) { return blocks(panel, end_, grid_->centre(column, row)); }, spans);
}

}  // namespace linkmargin

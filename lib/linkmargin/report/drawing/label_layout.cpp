#include "linkmargin/report/drawing/label_layout.hpp"

#include "linkmargin/report/drawing/svg.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kRingStepPx = 9;
constexpr double kCoverCost = 24;     // px of distance that one covered wall is worth
constexpr double kLeaderFromPx = 12;  // from this gap on a line leads from the symbol to its name
constexpr double kPaddingPx = 1.5;

/// Directions in the order of preference: right, left, below, above, then the slanting ones.
constexpr std::array<Point2, 12> kDirections{{{1, 0},
                                              {-1, 0},
                                              {0, 1},
                                              {0, -1},
                                              {0.8, 1},
                                              {-0.8, 1},
                                              {0.8, -1},
                                              {-0.8, -1},
                                              {1, 0.5},
                                              {-1, 0.5},
                                              {1, -0.5},
                                              {-1, -0.5}}};

Point2 size_px(const LabelRequest& request) {
  double width = 0;
  for (const std::string& line : request.lines) width = std::max(width, svg::text_width_em(line));
  const double height = kLineSpacing * static_cast<double>(request.lines.size());
  return {request.font_px * width + 2 * kPaddingPx, request.font_px * height + 2 * kPaddingPx};
}

Box2 box_about(Point2 centre, Point2 size) {
  return {centre - 0.5 * size, centre + 0.5 * size};
}

Point2 nearest_in(const Box2& box, Point2 p) {
  return {std::clamp(p.x, box.min.x, box.max.x), std::clamp(p.y, box.min.y, box.max.y)};
}

}  // namespace

bool overlap(const Box2& left, const Box2& right) {
  return left.min.x < right.max.x && right.min.x < left.max.x && left.min.y < right.max.y &&
         right.min.y < left.max.y;
}

bool touches(Segment2 line, const Box2& box) {
  double enters = 0;
  double leaves = 1;
  const auto cut = [&](double from, double step, double least, double most) {
    if (step == 0) return from >= least && from <= most;
    const double first = (least - from) / step;
    const double second = (most - from) / step;
    enters = std::max(enters, std::min(first, second));
    leaves = std::min(leaves, std::max(first, second));
    return enters <= leaves;
  };
  const Point2 along = line.b - line.a;
  return cut(line.a.x, along.x, box.min.x, box.max.x) && cut(line.a.y, along.y, box.min.y, box.max.y);
}

bool LabelLayout::is_free(const Box2& box, const LabelRequest& request) const {
  const bool on_sheet = box.min.x >= sheet_.min.x && box.max.x <= sheet_.max.x && box.min.y >= sheet_.min.y &&
                        box.max.y <= sheet_.max.y;
  if (!on_sheet || (request.allowed && !request.allowed(box))) return false;
  return std::none_of(blocked_.begin(), blocked_.end(),
                      [&](const Box2& other) { return overlap(box, other); });
}

bool LabelLayout::leader_is_free(Segment2 leader) const {
  return std::none_of(labels_.begin(), labels_.end(),
                      [&](const Box2& label) { return touches(leader, label); });
}

double LabelLayout::cost_of_cover(const Box2& box) const {
  const auto lines = std::count_if(lines_.begin(), lines_.end(), [&](const Line& line) {
    const Point2 margin{line.half_width_px, line.half_width_px};
    return touches(line.segment, {box.min - margin, box.max + margin});
  });
  const auto boxes =
      std::count_if(boxes_.begin(), boxes_.end(), [&](const Box2& other) { return overlap(box, other); });
  return kCoverCost * static_cast<double>(lines + boxes);
}

std::optional<PlacedLabel> LabelLayout::place(const LabelRequest& request) {
  const Point2 size = size_px(request);
  std::optional<PlacedLabel> best;
  double best_cost = 0;
  const auto consider = [&](Point2 centre, double cost) {
    const Box2 box = box_about(centre, size);
    if (best && cost >= best_cost) return;
    if (!is_free(box, request)) return;
    cost += cost_of_cover(box);
    if (best && cost >= best_cost) return;
    PlacedLabel label{box, {}};
    const Segment2 leader{request.anchor, nearest_in(box, request.anchor)};
    if (length(leader) > request.clearance_px + kLeaderFromPx) {
      if (!leader_is_free(leader)) return;
      if (!request.centred) label.leader = leader;
    }
    best = label;
    best_cost = cost;
  };
  if (request.centred) consider(request.anchor, 0);
  for (double ring = 0; ring <= request.reach_px; ring += kRingStepPx) {
    if (best && best_cost <= ring) break;
    double preference = 0;
    for (const Point2 direction : kDirections) {
      const double gap = request.centred ? ring - 0.5 * size.y : request.clearance_px + ring;
      const Point2 shift{direction.x * (gap + 0.5 * size.x), direction.y * (gap + 0.5 * size.y)};
      consider(request.anchor + shift, ring + preference);
      preference += 0.5;
    }
  }
  if (!best) return {};
  blocked_.push_back(best->box);
  labels_.push_back(best->box);
  if (best->leader) discourage(*best->leader);
  return best;
}

}  // namespace linkmargin

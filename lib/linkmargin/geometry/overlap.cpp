#include "linkmargin/geometry/overlap.hpp"

#include <algorithm>
#include <cstddef>

namespace linkmargin {
namespace {

/// Edges that lie on each other differ by rounding only.
constexpr double kNoHeightM = 1e-12;

/// An edge that runs from left to right, of one of the outlines: 0 is the one that is cut.
struct Run {
  Point2 left;
  Point2 right;
  std::size_t outline = 0;

  double y_at(double x) const { return left.y + (x - left.x) / (right.x - left.x) * (right.y - left.y); }
};

void add_runs(const Outline& outline, std::size_t position, const Box2& within, std::vector<Run>& runs) {
  for (const Segment2& edge : outline.edges) {
    const auto [left, right] = ordered(edge);
    if (left.x == right.x || right.x <= within.min.x || left.x >= within.max.x) continue;
    runs.push_back({left, right, position});
  }
}

/// Every x at which an edge begins, ends or meets another: between two of them no edges cross.
std::vector<double> stops(const std::vector<Run>& runs, const Box2& within) {
  std::vector<double> result{within.min.x, within.max.x};
  const auto add = [&](double x) {
    if (x > within.min.x && x < within.max.x) result.push_back(x);
  };
  for (std::size_t i = 0; i < runs.size(); ++i) {
    add(runs[i].left.x);
    add(runs[i].right.x);
    for (std::size_t j = 0; j < i; ++j) {
      const double from = std::max(runs[i].left.x, runs[j].left.x),
                   to = std::min(runs[i].right.x, runs[j].right.x);
      if (from >= to) continue;
      const double before = runs[i].y_at(from) - runs[j].y_at(from),
                   after = runs[i].y_at(to) - runs[j].y_at(to);
      if ((before > 0) != (after > 0) && before != after) add(from + before / (before - after) * (to - from));
    }
  }
  std::ranges::sort(result);
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

}  // namespace

void Outline::add(Segment2 edge) {
  edges.push_back(edge);
  box.take(bounding_box(edge));
}

Outline Outline::of(const Polygon2& polygon) {
  Outline outline;
  for (const Segment2& edge : linkmargin::edges(polygon)) outline.add(edge);
  return outline;
}

Outline Outline::of(const Arrangement& plan, std::uint32_t face) {
  Outline outline;
  for (const std::uint32_t i : plan.faces()[face].edges) {
    const Arrangement::Edge& edge = plan.edges()[i];
    if (edge.left != edge.right) outline.add(edge.line);
  }
  return outline;
}

void for_overlaps(const Outline& outline, std::span<const Outline> others,
                  const std::function<void(const std::vector<bool>& inside, double area_m2)>& visit) {
  std::vector<Run> runs;
  add_runs(outline, 0, outline.box, runs);
  for (std::size_t i = 0; i < others.size(); ++i) {
    if (others[i].box.meets(outline.box)) add_runs(others[i], i + 1, outline.box, runs);
  }
  const std::vector<double> at = stops(runs, outline.box);
  std::vector<std::pair<double, const Run*>> across;
  for (std::size_t strip = 0; strip + 1 < at.size(); ++strip) {
    const double from = at[strip], to = at[strip + 1], middle = (from + to) / 2;
    across.clear();
    for (const Run& run : runs) {
      if (run.left.x <= from && run.right.x >= to) across.emplace_back(run.y_at(middle), &run);
    }
    std::ranges::sort(across, {}, &std::pair<double, const Run*>::first);
    bool within = false;
    std::vector<bool> inside(others.size());
    for (std::size_t i = 0; i < across.size(); ++i) {
      const std::size_t of = across[i].second->outline;
      if (of == 0) {
        within = !within;
      } else {
        inside[of - 1] = !inside[of - 1];
      }
      // Between two edges that do not cross a strip is a trapezium: its area is the height in its middle
      // times the width.
      const double height_m = i + 1 < across.size() ? across[i + 1].first - across[i].first : 0;
      if (within && height_m > kNoHeightM) visit(inside, height_m * (to - from));
    }
  }
}

}  // namespace linkmargin

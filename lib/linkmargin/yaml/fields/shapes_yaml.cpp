#include "linkmargin/yaml/fields/shapes_yaml.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/tree/unit_hint.hpp"

namespace linkmargin::yaml {
namespace {

/// The numbers of a list of that many; nothing when one of them cannot be read. Those after the second are
/// sides.
std::optional<std::vector<double>> read_numbers(const Cursor& list, std::size_t count, std::string_view form,
                                                const Range& side, Faults& faults) {
  if (!expect(list, Node::Kind::sequence, form, faults)) return {};
  const std::size_t found = list.node().items.size();
  if (found != count) {
    add_fault(list, DiagnosticCode::wrong_count,
              "expected " + std::string(form) + ", found " + std::to_string(found) +
                  (found == 1 ? " value" : " values"),
              split_list_hint(list.node(), count), faults);
    return {};
  }
  std::vector<double> numbers;
  for (std::size_t i = 0; i < count; ++i) {
    const Range& range = i < 2 ? limits::kPlanCoordinateM : side;
    const auto number = read_number(Cursor::at_item(list, i, list.node().items[i]), range, faults);
    if (number) numbers.push_back(*number);
  }
  if (numbers.size() < count) return {};
  return numbers;
}

/// A fault when a polygon's extent along one axis is outside the range.
bool check_extent(const Cursor& cursor, std::string_view axis, double extent_m, const Range& side,
                  Faults& faults) {
  if (side.contains(extent_m)) return true;
  add_fault(cursor, DiagnosticCode::outside_range,
            shortest_text(std::round(extent_m * 1e4) / 1e4) + " m along " + std::string(axis) +
                " is outside " + shortest_text(side.min) + ".." + shortest_text(side.max),
            unit_slip_hint("side_m", extent_m, side), faults);
  return false;
}

}  // namespace

std::optional<Point2> read_point(const Cursor& cursor, Faults& faults) {
  const auto numbers = read_numbers(cursor, 2, "[x, y]", limits::kPlanCoordinateM, faults);
  if (!numbers) return {};
  return snapped(Point2{numbers->front(), numbers->back()});
}

Polygon2 read_rectangle(const Cursor& cursor, const Range& side, Faults& faults) {
  const auto numbers = read_numbers(cursor, 4, "[x, y, width, depth]", side, faults);
  if (!numbers) return {};
  Polygon2 corners = rectangle({(*numbers)[0], (*numbers)[1]}, (*numbers)[2], (*numbers)[3]);
  for (Point2& corner : corners) corner = snapped(corner);
  return corners;
}

std::vector<Point2> read_points(const Cursor& list, const Range& count, Faults& faults) {
  std::vector<Point2> points;
  const std::size_t before = faults.count();
  for_each_item(list, count, faults, [&](const Cursor& item) {
    if (const auto point = read_point(item, faults)) points.push_back(*point);
  });
  if (faults.count() > before) points.clear();
  return points;
}

Polygon2 read_corners(const Cursor& list, const Range& side, Faults& faults) {
  Polygon2 corners = read_points(list, limits::kCorners, faults);
  if (corners.empty()) return corners;
  const Box2 box = bounding_box(corners);
  const bool wide = check_extent(list, "x", box.max.x - box.min.x, side, faults);
  const bool deep = check_extent(list, "y", box.max.y - box.min.y, side, faults);
  if (!wide || !deep) corners.clear();
  return corners;
}

}  // namespace linkmargin::yaml

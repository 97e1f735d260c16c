#include "linkmargin/exchange/drawing_unit.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/box.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace linkmargin::exchange {
namespace {

/// A building is no smaller and no larger than this: what is asked for is then likely.
constexpr double kLeastBuildingM = 3;
constexpr double kMostBuildingM = 150;

Box2 extent(const Drawing& drawing) {
  Box2 box = Box2::nothing();
  for (const DrawnLine& line : drawing.lines) {
    for (const Point2 p : line.points) box.take(p);
  }
  return box;
}

/// "--unit mm makes it 12.4 m by 8.3 m"
std::string likely_units(Point2 size) {
  std::string text;
  for (const DrawingUnit& unit : kDrawingUnits) {
    const double longer_m = std::max(size.x, size.y) * unit.metres;
    if (longer_m < kLeastBuildingM || longer_m > kMostBuildingM) continue;
    text += (text.empty() ? "--unit " : ", --unit ") + std::string(unit.word) + " makes it " +
            fixed_text(size.x * unit.metres, 1) + " m by " + fixed_text(size.y * unit.metres, 1) + " m";
  }
  return text.empty() ? "say --unit mm, cm, dm, m, in or ft" : text;
}

}  // namespace

Result<Drawing> in_metres(Drawing drawing, std::optional<double> unit_m, const std::string& file_name) {
  std::optional<double> scale = unit_m ? unit_m : drawing.unit_m;
  if (drawing.lines.empty()) scale = scale.value_or(1);
  if (!scale) {
    const Box2 box = extent(drawing);
    const Point2 size = box.empty() ? Point2{} : box.max - box.min;
    return Diagnostics{{.file = file_name,
                        .path = {},
                        .message = "the drawing does not say its unit: it is " + fixed_text(size.x, 1) +
                                   " by " + fixed_text(size.y, 1) + " units large",
                        .hint = likely_units(size),
                        .code = DiagnosticCode::missing_key}};
  }
  for (DrawnLine& line : drawing.lines) {
    for (Point2& p : line.points) p = *scale * p;
    line.width *= *scale;
  }
  for (DrawnArc& arc : drawing.arcs)
    arc = {*scale * arc.centre, *scale * arc.start, *scale * arc.end, arc.layer};
  for (DrawnText& text : drawing.texts) {
    text.at = *scale * text.at;
    text.height *= *scale;
  }
  drawing.unit_m = scale;
  return drawing;
}

}  // namespace linkmargin::exchange

#pragma once

#include "linkmargin/exchange/drawing.hpp"
#include "linkmargin/exchange/dxf/dxf_groups.hpp"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

/// Not installed.
namespace linkmargin::exchange::dxf {

/// One corner of a line: the bulge is the tangent of a quarter of the arc's angle to the next one.
struct Vertex {
  Point2 at;
  double bulge = 0;
};

struct PolyShape {
  std::vector<Vertex> vertices;
  bool closed = false;
  double width = 0;
};
struct ArcShape {
  Point2 centre;
  double radius = 0;
  double from_rad = 0;  ///< counter-clockwise from here
  double sweep_rad = 0;
};
struct TextShape {
  Point2 at;
  double height = 0;
  std::string text;
};
struct BlockReference {
  std::string block;
  Point2 at;
  double x_scale = 1;
  double y_scale = 1;
  double rotation_rad = 0;
  int columns = 1;
  int rows = 1;
  Point2 spacing;
};
/// Something that is not read.
struct OtherShape {
  DropReason reason = DropReason::kind;
};

/// One thing of a DXF file, as it is drawn there.
struct Entity {
  std::string kind;  ///< "LINE"
  std::string layer = "0";
  int line = 0;           ///< of the file
  bool mirrored = false;  ///< seen from below: x runs to the left
  std::variant<PolyShape, ArcShape, TextShape, BlockReference, OtherShape> shape = OtherShape{};
};

/// What reading text in old files goes by.
struct TextSettings {
  bool other_code_page = false;
  std::vector<int> undecoded_lines{};
};

/// Makes an entity of its groups, those behind its first one. A number that is none is a fault.
/// @param kind_line  where its kind stands
Entity read_entity(std::string_view kind, int kind_line, const std::vector<Group>& groups, TextSettings& text,
                   Faults& faults);

/// A corner of the entity POLYLINE before it.
Vertex read_vertex(const std::vector<Group>& groups, Faults& faults);

/// The arcs in a line; with a negative sweep they run clockwise.
std::vector<ArcShape> arcs_of(const PolyShape& shape);

/// The corners of a line, its arcs as chords of at most kArcStepRad.
std::vector<Point2> flattened(const PolyShape& shape);
std::vector<Point2> flattened(const ArcShape& shape);

/// 7.5 degrees: a chord then lies less than 1 cm off an arc of 4 m radius.
inline constexpr double kArcStepRad = 0.1308996938995747;

}  // namespace linkmargin::exchange::dxf

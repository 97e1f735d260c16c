#include "linkmargin/exchange/dxf/dxf_entity.hpp"

#include "linkmargin/exchange/dxf/dxf_text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace linkmargin::exchange::dxf {
namespace {

constexpr double kTurnRad = 2 * std::numbers::pi;

/// Repeated columns and rows of one block, each way.
constexpr int kMostRepeats = 1000;

double radians(double degrees) {
  return degrees * std::numbers::pi / 180;
}

/// The values of an entity by what their codes mean, whatever its kind.
struct Fields {
  std::string_view text, name;
  std::string text_parts;
  std::vector<Vertex> vertices;  // of codes 10, 20 and 42
  Point2 second;                 // 11, 21
  bool has_second = false;
  double size = 0;     // 40: radius, height, width of a line
  double x_scale = 1;  // 41
  double y_scale = 1;  // 42
  double width = 0;    // 43
  Point2 spacing;      // 44, 45
  double first_angle_degrees = 0, second_angle_degrees = 0;
  int flags = 0, columns = 1, rows = 1, across = 0, upright = 0;
  int text_line = 0;
};

class FieldReader {
 public:
  FieldReader(Entity& entity, Faults& faults) : entity_(entity), faults_(faults) {}

  Fields read(const std::vector<Group>& groups) {
    for (const Group& group : groups) take(group);
    return fields_;
  }
  bool on_paper() const { return on_paper_; }
  bool hidden() const { return hidden_; }

 private:
  double number(const Group& group) { return number_of(group, faults_).value_or(0); }

  void take(const Group& group) {
    switch (group.code) {
      case 1:
        fields_.text = group.value;
        fields_.text_line = group.line;
        return;
      case 2:
        fields_.name = group.value;
        return;
      case 3:
        fields_.text_parts += group.value;
        return;
      case 8:
        entity_.layer = group.value;
        return;
      case 60:
        hidden_ = whole_of(group) != 0;
        return;
      case 67:
        on_paper_ = whole_of(group) == 1;
        return;
      case 70:
        fields_.flags = whole_of(group);
        fields_.columns = fields_.flags;
        return;
      case 71:
        fields_.rows = whole_of(group);
        return;
      case 72:
        fields_.across = whole_of(group);
        return;
      case 73:
      case 74:
        fields_.upright = whole_of(group);
        return;
      default:
        take_number(group);
    }
  }

  void take_number(const Group& group) {
    switch (group.code) {
      case 10:
        fields_.vertices.push_back({.at = {number(group), 0}});
        return;
      case 20:
        if (!fields_.vertices.empty()) fields_.vertices.back().at.y = number(group);
        return;
      case 11:
        fields_.second.x = number(group);
        fields_.has_second = true;
        return;
      case 21:
        fields_.second.y = number(group);
        return;
      case 40:
        fields_.size = number(group);
        return;
      case 41:
        fields_.x_scale = number(group);
        return;
      case 42:
        fields_.y_scale = number(group);
        if (!fields_.vertices.empty()) fields_.vertices.back().bulge = fields_.y_scale;
        return;
      case 43:
        fields_.width = number(group);
        return;
      case 44:
        fields_.spacing.x = number(group);
        return;
      case 45:
        fields_.spacing.y = number(group);
        return;
      case 50:
        fields_.first_angle_degrees = number(group);
        return;
      case 51:
        fields_.second_angle_degrees = number(group);
        return;
      case 230:
        entity_.mirrored = number(group) < 0;
        return;
      default:
        return;
    }
  }

  Entity& entity_;
  Faults& faults_;
  Fields fields_;
  bool on_paper_ = false;
  bool hidden_ = false;
};

/// Whether a place is there; if not, a fault.
bool has_place(const Entity& entity, const Fields& fields, Faults& faults) {
  if (!fields.vertices.empty()) return true;
  faults.add({entity.line, 1}, DiagnosticCode::missing_key, "",
             entity.kind + " without a place: group 10 is missing");
  return false;
}

TextShape text_shape(const Entity& entity, const Fields& fields, TextSettings& settings) {
  const bool several_lines = entity.kind == "MTEXT";
  const DecodedText text =
      decoded(fields.text_parts + std::string(fields.text), several_lines, settings.other_code_page);
  if (!text.whole) settings.undecoded_lines.push_back(fields.text_line);
  // A text that is not set from its left end goes by its second point.
  const bool aligned = !several_lines && fields.has_second && (fields.across != 0 || fields.upright != 0);
  return {aligned ? fields.second : fields.vertices.front().at, fields.size, text.text};
}

BlockReference block_reference(const Fields& fields) {
  return {.block = std::string(fields.name),
          .at = fields.vertices.front().at,
          .x_scale = fields.x_scale,
          .y_scale = fields.y_scale,
          .rotation_rad = radians(fields.first_angle_degrees),
          .columns = std::clamp(fields.columns, 1, kMostRepeats),
          .rows = std::clamp(fields.rows, 1, kMostRepeats),
          .spacing = fields.spacing};
}

ArcShape arc_shape(const Fields& fields) {
  double sweep_rad = std::fmod(radians(fields.second_angle_degrees - fields.first_angle_degrees), kTurnRad);
  if (sweep_rad <= 0) sweep_rad += kTurnRad;
  return {fields.vertices.front().at, std::abs(fields.size), radians(fields.first_angle_degrees), sweep_rad};
}

/// The points on an arc from one angle over a sweep, without the first.
void append_arc(std::vector<Point2>& points, Point2 centre, double radius, double from_rad,
                double sweep_rad) {
  const int steps = std::max(1, static_cast<int>(std::ceil(std::abs(sweep_rad) / kArcStepRad)));
  for (int i = 1; i <= steps; ++i) {
    const double angle = from_rad + sweep_rad * i / steps;
    points.push_back(centre + radius * Point2{std::cos(angle), std::sin(angle)});
  }
}

/// @param vertex  its bulge is not 0
ArcShape arc_between(const Vertex& vertex, Point2 next) {
  const Point2 chord = next - vertex.at;
  const double bulge = std::clamp(vertex.bulge, -1e3, 1e3);
  // The centre lies on the left of the chord for a bulge from 0 to 1.
  const Point2 centre =
      0.5 * (vertex.at + next) + (1 - bulge * bulge) / (4 * bulge) * Point2{-chord.y, chord.x};
  const Point2 from = vertex.at - centre;
  return {centre, std::hypot(from.x, from.y), std::atan2(from.y, from.x), 4 * std::atan(bulge)};
}

}  // namespace

Entity read_entity(std::string_view kind, int kind_line, const std::vector<Group>& groups, TextSettings& text,
                   Faults& faults) {
  Entity entity;
  entity.kind = kind;
  entity.line = kind_line;
  FieldReader reader(entity, faults);
  const Fields fields = reader.read(groups);
  if (reader.on_paper() || reader.hidden()) {
    entity.shape = OtherShape{reader.on_paper() ? DropReason::paper_space : DropReason::hidden_layer};
    return entity;
  }
  if (kind == "LINE") {
    entity.mirrored = false;  // its places are those of the world
    if (!has_place(entity, fields, faults)) return entity;
    if (!fields.has_second) {
      faults.add({kind_line, 1}, DiagnosticCode::missing_key, "", "LINE without its other end: group 11");
      return entity;
    }
    entity.shape = PolyShape{.vertices = {{.at = fields.vertices.front().at}, {.at = fields.second}}};
  } else if (kind == "LWPOLYLINE") {
    entity.shape = PolyShape{fields.vertices, (fields.flags & 1) != 0, fields.width};
  } else if (kind == "POLYLINE") {
    constexpr int kMesh = 16 | 64;
    if ((fields.flags & kMesh) == 0)
      entity.shape = PolyShape{.vertices = {}, .closed = (fields.flags & 1) != 0, .width = fields.size};
  } else if (kind == "ARC") {
    if (has_place(entity, fields, faults) && fields.size != 0) entity.shape = arc_shape(fields);
  } else if (kind == "TEXT" || kind == "MTEXT" || kind == "ATTRIB") {
    if (has_place(entity, fields, faults)) entity.shape = text_shape(entity, fields, text);
  } else if (kind == "INSERT") {
    if (has_place(entity, fields, faults)) entity.shape = block_reference(fields);
  }
  return entity;
}

Vertex read_vertex(const std::vector<Group>& groups, Faults& faults) {
  Entity unused;
  const Fields fields = FieldReader(unused, faults).read(groups);
  return fields.vertices.empty() ? Vertex{} : fields.vertices.front();
}

std::vector<Point2> flattened(const PolyShape& shape) {
  std::vector<Point2> points;
  const std::size_t count = shape.vertices.size();
  for (std::size_t i = 0; i < count; ++i) {
    const Vertex& vertex = shape.vertices[i];
    points.push_back(vertex.at);
    if (vertex.bulge == 0 || (i + 1 == count && !shape.closed)) continue;
    const ArcShape arc = arc_between(vertex, shape.vertices[(i + 1) % count].at);
    append_arc(points, arc.centre, arc.radius, arc.from_rad, arc.sweep_rad);
    points.pop_back();  // the next corner itself
  }
  return points;
}

std::vector<ArcShape> arcs_of(const PolyShape& shape) {
  std::vector<ArcShape> arcs;
  const std::size_t count = shape.vertices.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (shape.vertices[i].bulge == 0 || (i + 1 == count && !shape.closed)) continue;
    arcs.push_back(arc_between(shape.vertices[i], shape.vertices[(i + 1) % count].at));
  }
  return arcs;
}

std::vector<Point2> flattened(const ArcShape& shape) {
  std::vector<Point2> points{shape.centre +
                             shape.radius * Point2{std::cos(shape.from_rad), std::sin(shape.from_rad)}};
  append_arc(points, shape.centre, shape.radius, shape.from_rad, shape.sweep_rad);
  return points;
}

}  // namespace linkmargin::exchange::dxf

#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/link/echoes.hpp"
#include "linkmargin/link/panel_index.hpp"
#include "linkmargin/link/route_map.hpp"
#include "linkmargin/link/transmission.hpp"
#include "linkmargin/site/site.hpp"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace linkmargin {

/// armed: every leaf closed, as when the system is set. open: every leaf that opens stands open.
enum class Doors { armed, open };

/// What a part of the path costs; the parts of a link add up to its path loss.
enum class LossCause { distance, wall, opening, floor, obstacle, route };

/// Something that stands in the way, with what it costs to pass.
struct Element {
  LossCause cause = LossCause::wall;
  std::string name;       ///< as a person would say it: "wall between shop and workshop"
  std::string material;   ///< what it is made of, thickness included: "brick 0.24 m"
  std::string table_row;  ///< of the table of materials: "brick"
  Transmission transmission;
};

/// In place of a position: there is none.
inline constexpr std::uint32_t kNone = 0xFFFFFFFF;

/// A way through or past a wall: an opening, a free end, the air over a low wall.
struct Gap {
  std::string name;     ///< "hall door", "end of yard wall", "top of yard wall"
  Segment2 base;        ///< in plan, along the wall
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  bool edge_a = true;             ///< whether the gap ends in an edge at base.a ...
  bool edge_b = true;             ///< ... and at base.b, or goes on there
  bool edge_bottom = false;       ///< a sill, or the top of a low wall; the floor is no edge
  bool edge_top = false;          ///< a lintel; the ceiling is no edge
  bool open_a = false;            ///< whether the air goes on past base.a ...
  bool open_b = false;            ///< ... past base.b ...
  bool open_top = false;          ///< ... and over the top: nothing bends there
  Point2 normal;                  ///< of the wall, length 1; its sign tells the two sides apart
  std::uint32_t element = kNone;  ///< the leaf; none: open
  std::uint32_t line = kNone;     ///< position in Scene::wall_lines()
  bool at_eaves = false;          ///< over the wall, under a roof: what passes there counts with the wall, no way is
                                  ///< laid through it
};

/// A straight piece of wall, or the air between the ends of two that face each other.
struct Wall {
  std::uint32_t element = kNone;  ///< what it is made of; none: open plan, or air between two
  std::uint32_t line = kNone;     ///< position in Scene::wall_lines()
  Segment2 base;
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  std::uint32_t eaves = kNone;  ///< lining of the roof that ends on it; none: no roof does
  std::array<std::uint32_t, 2> beside{kNone, kNone};  ///< of air between two: what these are made of
};

/// Walls in one line with nothing but gaps between their ends: one wall to all that bends round its edges.
struct WallLine {
  std::vector<std::uint32_t> gaps;  ///< positions in Scene::gaps()
};

/// Where walls meet, or a corner of an obstacle.
struct Corner {
  Point2 at;
  double bottom_m = 0;  ///< above the site's zero
  double top_m = 0;
  struct Arm {
    Point2 along;                ///< away from the corner, length 1
    std::uint32_t wall = kNone;  ///< position in Scene::walls(); none for an obstacle's edge
  };
  std::vector<Arm> arms;
  std::uint32_t body = kNone;  ///< position in Scene::bodies(), for an obstacle's corner
};

/// An upright rectangle over a segment of the plan: wall, leaf, lintel or parapet, or the air of a gap.
struct Panel {
  Segment2 base;
  double bottom_m = 0;  ///< above the site's zero; half-open: bottom counts, top does not
  double top_m = 0;
  Point2 normal;                  ///< of the whole wall, length 1; its sign means nothing
  std::uint32_t element = kNone;  ///< none: air
  std::uint32_t wall = kNone;     ///< position in Scene::walls()
  bool beyond = false;            ///< air past a free end of its wall
};

/// A level sheet: the slab under a storey, or a roof where no room of a storey above lies, one piece a room.
struct Plate {
  Polygon2 outline;
  double z_m = 0;
  std::uint32_t element = 0;
  Box2 box{};                     ///< of the outline
  /// Stairwells and shafts; of a roof, the rooms above. Nothing is met there; half-open as the outline.
  std::vector<Polygon2> holes{};
};

/// An upright prism: an obstacle.
struct Body {
  Polygon2 outline;
  Box2 box;  ///< of the outline
  double bottom_m = 0;
  double top_m = 0;
  std::uint32_t element = 0;
};

/// The air of a storey: from its floor to its ceiling, above the site's zero.
struct StoreySpace {
  double floor_m = 0;
  double ceiling_m = 0;
};

/// The air of a room, with the slabs under and over it.
struct RoomSpace {
  std::uint32_t storey = 0;  ///< position in Scene::storeys()
  Polygon2 outline;
  Box2 box;
  double bottom_m = 0;
  double top_m = 0;
};

/// A site made ready for tracing: what stands where and what it costs at the site's frequency, with the
/// index. Read-only after construction; safe to share between threads. Keeps no reference to the site.
class Scene {
 public:
  /// @param site sound: validate(site) is empty
  Scene(const Site& site, Doors doors);

  Doors doors() const { return doors_; }
  const Environment& radio() const { return radio_; }  ///< with what the profiles leave open
  const std::vector<Element>& elements() const { return elements_; }
  const std::vector<Panel>& panels() const { return panels_; }
  /// What closes the chinks where a wall's end was typed a little short of another wall. No line is taken to
  /// be stopped by them; they tell rooms apart.
  const std::vector<Panel>& joints() const { return joints_; }
  const std::vector<Wall>& walls() const { return walls_; }
  const std::vector<WallLine>& wall_lines() const { return wall_lines_; }
  const std::vector<Corner>& corners() const { return corners_; }
  const std::vector<Box2>& corner_boxes() const { return corner_boxes_; }  ///< see link/corners.hpp
  const std::vector<Gap>& gaps() const { return gaps_; }
  const std::vector<Plate>& plates() const { return plates_; }  ///< by level, the lowest first
  const std::vector<Body>& bodies() const { return bodies_; }
  const std::vector<StoreySpace>& storeys() const { return storeys_; }
  const std::vector<RoomSpace>& rooms() const { return rooms_; }
  const PanelIndex& panel_index() const { return panel_index_; }  ///< of panels(), storey by storey

  /// Whether a point lies in a room, or in the slab under or over one: half-open in plan (see contains()),
  /// both ends counting in height. Its plan coordinates are snapped first. A roof of no thickness ends at the
  /// ceiling: what stands on it is out of doors.
  bool indoors(Point3 p) const;

  /// The ways from gap to gap; empty where the site's model counts none.
  const RouteMap& route_map() const { return route_map_; }

  /// What rooms throw about; none where the site's model counts none.
  const Echoes& echoes() const { return echoes_; }

  /// What the reader of a result should know about the materials: used outside their frequency range, and so
  /// on.
  const std::vector<std::string>& cautions() const { return cautions_; }

 private:
  friend class SceneBuilder;
  friend class WallBuilder;
  Doors doors_;
  Environment radio_;
  std::vector<Element> elements_;
  std::vector<Panel> panels_;
  std::vector<Panel> joints_;
  std::vector<Wall> walls_;
  std::vector<WallLine> wall_lines_;
  std::vector<Gap> gaps_;
  std::vector<Corner> corners_;
  std::vector<Box2> corner_boxes_;
  std::vector<Plate> plates_;
  std::vector<Body> bodies_;
  std::vector<StoreySpace> storeys_;
  std::vector<RoomSpace> rooms_;
  PanelIndex panel_index_;
  RouteMap route_map_;
  Echoes echoes_;
  std::vector<std::string> cautions_;
};

}  // namespace linkmargin

#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/geometry/wall_index.hpp"
#include "linkmargin/link/transmission.hpp"
#include "linkmargin/site/site.hpp"

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
  std::string name;      ///< as a person would say it: "wall between shop and workshop"
  std::string material;  ///< what it is made of, thickness included: "brick 0.24 m"
  Transmission transmission;
};

/// An upright rectangle over a segment of the plan: wall, leaf, lintel or parapet.
struct Panel {
  Segment2 base;
  double bottom_m = 0;  ///< above the site's zero; half-open: bottom counts, top does not
  double top_m = 0;
  Point2 normal;  ///< of the whole wall, length 1; its sign means nothing
  std::uint32_t element = 0;
};

/// A level sheet: the slab under a storey, or a roof, one piece a room.
struct Plate {
  Polygon2 outline;
  double z_m = 0;
  std::uint32_t element = 0;
};

/// An upright prism: an obstacle.
struct Body {
  Polygon2 outline;
  double bottom_m = 0;
  double top_m = 0;
  std::uint32_t element = 0;
};

/// A site made ready for tracing: what stands where and what it costs at the site's frequency, with the
/// index. Read-only after construction; safe to share between threads. Keeps no reference to the site.
class Scene {
 public:
  /// @param site sound: validate(site) is empty
  Scene(const Site& site, Doors doors);

  Doors doors() const { return doors_; }
  const Environment& radio() const { return radio_; }
  const std::vector<Element>& elements() const { return elements_; }
  const std::vector<Panel>& panels() const { return panels_; }
  const std::vector<Plate>& plates() const { return plates_; }
  const std::vector<Body>& bodies() const { return bodies_; }
  const WallIndex& index() const { return index_; }  ///< of the panels' bases, in the order of panels()

  /// What the reader of a result should know about the materials: used outside their frequency range, and so
  /// on.
  const std::vector<std::string>& cautions() const { return cautions_; }

 private:
  friend class SceneBuilder;
  Doors doors_;
  Environment radio_;
  std::vector<Element> elements_;
  std::vector<Panel> panels_;
  std::vector<Plate> plates_;
  std::vector<Body> bodies_;
  WallIndex index_;
  std::vector<std::string> cautions_;
};

}  // namespace linkmargin

#include "linkmargin/site/storey_extent.hpp"

#include "linkmargin/geometry/polygon.hpp"

namespace linkmargin {
namespace {

template <typename Named>
void take_corners(Box2& box, const std::vector<Named>& shapes) {
  for (const Named& shape : shapes) box.take(bounding_box(shape.corners));
}

template <typename Named>
void take_radios(Box2& box, const std::vector<Named>& radios, std::size_t storey) {
  for (const Named& radio : radios) {
    if (radio.place.storey == storey) box.take(radio.place.at);
  }
}

}  // namespace

Box2 storey_extent(const Site& site, std::size_t storey) {
  Box2 box = Box2::nothing();
  const Storey& of = site.storeys[storey];
  take_corners(box, of.rooms);
  take_corners(box, of.obstacles);
  take_corners(box, of.floor_openings);
  for (const TracedWall& wall : of.walls) {
    box.take(wall.line.a);
    box.take(wall.line.b);
  }
  for (const Area& area : site.areas) {
    if (area.storey == storey) box.take(bounding_box(area.corners));
  }
  take_radios(box, site.hubs, storey);
  take_radios(box, site.repeaters, storey);
  take_radios(box, site.devices, storey);
  return box;
}

}  // namespace linkmargin

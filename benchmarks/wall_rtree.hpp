#pragma once

#define BOOST_GEOMETRY_NO_ROBUSTNESS
#define BOOST_ALLOW_DEPRECATED_HEADERS
#include "linkmargin/geometry/polygon.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/segment.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <boost/iterator/function_output_iterator.hpp>

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// An R-tree of Boost.Geometry over the boxes of walls, packed: candidates by the library's own test of box
/// and segment, then crosses().
class WallRtree {
 public:
  /// Keeps a reference to the walls.
  explicit WallRtree(std::span<const Segment2> walls) : walls_(walls) {
    std::vector<Entry> entries;
    for (std::uint32_t i = 0; i < walls.size(); ++i) {
      const Box2 box = bounding_box(Polygon2{walls[i].a, walls[i].b});
      constexpr double pad_m = 1e-6;  // its test rounds
      entries.push_back(
          {{{box.min.x - pad_m, box.min.y - pad_m}, {box.max.x + pad_m, box.max.y + pad_m}}, i});
    }
    tree_ = Tree(entries);
  }

  template <typename Visit>
  void all_hits(Point2 from, Point2 to, Visit& visit) const {
    const boost::geometry::model::segment<Corner> segment{{from.x, from.y}, {to.x, to.y}};
    const auto keep = boost::make_function_output_iterator([&](const Entry& entry) {
      if (crosses({from, to}, walls_[entry.second])) visit(entry.second);
    });
    tree_.query(boost::geometry::index::intersects(segment), keep);
  }

 private:
  using Corner = boost::geometry::model::d2::point_xy<double>;
  using Entry = std::pair<boost::geometry::model::box<Corner>, std::uint32_t>;
  using Tree = boost::geometry::index::rtree<Entry, boost::geometry::index::rstar<16>>;
  std::span<const Segment2> walls_;
  Tree tree_;
};

}  // namespace linkmargin

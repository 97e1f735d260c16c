#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <optional>
#include <vector>

namespace linkmargin {

/// A simple polygon by its corners in order, either way round, the first not repeated at the end.
using Polygon2 = std::vector<Point2>;

/// Corners counter-clockwise: (x, y), (x+w, y), (x+w, y+h), (x, y+h).
Polygon2 rectangle(Point2 corner, double width_m, double depth_m);

/// The edges in order; the last one closes the polygon.
std::vector<Segment2> edges(const Polygon2& polygon);

/// Positive when the corners run counter-clockwise.
double signed_area(const Polygon2& polygon);

/// Both corners are the origin for a polygon without corners.
Box2 bounding_box(const Polygon2& polygon);

/// Of the area; of the corners where there is no area.
Point2 centroid(const Polygon2& polygon);

/// A point inside a simple polygon, as far from its edges as any to within a fiftieth of the polygon's size,
/// the centroid where that serves: where a label goes. The centroid for a polygon without area.
Point2 label_point(const Polygon2& polygon);

/// Half-open, exact for snapped points: of two polygons that share an edge, a point on that edge belongs to
/// exactly one, and a tiling of the plane holds every point once. A point on an edge belongs to the polygon
/// above it, on an edge along y to the one on the side of smaller x: the side on which crosses() takes it.
bool contains(const Polygon2& polygon, Point2 p);

/// Distance to the nearest edge, inside or outside; infinity for a polygon without corners.
double distance_to_edges(const Polygon2& polygon, Point2 p);

/// Where two edges of one polygon cross, touch or overlap, or nothing when the polygon is simple. Corners
/// that repeat their neighbour are overlooked. Exact for snapped points; the place itself is rounded.
std::optional<Point2> self_crossing(const Polygon2& polygon);

/// Area shared by two simple polygons, m2; 0 when they only touch.
/// Accuracy: 1e-9 m2 against an integration by strips (polygon_test.cpp), for polygons some metres wide.
double shared_area(const Polygon2& left, const Polygon2& right);

}  // namespace linkmargin

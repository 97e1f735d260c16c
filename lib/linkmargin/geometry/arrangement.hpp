#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/geometry/segment.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

/// The plane cut up by straight segments: the faces that they enclose, and the edges between faces. Found
/// from the segments alone, whatever their order and however the sheet is turned. Read-only after
/// construction.
class Arrangement {
 public:
  /// The face outside all segments.
  static constexpr std::uint32_t kOutside = 0;

  /// A piece of one segment, or of several that lie on each other, with no other segment across it.
  struct Edge {
    Segment2 line;
    std::uint32_t left = kOutside;   ///< face on the left, seen from line.a
    std::uint32_t right = kOutside;  ///< the same face as `left` for a piece that juts into it
    std::uint32_t first = 0;         ///< see sources()
    std::uint32_t count = 0;
  };

  struct Face {
    double area_m2 = 0;                ///< without what lies in its holes; 0 for the face outside
    double edge_m = 0;                 ///< length round it and in it; what juts in counts with both its sides
    Point2 middle;                     ///< centroid of its outer ring
    Box2 box = Box2::nothing();        ///< of its outer ring
    std::vector<std::uint32_t> edges;  ///< those that touch it; what juts in stands once
  };

  Arrangement() = default;

  /// @param segments  ends nearer than kWeldedM to each other or to another segment are taken as touching it:
  /// what lies
  ///                  on each other but for rounding becomes one
  explicit Arrangement(std::span<const Segment2> segments);

  const std::vector<Edge>& edges() const { return edges_; }
  const std::vector<Face>& faces() const { return faces_; }

  /// Positions of the segments that an edge is a piece of, ascending.
  std::span<const std::uint32_t> sources(const Edge& edge) const {
    return std::span(sources_).subspan(edge.first, edge.count);
  }

  /// The face that holds a point; for a point on an edge, either of the two.
  std::uint32_t face_of(Point2 p) const;

  static constexpr double kWeldedM = 0.002;

 private:
  friend class ArrangementBuilder;
  void build_index();

  std::vector<Edge> edges_;
  std::vector<Face> faces_{Face{}};
  std::vector<std::uint32_t> sources_;

  // Faces whose boxes meet each square of a raster over the plan.
  Box2 box_ = Box2::nothing();
  double square_m_ = 1;
  std::size_t columns_ = 0;
  std::vector<std::vector<std::uint32_t>> raster_;
};

}  // namespace linkmargin

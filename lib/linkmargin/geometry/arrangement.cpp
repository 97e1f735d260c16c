#include "linkmargin/geometry/arrangement.hpp"

#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/geometry/welded_points.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::uint32_t kUnset = 0xFFFFFFFF;

/// Loops of less area enclose nothing: both sides of pieces that jut out.
constexpr double kNoAreaM2 = 1e-12;

/// Whether the ray from a point towards greater x meets an edge: an odd number of times from inside a ring.
bool ray_meets(Point2 p, Point2 a, Point2 b) {
  return (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
}

}  // namespace

class ArrangementBuilder {
 public:
  ArrangementBuilder(std::span<const Segment2> segments, Arrangement& result)
      : segments_(segments), result_(result) {}

  void build() {
    split();
    join();
    walk();
    nest();
    measure();
  }

 private:
  /// Of an edge, one way along it: 2 * edge from line.a to line.b, 2 * edge + 1 back.
  using HalfEdge = std::uint32_t;
  static HalfEdge twin(HalfEdge half) { return half ^ 1U; }
  std::uint32_t origin(HalfEdge half) const {
    return half % 2 == 0 ? ends_[half / 2].first : ends_[half / 2].second;
  }
  Point2 start(HalfEdge half) const { return vertices_.at(origin(half)); }

  void split() {
    stops_.resize(segments_.size());
    std::vector<Box2> boxes;
    for (std::size_t i = 0; i < segments_.size(); ++i) {
      boxes.push_back(bounding_box(segments_[i]));
      stops_[i] = {{0, segments_[i].a}, {1, segments_[i].b}};
    }
    for_near_boxes(boxes, Arrangement::kWeldedM, [&](std::size_t i, std::size_t j) {
      meet(i, j);
      return true;
    });
  }

  void meet(std::size_t i, std::size_t j) {
    bool touching = false;
    const auto end_on = [&](Point2 end, std::size_t other) {
      if (distance_to_segment(end, segments_[other]) > Arrangement::kWeldedM) return;
      stops_[other].push_back({nearest_fraction(end, segments_[other]), end});
      touching = true;
    };
    end_on(segments_[i].a, j);
    end_on(segments_[i].b, j);
    end_on(segments_[j].a, i);
    end_on(segments_[j].b, i);
    if (touching) return;
    const Segment2 &one = segments_[i], &other = segments_[j];
    const double from = side(other.a, other.b, one.a), to = side(other.a, other.b, one.b);
    const double from_other = side(one.a, one.b, other.a), to_other = side(one.a, one.b, other.b);
    if ((from > 0) == (to > 0) || (from_other > 0) == (to_other > 0)) return;
    const double fraction = from / (from - to);
    const Point2 at = at_fraction(one, fraction);
    stops_[i].push_back({fraction, at});
    stops_[j].push_back({from_other / (from_other - to_other), at});
  }

  /// The pieces between stops, those between the same two vertices made one edge.
  void join() {
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::vector<std::uint32_t>> pieces;
    for (std::size_t i = 0; i < segments_.size(); ++i) {
      std::ranges::sort(stops_[i], {}, [](const Stop& stop) { return std::pair(stop.fraction, stop.at); });
      std::uint32_t before = vertices_.weld(segments_[i].a);
      for (const Stop& stop : stops_[i]) {
        const std::uint32_t vertex = vertices_.weld(stop.at);
        if (vertex == before) continue;
        std::vector<std::uint32_t>& of = pieces[std::minmax(before, vertex)];
        if (of.empty() || of.back() != i) of.push_back(static_cast<std::uint32_t>(i));
        before = vertex;
      }
    }
    for (const auto& [ends, sources] : pieces) {
      ends_.push_back(ends);
      result_.edges_.push_back({.line = {vertices_.at(ends.first), vertices_.at(ends.second)},
                                .first = static_cast<std::uint32_t>(result_.sources_.size()),
                                .count = static_cast<std::uint32_t>(sources.size())});
      result_.sources_.insert(result_.sources_.end(), sources.begin(), sources.end());
    }
  }

  /// Follows the boundary of the face on the left of each half edge: at a vertex on to the next one
  /// clockwise.
  void walk() {
    const auto count = static_cast<HalfEdge>(2 * ends_.size());
    std::vector<std::vector<HalfEdge>> leaving(vertices_.size());
    std::vector<double> angle(count);
    for (HalfEdge half = 0; half < count; ++half) {
      const Point2 along = start(twin(half)) - start(half);
      angle[half] = std::atan2(along.y, along.x);
      leaving[origin(half)].push_back(half);
    }
    next_.resize(count);
    for (std::vector<HalfEdge>& fan : leaving) {
      std::ranges::sort(fan, {}, [&](HalfEdge half) { return angle[half]; });
      for (std::size_t i = 0; i < fan.size(); ++i) {
        next_[twin(fan[(i + 1) % fan.size()])] = fan[i];
      }
    }
    loop_.assign(count, kUnset);
    for (HalfEdge begin = 0; begin < count; ++begin) {
      if (loop_[begin] != kUnset) continue;
      Loop loop{.begin = begin};
      const Point2 from = start(begin);
      HalfEdge half = begin;
      do {
        loop_[half] = static_cast<std::uint32_t>(loops_.size());
        const Point2 a = start(half) - from, b = start(twin(half)) - from;
        loop.area_m2 += cross(a, b) / 2;
        loop.moment = loop.moment + cross(a, b) / 6 * (a + b);
        loop.box.take(start(half));
        half = next_[half];
      } while (half != begin);
      if (loop.area_m2 > kNoAreaM2) loop.middle = from + 1 / loop.area_m2 * loop.moment;
      loops_.push_back(loop);
    }
  }

  /// Makes a face of every loop that runs counter-clockwise; the others are holes in the least face round
  /// them.
  void nest() {
    std::vector<std::uint32_t> by_area;
    for (std::uint32_t i = 0; i < loops_.size(); ++i) {
      Loop& loop = loops_[i];
      if (loop.area_m2 <= kNoAreaM2) continue;
      loop.face = static_cast<std::uint32_t>(result_.faces_.size());
      Arrangement::Face face;
      face.area_m2 = loop.area_m2;
      face.middle = loop.middle;
      face.box = loop.box;
      result_.faces_.push_back(std::move(face));
      by_area.push_back(i);
    }
    std::ranges::stable_sort(by_area, {}, [&](std::uint32_t i) { return loops_[i].area_m2; });
    for (Loop& loop : loops_) {
      if (loop.face != kUnset) continue;
      loop.face = Arrangement::kOutside;
      const Point2 at = start(loop.begin);
      for (const std::uint32_t i : by_area) {
        if (loops_[i].area_m2 <= -loop.area_m2 || !loops_[i].box.holds(at) || touches(loops_[i], loop))
          continue;
        if (!holds(loops_[i], at)) continue;
        loop.face = loops_[i].face;
        result_.faces_[loop.face].area_m2 += std::min(0.0, loop.area_m2);
        break;
      }
    }
  }

  struct Loop {
    HalfEdge begin = 0;
    double area_m2 = 0;
    Point2 moment{};
    Point2 middle{};
    Box2 box = Box2::nothing();
    std::uint32_t face = kUnset;
  };

  /// Whether a loop starts on another: both are then of one connected piece, and neither is a hole in the
  /// other.
  bool touches(const Loop& ring, const Loop& other) const {
    HalfEdge half = ring.begin;
    do {
      if (origin(half) == origin(other.begin)) return true;
      half = next_[half];
    } while (half != ring.begin);
    return false;
  }

  bool holds(const Loop& ring, Point2 p) const {
    bool inside = false;
    HalfEdge half = ring.begin;
    do {
      if (ray_meets(p, start(half), start(twin(half)))) inside = !inside;
      half = next_[half];
    } while (half != ring.begin);
    return inside;
  }

  void measure() {
    for (std::uint32_t i = 0; i < result_.edges_.size(); ++i) {
      Arrangement::Edge& edge = result_.edges_[i];
      edge.left = loops_[loop_[2 * i]].face;
      edge.right = loops_[loop_[2 * i + 1]].face;
      for (const std::uint32_t face : {edge.left, edge.right})
        result_.faces_[face].edge_m += length(edge.line);
      result_.faces_[edge.left].edges.push_back(i);
      if (edge.right != edge.left) result_.faces_[edge.right].edges.push_back(i);
    }
  }

  std::span<const Segment2> segments_;
  Arrangement& result_;
  WeldedPoints vertices_{Arrangement::kWeldedM};  // where segments end or meet

  /// Where a segment is met: an end of another near it, or a crossing.
  struct Stop {
    double fraction;
    Point2 at;
  };
  std::vector<std::vector<Stop>> stops_;                       // of each segment
  std::vector<std::pair<std::uint32_t, std::uint32_t>> ends_;  // of each edge, its vertices
  std::vector<HalfEdge> next_;
  std::vector<std::uint32_t> loop_;  // of each half edge
  std::vector<Loop> loops_;
};

Arrangement::Arrangement(std::span<const Segment2> segments) {
  ArrangementBuilder(segments, *this).build();
  build_index();
}

void Arrangement::build_index() {
  constexpr double kSquaresAFace = 4;
  for (const Edge& edge : edges_) box_.take(bounding_box(edge.line));
  if (box_.empty()) return;
  const Point2 size = box_.max - box_.min;
  square_m_ = std::max({std::sqrt(size.x * size.y / (kSquaresAFace * static_cast<double>(faces_.size()))),
                        std::max(size.x, size.y) / 1000, 0.01});
  columns_ = static_cast<std::size_t>(size.x / square_m_) + 1;
  raster_.resize(columns_ * (static_cast<std::size_t>(size.y / square_m_) + 1));
  for (std::uint32_t face = 1; face < faces_.size(); ++face) {
    const auto at = [&](double value) { return static_cast<std::size_t>(std::max(0.0, value) / square_m_); };
    const Box2& of = faces_[face].box;
    for (std::size_t row = at(of.min.y - box_.min.y); row <= at(of.max.y - box_.min.y); ++row) {
      for (std::size_t column = at(of.min.x - box_.min.x); column <= at(of.max.x - box_.min.x); ++column) {
        if (row * columns_ + column < raster_.size()) raster_[row * columns_ + column].push_back(face);
      }
    }
  }
}

std::uint32_t Arrangement::face_of(Point2 p) const {
  if (!box_.holds(p)) return kOutside;
  const auto column = static_cast<std::size_t>((p.x - box_.min.x) / square_m_);
  const auto row = static_cast<std::size_t>((p.y - box_.min.y) / square_m_);
  for (const std::uint32_t face : raster_[row * columns_ + column]) {
    if (!faces_[face].box.holds(p)) continue;
    bool inside = false;
    for (const std::uint32_t i : faces_[face].edges) {
      const Edge& edge = edges_[i];
      if (edge.left != edge.right && ray_meets(p, edge.line.a, edge.line.b)) inside = !inside;
    }
    if (inside) return face;
  }
  return kOutside;
}

}  // namespace linkmargin

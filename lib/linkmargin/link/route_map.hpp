#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

class Scene;
class SlabBound;

/// The ways from gap to gap of a scene, found once: which gaps can be reached from which, on which side, and
/// what stands between. A vertex is a gap with a side and a sense: a way arrives at one side of a gap and
/// leaves on the other.
///
/// What a leg costs here only ranks ways; a way that is taken is reckoned anew (link/routes.hpp).
class RouteMap {
 public:
  /// One gap of a way, and the side on which the way arrives there.
  struct Pass {
    std::uint32_t gap = 0;
    bool from_left = false;
  };

  /// A way by its gaps, in order from its first end, with its ranking cost.
  struct Way {
    std::vector<Pass> passes;
    double cost_db = 0;
  };

  /// @param scene complete but for this map; not kept
  RouteMap() = default;
  explicit RouteMap(const Scene& scene);

  /// The cheapest way to a vertex of those that begin at one gap.
  struct Label {
    double cost_db;
    std::uint32_t start;         ///< the vertex where it begins
    std::uint32_t before;        ///< the vertex passed before; a start is its own
    std::uint32_t before_label;  ///< and which of its labels
  };

  class Query;

  /// From one end, by way of each gap that it can go to first, the cheapest ways on to every gap: found once
  /// for all links of that end.
  class Origin {
   public:
    Origin() = default;
    Origin(const RouteMap& map, const Scene& scene, Point3 at);

   private:
    friend class Query;
    std::vector<std::vector<Label>> labels_;  // of each vertex, the cheapest first, at most kMostStarts
  };

  /// The ways between two ends, cheapest first: of those that begin at one gap and end at another the
  /// cheapest, where it passes no gap of a way given out before.
  class Query {
   public:
    Query(const Scene& scene, const Origin& origin, Point3 to);

    /// @param budget_db  ways that cost more are not looked for; never more than at an earlier call
    /// @return no passes when there is no further way
    Way next(double budget_db);

   private:
    /// A last gap with the next of its labels; its leg is costed only when its turn comes.
    struct Last {
      double cost_db;  ///< of the whole way; until its leg is known, the least that it can be
      std::uint32_t gap;
      std::uint32_t label = 0;
      double leg_db = -1;  ///< below 0: not yet known
    };
    static bool dearer(const Last& left, const Last& right);
    void push(const Last& last);
    std::span<const Label> labels(std::uint32_t gap) const;
    std::vector<Pass> passes(const Last& last) const;

    const Scene& scene_;
    const Origin& origin_;
    Point3 to_;
    std::vector<Last> open_;    // a heap, the cheapest in front
    std::vector<bool> closed_;  // gaps of the ways given out
  };

  /// Where a leg meets a gap on one side of it: its middle, kFootM off the wall's line.
  Point3 foot(std::uint32_t gap, bool left) const { return feet_[2 * gap + (left ? 1 : 0)]; }

 private:
  /// A leg, or the passing of a gap.
  struct Edge {
    std::uint32_t to;
    double cost_db;
  };

  void add_legs(const Scene& scene, const SlabBound& slabs, std::uint32_t i, std::uint32_t j);

  std::vector<Point3> feet_;              // of each gap, on its right and on its left
  std::vector<std::vector<Edge>> edges_;  // of each vertex
};

/// Ranking cost of the straight leg between two points, the lines of walls of the gaps at its ends left out:
/// what it crosses, and its length at kLegCostDbPerM.
double leg_cost_db(const Scene& scene, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b);

/// What a metre of way costs in the ranking: the slope of 20 log10(d) at 10 m.
inline constexpr double kLegCostDbPerM = 0.87;

/// What passing a gap costs in the ranking, whatever the bend.
inline constexpr double kGapCostDb = 3;

/// How far off a wall's line a leg begins: clear of the ends of walls that join it there.
inline constexpr double kFootM = 0.03;

/// Ways to one gap that begin at different gaps are kept up to this many: more than routes() looks at.
inline constexpr std::size_t kMostStarts = 4;

/// ... and no further than this over the cheapest.
inline constexpr double kDearerByDb = 30;

/// Legs longer or dearer than this are left out of the map.
inline constexpr double kLongestLegM = 30;
inline constexpr double kDearestLegDb = 40;

}  // namespace linkmargin

#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace linkmargin {

class Scene;

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

  /// The cheapest ways from one end to every gap, found once for all links of that end.
  class Origin {
   public:
    Origin() = default;
    Origin(const RouteMap& map, const Scene& scene, Point3 at);

   private:
    friend class RouteMap;
    friend class Query;
    Point3 at_;
    std::vector<double> legs_;  // cost of the leg to each gap, on the end's own side
    std::vector<double> cost_;  // of the cheapest way to each vertex
    std::vector<std::uint32_t> before_;
  };

  /// The ways between two ends, cheapest first, each through gaps that no earlier one uses.
  class Query {
   public:
    Query(const RouteMap& map, const Scene& scene, const Origin& origin, Point3 to);

    /// @param budget_db  ways that cost more are not looked for; never more than at an earlier call
    /// @return no passes when there is no further way
    Way next(double budget_db);

   private:
    /// A last gap; its leg is costed only when its turn comes.
    struct Last {
      double cost_db;  ///< of the whole way; until its leg is known, the least that it can be
      std::uint32_t gap;
      bool known;
    };
    static bool dearer(const Last& left, const Last& right);
    double cost_to(std::uint32_t gap) const;
    void open();
    std::vector<Pass> passes_to(std::uint32_t gap) const;

    const RouteMap& map_;
    const Scene& scene_;
    const Origin& origin_;
    Point3 to_;
    std::vector<double> legs_;  // of the leg from each gap; below 0: not yet known
    std::vector<Last> open_;    // a heap, the cheapest in front
    std::vector<bool> closed_;  // gaps of the ways given out
    bool searched_ = false;     // whether cost_ and before_ stand in for the origin's
    std::vector<double> cost_;
    std::vector<std::uint32_t> before_;
  };

  /// Where a leg meets a gap on one side of it: its middle, kFootM off the wall's line.
  static Point3 foot(const Scene& scene, std::uint32_t gap, bool left);

 private:
  struct Graph;

  /// Dijkstra from every gap that an end reaches, each with the cost of its leg, up to a budget.
  void search(const Scene& scene, const Origin& origin, const std::vector<bool>& closed, double budget_db,
              std::vector<double>& cost, std::vector<std::uint32_t>& before) const;

  std::shared_ptr<const Graph> graph_;
};

/// Ranking cost of the straight leg between two points, the walls of the gaps at its ends left out: what it
/// crosses, and its length at kLegCostDbPerM.
double leg_cost_db(const Scene& scene, Point3 a, Point3 b, std::uint32_t wall_a, std::uint32_t wall_b);

/// What a metre of way costs in the ranking: the slope of 20 log10(d) at 10 m.
inline constexpr double kLegCostDbPerM = 0.87;

/// What passing a gap costs in the ranking, whatever the bend.
inline constexpr double kGapCostDb = 3;

/// How far off a wall's line a leg begins: clear of the ends of walls that join it there.
inline constexpr double kFootM = 0.03;

/// Legs longer or dearer than this are left out of the map.
inline constexpr double kLongestLegM = 30;
inline constexpr double kDearestLegDb = 40;

}  // namespace linkmargin

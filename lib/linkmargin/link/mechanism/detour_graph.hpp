#pragma once

#include "linkmargin/geometry/point.hpp"

#include <cstdint>
#include <vector>

namespace linkmargin {

class Building;
class SlabBound;
struct Aperture;

/// The ways from aperture to aperture of a building, found once: which apertures can be reached from which,
/// on which side, and what stands between. A vertex is an aperture with a side and a sense: a way arrives at
/// one side of an aperture and leaves on the other.
///
/// What a leg costs here only ranks ways; a way that is taken is calculated anew
/// (link/mechanism/detours.hpp).
class DetourGraph {
 public:
  /// One aperture of a way, and the side on which the way arrives there.
  struct ApertureCrossing {
    std::uint32_t aperture = 0;
    bool from_left = false;
  };

  /// A way by its apertures, in order from its first end, with its ranking cost.
  struct Way {
    std::vector<ApertureCrossing> passes;
    double cost_db = 0;
  };

  /// @param building not kept
  /// @param threads  >= 1; changes nothing in the result
  DetourGraph() = default;
  explicit DetourGraph(const Building& building, int threads = 1);

  /// The cheapest way to a vertex of those that begin at one aperture.
  struct Label {
    double cost_db;
    std::uint32_t start;         ///< the vertex where it begins
    std::uint32_t before;        ///< the vertex passed before; a start is its own
    std::uint32_t before_label;  ///< and which of its labels
  };

  /// Where a leg meets an aperture on one side of it: its middle, kFootM off the wall's line.
  Point3 entry_point(std::uint32_t aperture, bool left) const {
    return entry_points_[2 * aperture + (left ? 1 : 0)];
  }

 private:
  friend class DetourTree;
  friend class DetourQuery;

  /// A leg, or the passing of an aperture.
  struct Edge {
    std::uint32_t to;
    double cost_db;
  };

  /// Vertex 4 * aperture + 2 * side + sense.
  static std::uint32_t arriving(std::uint32_t aperture, bool left) { return 4 * aperture + (left ? 2 : 0); }
  static std::uint32_t leaving(std::uint32_t aperture, bool left) { return arriving(aperture, left) + 1; }

  /// A leg between two apertures, each on one side.
  struct FoundLeg {
    std::uint32_t i, j;
    bool left_of_i, left_of_j;
    double cost_db;
  };

  void find_legs(const Building& building, const SlabBound& slabs, std::uint32_t i, std::uint32_t j,
                 std::vector<FoundLeg>& found) const;

  /// All that the last leg of a way needs of an aperture: side by side in memory, since every link asks all.
  struct Gate {
    Point2 at;
    Point2 normal;
    bool is_left(Point3 p) const { return dot(normal, p.plan() - at) > 0; }
  };

  std::vector<Gate> gates_;               // of each aperture
  std::vector<Point3> entry_points_;      // of each aperture, on its right and on its left
  std::vector<std::vector<Edge>> edges_;  // of each vertex
};

/// From one end, by way of each aperture that it can go to first, the cheapest ways on to every aperture:
/// found once for all links of that end.
class DetourTree {
 public:
  DetourTree() = default;
  DetourTree(const DetourGraph& map, const Building& building, Point3 at);

 private:
  friend class DetourQuery;
  std::vector<std::vector<DetourGraph::Label>>
      labels_;                       // of each vertex, the cheapest first, at most kMostStarts
  std::vector<double> cheapest_db_;  // of each vertex that leaves an aperture; infinite where none comes
};

/// Ranking cost of the straight leg between two points, the lines of walls of the apertures at its ends left
/// out: what it crosses, and its length at kLegCostDbPerM.
double leg_cost_db(const Building& building, Point3 a, Point3 b, std::uint32_t line_a, std::uint32_t line_b);

/// What a metre of way costs in the ranking: the slope of 20 log10(d) at 10 m.
inline constexpr double kLegCostDbPerM = 0.87;  ///< doubled, halved: 10, 3.5 dB at most, 0.5, 0.2 rms

/// What passing an aperture costs in the ranking, whatever the bend.
inline constexpr double kApertureCostDb = 3;  ///< assumption; doubled, halved: 1.3, 0.2 dB at most

/// Ways to one aperture that begin at different apertures are kept up to this many: with fewer, a link asked
/// from its other end could find other ways.
inline constexpr std::size_t kMostStarts = 16;  ///< doubled: no loss moves, halved: 6.3 dB at most

/// ... and no further than this over the cheapest.
inline constexpr double kDearerByDb = 60;  ///< halved: 42 dB at most, behind metal

/// Legs longer or dearer than this are left out of the map.
inline constexpr double kLongestLegM = 30;   ///< assumption; doubled or halved, no loss moves
inline constexpr double kDearestLegDb = 40;  ///< assumption; doubled or halved, no loss moves

}  // namespace linkmargin

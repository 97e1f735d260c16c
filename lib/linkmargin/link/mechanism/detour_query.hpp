#pragma once

#include "linkmargin/link/mechanism/detour_graph.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

class MapPlane;

/// The ways between two ends, cheapest first: of those that begin at one aperture and end at another the
/// cheapest, where it passes no aperture of a way given out before.
class DetourQuery {
 public:
  /// @param budget_db  ways that cost more are not looked for
  /// @param plane      what it is a cell of; null: of none. Changes no way
  DetourQuery(const DetourGraph& graph, const Building& building, const DetourTree& detour_tree, Point3 to,
              double budget_db, const MapPlane* plane = nullptr);

  /// @param budget_db  never more than before
  /// @return no passes when there is no further way
  DetourGraph::Way next(double budget_db);

 private:
  /// A last aperture with the next of its labels; its leg is costed only when its turn comes.
  struct FrontierEntry {
    double cost_db;  ///< of the whole way; until its leg is known, the least that it can be
    std::uint32_t aperture;
    std::uint32_t label = 0;
    double leg_db = -1;    ///< below 0: not yet known
    bool bounded = false;  ///< what the plane says of the leg is in the cost
  };
  static bool dearer(const FrontierEntry& left, const FrontierEntry& right);
  void push(const FrontierEntry& last);
  std::span<const DetourGraph::Label> labels(std::uint32_t aperture) const;
  std::vector<DetourGraph::ApertureCrossing> passes(const FrontierEntry& last) const;

  const DetourGraph& graph_;
  const Building& building_;
  const DetourTree& detour_tree_;
  const MapPlane* plane_;
  Point3 to_;
  bool is_closed(std::uint32_t aperture) const;

  std::vector<FrontierEntry> open_;    // a heap, the cheapest in front
  std::vector<std::uint32_t> closed_;  // apertures of the ways given out
};

}  // namespace linkmargin

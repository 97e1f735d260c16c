#pragma once

#include "linkmargin/geometry/box.hpp"
#include "linkmargin/geometry/point.hpp"

#include <cstddef>
#include <vector>

namespace linkmargin {

class Building;

/// The least that the slabs between two points can cost, without a trace: what spares a tall building the
/// search for ways between all its storeys. Built once, then read-only. The slabs of a level are
/// looked up on a grid whose cells are known to be slab all over.
class SlabBound {
 public:
  explicit SlabBound(const Building& building);

  /// Never more than the slabs of trace(a, b) cost; 0 where the line may pass beside them or through a hole.
  /// @param enough_db  counted no further than up to this
  double least_db(Point3 a, Point3 b, double enough_db) const;

  /// How many slabs the line surely passes; never more than trace(a, b) finds.
  int closed(Point3 a, Point3 b) const;

 private:
  struct Level {
    double z_m = 0;
    double least_db = 0;  ///< of its slabs, over all angles
    Box2 box;
    std::size_t columns = 0;
    std::vector<bool> covered;  ///< cell by cell: slab all over
    bool covers(Point2 p) const;
  };
  /// Calls visit(level) for each level that surely is passed, upwards, until it answers false.
  template <typename Visit>
  void for_passed(Point3 a, Point3 b, Visit&& visit) const;

  std::vector<Level> levels_;  // the lowest first
};

}  // namespace linkmargin

#pragma once

#include "linkmargin/geometry/wall_index.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace linkmargin {

struct Panel;

/// Finds the panels that a line may cross, storey by storey: a line within one storey looks at no other's,
/// however many there are. Built once, then read-only and safe to share between threads.
class PanelIndex {
 public:
  PanelIndex() = default;

  /// @param panels    of which the positions are given out
  /// @param floors_m  of the storeys, in any order: a panel belongs to the highest one under it,
  /// where half a metre of it may stand lower
  PanelIndex(std::span<const Panel> panels, std::vector<double> floors_m);

  /// The panels whose bases a ray crosses in plan, of all storeys that have some panel with a height in
  /// [low_m, high_m]; sorted within each storey, the lowest storey first.
  void crossings(Segment2 ray, double low_m, double high_m, std::vector<std::uint32_t>& found) const;

 private:
  struct Band {
    double bottom_m;
    double top_m;
    std::vector<std::uint32_t> positions;
    WallIndex index;
  };
  std::vector<Band> bands_;
};

}  // namespace linkmargin

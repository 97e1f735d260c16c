#pragma once

#include "linkmargin/analysis/placement/model/placement_scenario.hpp"
#include "linkmargin/base/progress.hpp"

#include <functional>
#include <memory>
#include <vector>

// Inside analysis/ only: what everything has at every place.
namespace linkmargin {

/// Whether a search is to end; may be empty.
using StopCall = std::function<bool()>;

/// The chances of a site's devices and areas, the least over some cases, every link calculated: from a device
/// to all places, for a way loses the same in both directions. Devices in order, then areas. More than
/// kExactChances chances are looked up (chance_table.hpp), fewer calculated.
class PlacementChances {
 public:
  /// @param cases at least one; outlive this
  /// @param enough  PlacementProblem::enough
  explicit PlacementChances(const std::vector<PlacementCase>& cases, double target_probability = 1);

  /// How many links there are with so many places.
  std::size_t links(std::size_t places) const;

  /// How long a link takes, in those of a site of a hundred pieces of wall with detours: in proportion to the
  /// number of pieces, and far less by the straight line alone.
  double link_cost() const;

  /// The problem of these places. Its hops are found when asked for, and kept.
  /// @param places outlive the problem. @param stop where it says so, chances that are not found yet mean
  /// nothing
  PlacementProblem problem(const PlacementPlaces& places, int threads, const ProgressCall& progress,
                           const StopCall& stop) const;

  /// The chance of an item with a radio at a place if every level were so much higher, and that of a repeater
  /// with another radio. Reckoned, not looked up.
  double chance(std::size_t item, const Hub& radio, const Placement& place, double gain_db) const;
  double hop_chance(const Hub& repeater, const Placement& place, const Hub& to, const Placement& to_place,
                    double gain_db) const;

 private:
  std::vector<PlacementItem> items(const PlacementPlaces& places) const;
  struct Memory;
  void fill(const PlacementPlaces& places, std::size_t item, Memory& memory, PlacementProblem& problem) const;

  std::vector<std::unique_ptr<const PlacementScenario>> scenarios_;
  float target_probability_;
};

inline constexpr std::size_t kExactChances = 200'000;

}  // namespace linkmargin

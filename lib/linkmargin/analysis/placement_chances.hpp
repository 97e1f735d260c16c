#pragma once

#include "linkmargin/analysis/placement_places.hpp"
#include "linkmargin/analysis/progress.hpp"

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

// Inside analysis/ only: what everything has at every place.
namespace linkmargin {

/// One state of the world that a choice has to hold in.
struct PlacementCase {
  std::string name;  ///< "doors closed"
  Site site;         ///< with the same devices, areas, hubs and repeaters by name
  Doors doors = Doors::armed;
  std::shared_ptr<const Scene> scene;  ///< of both
};

/// Whether a search is to end; may be empty.
using StopCall = std::function<bool()>;

/// The chances of a site's devices and areas, the least over some cases. A device's are found by a map from
/// it to all places: a way loses the same in both directions. Devices in order, then areas.
///
/// Where the straight line alone counts, a map is cast (straight_map.hpp), else every link is reckoned. More
/// than kExactChances chances are looked up (chance_table.hpp), fewer reckoned.
class PlacementChances {
 public:
  /// @param cases at least one; outlive this
  explicit PlacementChances(const std::vector<PlacementCase>& cases);
  ~PlacementChances();

  /// How many links must be reckoned one by one for so many places; 0 where maps are cast.
  std::size_t links(std::size_t places) const;

  /// How long a link takes, in those of a site with few walls: the square of its walls' number over 100.
  double link_cost() const;

  /// The problem of these places. Its hops are found when asked for, and kept.
  /// @param places outlive the problem. @param stop where it says so, chances that are not found yet stay 0
  PlacementProblem problem(const PlacementPlaces& places, int threads, const ProgressCall& progress,
                           const StopCall& stop) const;

  /// The chance of an item with a radio at a place if every level were so much higher, and that of a repeater
  /// with another radio. Reckoned, not looked up.
  double chance(std::size_t item, const Hub& radio, const Placement& place, double gain_db) const;
  double hop_chance(const Hub& repeater, const Placement& place, const Hub& to, const Placement& to_place,
                    double gain_db) const;

  /// Everything that takes slots, in the order of the items.
  std::vector<PlacementItem> items(const PlacementPlaces& places) const;

 private:
  class World;
  class Hops;
  void fill(const PlacementPlaces& places, std::size_t item, const std::vector<float*>& rows) const;

  std::vector<std::unique_ptr<const World>> worlds_;
};

inline constexpr std::size_t kExactChances = 200'000;

/// Sample points of an area while places are searched for: fewer than `check` takes.
inline constexpr int kPlacementAreaPoints = 24;

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

// Inside analysis/ only: items given to hubs and repeaters whose slots are few.
namespace linkmargin {

/// What an item is worth at each of some stations; under 0: not there.
struct SlotChances {
  std::size_t stations = 0;
  std::vector<float> values;  ///< [item * stations + station]
};

/// The slots of some hubs and repeaters, counted by the pools that tenants of a class take from.
class SlotPools {
 public:
  /// @param stations the capacity of each. @param total the slots of all tenants together: a pool of that
  /// many never runs short
  SlotPools(std::span<const std::optional<Capacity>> stations, int total);

  /// Takes slots for good, of a hub too where the station leads to one. @return whether they were there
  bool take(std::size_t station, const std::string& device_class, int slots);

  /// From now on what is at a station takes slots of a hub too.
  void lead_on(std::size_t station, std::size_t hub) { hub_of_[station] = hub; }

  /// The station of each item so that no item's value is under `at_least` and the sum of the values is
  /// greatest; empty where that cannot be. By dynamic programming over the slots used, ways that cannot reach
  /// what a simple one brings left out: exact.
  std::vector<std::uint32_t> share_out(const std::vector<PlacementItem>& items, const SlotChances& chances,
                                       float at_least) const;

  /// How many of the items' slots find no place at the best.
  int missing(const std::vector<PlacementItem>& items, const SlotChances& chances) const;

 private:
  struct Pool {
    std::size_t station = 0;
    std::optional<std::string> device_class;  ///< absent: the station's pool for every class
    bool others = false;                      ///< the classes that are not named
    int free = 0;
    std::uint64_t stride = 0;
  };

  bool has(std::size_t station, const PlacementItem& item) const;
  std::optional<double> greedy(const std::vector<PlacementItem>& items, const SlotChances& chances,
                               const std::vector<std::size_t>& order, float at_least) const;
  std::vector<std::size_t> pools_of(std::size_t station, const std::string& device_class) const;
  void number();

  std::vector<Pool> pools_;
  std::vector<std::vector<std::string>> named_;     ///< classes with a pool of their own, by station
  std::vector<std::optional<std::size_t>> hub_of_;  ///< by station: lead_on()
};

}  // namespace linkmargin

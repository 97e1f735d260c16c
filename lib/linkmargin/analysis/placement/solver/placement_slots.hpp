#pragma once

#include "linkmargin/analysis/placement/solver/placement_problem.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

// Inside analysis/ only: items given to hubs whose slots are few.
namespace linkmargin {

/// What an item is worth at each of some hubs; under 0: not there.
struct SlotChances {
  std::size_t hubs = 0;
  std::vector<float> values;  ///< [item * hubs + hub]
};

/// The slots of some hubs, counted by the pools that tenants of a class take from.
class SlotPools {
 public:
  /// @param hubs the capacity of each. @param total the slots of all tenants together: a pool of that many
  /// never runs short
  SlotPools(std::span<const std::optional<Capacity>> hubs, int total);

  /// Takes slots for good. @return whether they were there
  bool take(std::size_t hub, const std::string& device_class, int slots);

  /// The hub of each item so that no item's value is under `at_least` and the sum of the values is greatest;
  /// empty where that cannot be. By dynamic programming over the slots used, ways
  /// that cannot reach what a simple one brings left out: exact.
  std::vector<std::uint32_t> share_out(const std::vector<PlacementItem>& items, const SlotChances& chances,
                                       float at_least) const;

  /// How many of the items' slots find no place at the best.
  int missing(const std::vector<PlacementItem>& items, const SlotChances& chances) const;

 private:
  struct Pool {
    std::size_t hub = 0;
    std::optional<std::string> device_class;  ///< absent: the hub's pool for every class
    bool others = false;                      ///< the classes that are not named
    int free = 0;
    std::uint64_t stride = 0;
  };

  bool has(std::size_t hub, const PlacementItem& item) const;
  std::optional<double> greedy(const std::vector<PlacementItem>& items, const SlotChances& chances,
                               const std::vector<std::size_t>& order, float at_least) const;
  std::vector<std::size_t> pools_of(std::size_t hub, const std::string& device_class) const;
  void number();

  std::vector<Pool> pools_;
  std::vector<std::vector<std::string>> named_;  ///< classes with a pool of their own, by hub
};

}  // namespace linkmargin

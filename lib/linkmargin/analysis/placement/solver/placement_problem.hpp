#pragma once

#include "linkmargin/site/radio.hpp"

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// Something that has to be served: a device, or an area that counts by its share.
struct PlacementItem {
  int slots = 1;
  std::string device_class;          ///< which of a hub's slots it takes
  std::optional<std::uint32_t> hub;  ///< the group of the hub that has to serve it; absent: any
};

/// Hubs or repeaters that are alike: the same radio, the same places open to each.
struct PlacementGroup {
  bool repeater = false;
  int count = 1;                  ///< hubs: exactly so many; repeaters: at most
  std::size_t places = 0;         ///< open to each of them
  std::vector<float> chances;     ///< of item i at place p: [i * places + p]
  std::optional<Capacity> slots;  ///< that each has; absent: any number
  std::string device_class;       ///< of a repeater, which takes one slot of its hub
};

/// One hub or repeater at one of its group's places.
struct PlacementPart {
  std::uint32_t group = 0;
  std::uint32_t place = 0;
  friend auto operator<=>(const PlacementPart&, const PlacementPart&) = default;
};

/// The choice of places as numbers alone.
struct PlacementProblem {
  std::vector<PlacementItem> items;
  std::vector<PlacementGroup> groups;
  /// The chance of a repeater with a hub or with another repeater. Asked for again and again.
  std::function<float(PlacementPart repeater, PlacementPart to)> hop;
  /// The same of one part with every place of a group, where that is found at once; else empty. The part is
  /// the repeater, or what the group's repeaters reach. What is given back holds until the next call.
  std::function<const std::vector<float>&(PlacementPart part, std::uint32_t group, bool part_is_repeater)>
      hops{};
  int most_hops = 2;  ///< between a repeater and the hub: 1 or 2
  /// What the least chance of a layout counts to: from there on the sum decides. 1: the least chance first;
  /// 0: the sum alone.
  float target_probability = 1;

  float chance(std::size_t item, PlacementPart part) const {
    const PlacementGroup& group = groups[part.group];
    return group.chances[item * group.places + part.place];
  }
};

/// How an item reaches its hub.
struct PlacementRoute {
  std::uint32_t hub = 0;           ///< position in PlacementLayout::parts
  std::vector<std::uint32_t> via;  ///< repeaters, the first beside the item
  float chance = 0;                ///< the product of its hops'
};

/// Parts at places, with the best that they do for the items.
struct PlacementLayout {
  float worst = -1;  ///< the least chance of an item, at most PlacementProblem::enough; under 0: no layout
  double sum = -1;   ///< of all chances
  std::vector<PlacementPart> parts;
  std::vector<PlacementRoute> routes;  ///< one an item

  bool exists() const { return worst >= 0; }
};

/// The least chance of an item itself; 1 without items. @param layout exists
float least_chance(const PlacementLayout& layout);

/// The greater least chance as it counts, then the greater sum, then fewer parts.
bool better(const PlacementLayout& one, const PlacementLayout& other);

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/placement/model/placement_scenario.hpp"

#include <array>
#include <map>
#include <memory>
#include <utility>
#include <vector>

// Inside analysis/ only.
namespace linkmargin {

/// The chances between repeaters and hubs, the least over some cases, found when asked for and kept: a row at
/// a time where the straight line alone counts, else one by one.
class PlacementHops {
 public:
  static constexpr std::size_t kMostRowBytes = 100'000'000;  ///< then all rows are forgotten

  /// @param scenarios,places outlive this
  PlacementHops(const std::vector<std::unique_ptr<const PlacementScenario>>& scenarios,
                const PlacementPlaces& places)
      : scenarios_(scenarios), places_(places) {}

  float get(PlacementPart repeater, PlacementPart to);

  /// Of one part, a repeater or what repeaters reach, with every place of a group.
  const std::vector<float>& all(PlacementPart part, std::uint32_t group, bool part_is_repeater);

 private:
  const Hub& radio(std::uint32_t group) const { return places_.groups[group].radios.front().radio; }
  const Placement& place(PlacementPart part) const { return places_.point(part); }
  std::vector<float> row(PlacementPart from, std::uint32_t group, bool from_repeater);
  float chance(const PlacementScenario& scenario, PlacementPart repeater, PlacementPart to,
               const LinkEndpoint& from) const;
  float single(PlacementPart repeater, PlacementPart to);

  const std::vector<std::unique_ptr<const PlacementScenario>>& scenarios_;
  const PlacementPlaces& places_;
  WayMemory memory_;
  std::map<std::array<std::uint32_t, 4>, std::vector<float>>
      rows_;                     // 0 from a repeater, 1 to; part; other group
  std::size_t row_chances_ = 0;  // in all rows
  std::map<std::pair<PlacementPart, PlacementPart>, float> single_;
  std::map<std::pair<std::size_t, PlacementPart>, std::unique_ptr<LinkEndpoint>> endpoints_;
};

}  // namespace linkmargin

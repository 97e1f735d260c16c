#include "linkmargin/analysis/placement_hops.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

// What is kept before all is forgotten.
constexpr std::size_t kMostRows = 3000;
constexpr std::size_t kMostVantages = 400;

}  // namespace

float PlacementHops::get(PlacementPart repeater, PlacementPart to) {
  const std::array<std::uint32_t, 4> from_key{0, repeater.group, repeater.place, to.group};
  const std::array<std::uint32_t, 4> to_key{1, to.group, to.place, repeater.group};
  if (const auto known = rows_.find(from_key); known != rows_.end()) return known->second[to.place];
  if (const auto known = rows_.find(to_key); known != rows_.end()) return known->second[repeater.place];
  if (worlds_.front()->casts()) {
    if (rows_.size() > kMostRows) rows_.clear();
    rows_[from_key] = row(repeater, to.group, true);
    rows_[to_key] = row(to, repeater.group, false);
    return rows_.at(from_key)[to.place];
  }
  const auto [known, is_new] = single_.try_emplace({repeater, to}, 0.0F);
  if (is_new) known->second = single(repeater, to);
  return known->second;
}

/// From one part to every place of a group.
std::vector<float> PlacementHops::row(PlacementPart from, std::uint32_t group, bool from_repeater) const {
  const std::vector<std::uint32_t>& points = places_.groups[group].points;
  std::vector<float> least(points.size(), 1);
  for (const auto& world : worlds_) {
    WayMemory memory;
    world->find_losses(world->site().point(place(from)), places_, cells_, points, memory);
    for (std::size_t p = 0; p < points.size(); ++p) {
      const PlacementPart other{group, static_cast<std::uint32_t>(p)};
      least[p] = std::min(least[p], from_repeater ? chance(*world, from, other, memory.ways[p])
                                                  : chance(*world, other, from, memory.ways[p]));
    }
  }
  return least;
}

float PlacementHops::chance(const PlacementWorld& world, PlacementPart repeater, PlacementPart to,
                            const WayLoss& way) const {
  return world.chance(world.end_of(radio(repeater.group), place(repeater)), radio(to.group), place(to), way);
}

float PlacementHops::single(PlacementPart repeater, PlacementPart to) {
  float least = 1;
  for (std::size_t w = 0; w < worlds_.size(); ++w) {
    const PlacementWorld& world = *worlds_[w];
    if (vantages_.size() > kMostVantages) vantages_.clear();
    auto [vantage, is_new] = vantages_.try_emplace({w, to}, nullptr);
    if (is_new) vantage->second = std::make_unique<Vantage>(world.scene(), world.site().point(place(to)));
    const WayLoss way = world.loss(*vantage->second, world.site().point(place(repeater)));
    least = std::min(least, chance(world, repeater, to, way));
  }
  return least;
}

}  // namespace linkmargin

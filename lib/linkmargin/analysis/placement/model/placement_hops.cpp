#include "linkmargin/analysis/placement/model/placement_hops.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

// What is kept before all is forgotten.
constexpr std::size_t kMostRows = 12'000;
constexpr std::size_t kMostEndpoints = 400;

/// Longer rows are looked up.
constexpr std::size_t kMostExact = 1000;

}  // namespace

float PlacementHops::get(PlacementPart repeater, PlacementPart to) {
  if (const auto known = rows_.find({0, repeater.group, repeater.place, to.group}); known != rows_.end())
    return known->second[to.place];
  if (const auto known = rows_.find({1, to.group, to.place, repeater.group}); known != rows_.end())
    return known->second[repeater.place];
  if (!scenarios_.front()->diffracts()) {
    all(to, repeater.group, false);
    return all(repeater, to.group, true)[to.place];
  }
  const auto [known, is_new] = single_.try_emplace({repeater, to}, 0.0F);
  if (is_new) known->second = single(repeater, to);
  return known->second;
}

const std::vector<float>& PlacementHops::all(PlacementPart part, std::uint32_t group, bool part_is_repeater) {
  const std::array<std::uint32_t, 4> key{part_is_repeater ? 0U : 1U, part.group, part.place, group};
  if (const auto known = rows_.find(key); known != rows_.end()) return known->second;
  if (rows_.size() > kMostRows || row_chances_ * sizeof(float) > kMostRowBytes) {
    rows_.clear();
    row_chances_ = 0;
  }
  const std::vector<float>& found = rows_[key] = row(part, group, part_is_repeater);
  row_chances_ += found.size();
  return found;
}

/// From one part to every place of a group. Where the part is no repeater, the group's is: its radio is the
/// same at every place but for the metal at its own.
std::vector<float> PlacementHops::row(PlacementPart from, std::uint32_t group, bool from_repeater) {
  const std::vector<std::uint32_t>& points = places_.groups[group].points;
  const Hub& repeater = radio(from_repeater ? from.group : group);
  const Hub& to = radio(from_repeater ? group : from.group);
  const bool turned = repeater.mount || to.mount;  // of each place its own
  std::vector<float> least(points.size(), 1);
  std::vector<float> found(points.size());
  for (const auto& scenario : scenarios_) {
    if (!turned) scenario->find_losses(scenario->site().point(place(from)), places_, memory_);
    found.assign(points.size(), 0);
    if (turned) {
      const auto endpoint =
          std::make_unique<LinkEndpoint>(scenario->scene(), scenario->site().point(place(from)));
      for (std::size_t p = 0; p < points.size(); ++p) {
        const PlacementPart other{group, static_cast<std::uint32_t>(p)};
        found[p] = from_repeater ? chance(*scenario, from, other, *endpoint)
                                 : chance(*scenario, other, from, *endpoint);
      }
    } else {
      const bool exact = points.size() <= kMostExact;
      scenario->add_chances(scenario->end_of(repeater, place(from)), to, places_, points, memory_, exact,
                            found);
    }
    for (std::size_t p = 0; p < points.size(); ++p) least[p] = std::min(least[p], found[p]);
  }
  return least;
}

/// @param from either of them
float PlacementHops::chance(const PlacementScenario& scenario, PlacementPart repeater, PlacementPart to,
                            const LinkEndpoint& from) const {
  return scenario.chance(scenario.end_of(radio(repeater.group), place(repeater)), radio(to.group), place(to),
                         from);
}

float PlacementHops::single(PlacementPart repeater, PlacementPart to) {
  float least = 1;
  for (std::size_t w = 0; w < scenarios_.size(); ++w) {
    const PlacementScenario& scenario = *scenarios_[w];
    if (endpoints_.size() > kMostEndpoints) endpoints_.clear();
    auto [endpoint, is_new] = endpoints_.try_emplace({w, to}, nullptr);
    if (is_new)
      endpoint->second = std::make_unique<LinkEndpoint>(scenario.scene(), scenario.site().point(place(to)));
    least = std::min(least, chance(scenario, repeater, to, *endpoint->second));
  }
  return least;
}

}  // namespace linkmargin

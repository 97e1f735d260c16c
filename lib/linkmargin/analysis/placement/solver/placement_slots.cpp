#include "linkmargin/analysis/placement/solver/placement_slots.hpp"

#include "linkmargin/base/range.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <numeric>

namespace linkmargin {
namespace {

constexpr std::string_view kOthers = "others";

/// The best way known to fill pools so far, with the step before.
struct Filled {
  double worth = 0;
  std::uint64_t before = 0;
  std::uint32_t station = 0;
};

constexpr std::uint32_t kNobody = 0xFFFFFFFF;

/// Over what a sum of chances loses to rounding.
constexpr double kSlotRounding = 1e-9;

/// The items in the order in which they are decided: those first that lose most without their best station.
std::vector<std::size_t> by_regret(const SlotChances& chances, std::size_t items) {
  std::vector<float> regret(items);
  for (std::size_t i = 0; i < items; ++i) {
    float best = -1;
    float second = -1;
    for (std::size_t station = 0; station < chances.stations; ++station) {
      const float value = chances.values[i * chances.stations + station];
      second = std::max(second, std::min(best, value));
      best = std::max(best, value);
    }
    regret[i] = best - second;
  }
  std::vector<std::size_t> order(items);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, std::ranges::greater{}, [&](std::size_t i) { return regret[i]; });
  return order;
}

}  // namespace

SlotPools::SlotPools(std::span<const std::optional<Capacity>> stations, int total)
    : named_(stations.size()), hub_of_(stations.size()) {
  for (std::size_t station = 0; station < stations.size(); ++station) {
    if (!stations[station]) continue;
    const Capacity& capacity = *stations[station];
    int all = 0;
    for (const auto& [device_class, slots] : capacity.by_class) {
      const bool others = device_class == kOthers;
      if (!others) named_[station].push_back(device_class);
      pools_.push_back({station, device_class, others, slots, 0});
      all += slots;
    }
    const bool by_class = !capacity.by_class.empty();
    if (by_class && capacity.by_class.contains(std::string(kOthers))) continue;
    pools_.push_back({station, {}, false, by_class ? all : capacity.total.value_or(total), 0});
  }
  std::erase_if(pools_, [&](const Pool& pool) { return pool.free >= total; });
}

std::vector<std::size_t> SlotPools::pools_of(std::size_t station, const std::string& device_class) const {
  const bool named = std::ranges::find(named_[station], device_class) != named_[station].end();
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < pools_.size(); ++i) {
    const Pool& pool = pools_[i];
    if (pool.station != station) continue;
    if (!pool.device_class || (named ? *pool.device_class == device_class : pool.others)) found.push_back(i);
  }
  if (!hub_of_[station]) return found;
  for (const std::size_t of_hub : pools_of(*hub_of_[station], device_class)) found.push_back(of_hub);
  return found;
}

bool SlotPools::take(std::size_t station, const std::string& device_class, int slots) {
  for (const std::size_t pool : pools_of(station, device_class)) {
    pools_[pool].free -= slots;
    if (pools_[pool].free < 0) return false;
  }
  return true;
}

void SlotPools::number() {
  std::uint64_t stride = 1;
  for (Pool& pool : pools_) {
    pool.stride = stride;
    const auto states = static_cast<std::uint64_t>(pool.free) + 1;
    if (stride > (std::uint64_t{1} << 60U) / states)
      throw DomainError("too many kinds of slots on too many hubs");
    stride *= states;
  }
}

/// Each in turn to the best station that has the slots. @return the sum; nothing where one finds no place
std::optional<double> SlotPools::greedy(const std::vector<PlacementItem>& items, const SlotChances& chances,
                                        const std::vector<std::size_t>& order, float at_least) const {
  SlotPools left = *this;
  double sum = 0;
  for (const std::size_t i : order) {
    std::uint32_t best = kNobody;
    for (std::uint32_t station = 0; station < chances.stations; ++station) {
      const float value = chances.values[i * chances.stations + station];
      if (value < 0 || value < at_least || !left.has(station, items[i])) continue;
      if (best == kNobody || value > chances.values[i * chances.stations + best]) best = station;
    }
    if (best == kNobody) return {};
    left.take(best, items[i].device_class, items[i].slots);
    sum += static_cast<double>(chances.values[i * chances.stations + best]);
  }
  return sum;
}

bool SlotPools::has(std::size_t station, const PlacementItem& item) const {
  return std::ranges::all_of(pools_of(station, item.device_class),
                             [&](std::size_t pool) { return pools_[pool].free >= item.slots; });
}

std::vector<std::uint32_t> SlotPools::share_out(const std::vector<PlacementItem>& items,
                                                const SlotChances& chances, float at_least) const {
  SlotPools pools = *this;
  pools.number();
  const std::vector<std::size_t> order = by_regret(chances, items.size());
  // What the items not decided yet can bring at most: a way that cannot reach what a simple one brings is
  // dropped.
  std::vector<double> rest(items.size() + 1, 0);
  for (std::size_t k = items.size(); k-- > 0;) {
    const float* values = &chances.values[order[k] * chances.stations];
    rest[k] = rest[k + 1] + static_cast<double>(*std::max_element(values, values + chances.stations));
  }
  const double known = greedy(items, chances, order, at_least).value_or(-1) - kSlotRounding;
  std::vector<std::map<std::uint64_t, Filled>> layers(items.size() + 1);
  layers[0][0] = {};
  for (std::size_t k = 0; k < items.size(); ++k) {
    const PlacementItem& item = items[order[k]];
    for (std::uint32_t station = 0; station < chances.stations; ++station) {
      const float value = chances.values[order[k] * chances.stations + station];
      if (value < 0 || value < at_least) continue;
      const std::vector<std::size_t> taken = pools.pools_of(station, item.device_class);
      for (const auto& [used, filled] : layers[k]) {
        const double worth = filled.worth + static_cast<double>(value);
        if (worth + rest[k + 1] < known) continue;
        std::uint64_t next = used;
        bool fits = true;
        for (const std::size_t p : taken) {
          const Pool& pool = pools.pools_[p];
          const auto states = static_cast<std::uint64_t>(pool.free) + 1;
          fits = fits && static_cast<int>(used / pool.stride % states) + item.slots <= pool.free;
          next += pool.stride * static_cast<std::uint64_t>(item.slots);
        }
        if (!fits) continue;
        const auto [there, is_new] = layers[k + 1].try_emplace(next, Filled{worth, used, station});
        if (!is_new && worth > there->second.worth) there->second = {worth, used, station};
      }
    }
    if (layers[k + 1].empty()) return {};
  }
  auto best = layers.back().begin();
  for (auto it = layers.back().begin(); it != layers.back().end(); ++it) {
    if (it->second.worth > best->second.worth) best = it;
  }
  std::vector<std::uint32_t> stations(items.size());
  std::uint64_t at = best->first;
  for (std::size_t k = items.size(); k-- > 0;) {
    const Filled& filled = layers[k + 1].at(at);
    stations[order[k]] = filled.station;
    at = filled.before;
  }
  return stations;
}

int SlotPools::missing(const std::vector<PlacementItem>& items, const SlotChances& chances) const {
  // One more station that takes everything and is worth nothing; what goes there is missing.
  SlotChances with{chances.stations + 1, {}};
  for (std::size_t i = 0; i < items.size(); ++i) {
    for (std::size_t station = 0; station < chances.stations; ++station) {
      const bool may = chances.values[i * chances.stations + station] >= 0;
      with.values.push_back(may ? static_cast<float>(items[i].slots) : -1);
    }
    with.values.push_back(0);
  }
  SlotPools pools = *this;
  pools.named_.emplace_back();
  pools.hub_of_.emplace_back();
  const std::vector<std::uint32_t> stations = pools.share_out(items, with, 0);
  int missing = 0;
  for (std::size_t i = 0; i < items.size(); ++i)
    missing += stations[i] == chances.stations ? items[i].slots : 0;
  return missing;
}

}  // namespace linkmargin

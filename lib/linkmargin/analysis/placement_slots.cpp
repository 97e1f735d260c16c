#include "linkmargin/analysis/placement_slots.hpp"

#include "linkmargin/base/range.hpp"

#include <algorithm>
#include <map>

namespace linkmargin {
namespace {

constexpr std::string_view kOthers = "others";

/// The best way known to fill pools so far, with the step before.
struct Filled {
  double worth = 0;
  std::uint64_t before = 0;
  std::uint32_t hub = 0;
};

}  // namespace

SlotPools::SlotPools(std::span<const std::optional<Capacity>> hubs, int total) : named_(hubs.size()) {
  for (std::size_t hub = 0; hub < hubs.size(); ++hub) {
    if (!hubs[hub]) continue;
    const Capacity& capacity = *hubs[hub];
    int all = 0;
    for (const auto& [device_class, slots] : capacity.by_class) {
      const bool others = device_class == kOthers;
      if (!others) named_[hub].push_back(device_class);
      pools_.push_back({hub, device_class, others, slots, 0});
      all += slots;
    }
    const bool by_class = !capacity.by_class.empty();
    if (by_class && capacity.by_class.contains(std::string(kOthers))) continue;
    pools_.push_back({hub, {}, false, by_class ? all : capacity.total.value_or(total), 0});
  }
  std::erase_if(pools_, [&](const Pool& pool) { return pool.free >= total; });
}

std::vector<std::size_t> SlotPools::pools_of(std::size_t hub, const std::string& device_class) const {
  const bool named = std::ranges::find(named_[hub], device_class) != named_[hub].end();
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < pools_.size(); ++i) {
    const Pool& pool = pools_[i];
    if (pool.hub != hub) continue;
    if (!pool.device_class || (named ? *pool.device_class == device_class : pool.others)) found.push_back(i);
  }
  return found;
}

bool SlotPools::take(std::size_t hub, const std::string& device_class, int slots) {
  for (const std::size_t pool : pools_of(hub, device_class)) {
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

std::vector<std::uint32_t> SlotPools::share_out(const std::vector<PlacementItem>& items,
                                                const SlotChances& chances, float at_least) const {
  SlotPools pools = *this;
  pools.number();
  std::vector<std::map<std::uint64_t, Filled>> layers(items.size() + 1);
  layers[0][0] = {};
  for (std::size_t i = 0; i < items.size(); ++i) {
    for (std::uint32_t hub = 0; hub < chances.hubs; ++hub) {
      const float value = chances.values[i * chances.hubs + hub];
      if (value < 0 || value < at_least) continue;
      const std::vector<std::size_t> taken = pools.pools_of(hub, items[i].device_class);
      for (const auto& [used, filled] : layers[i]) {
        std::uint64_t next = used;
        bool fits = true;
        for (const std::size_t p : taken) {
          const Pool& pool = pools.pools_[p];
          const auto states = static_cast<std::uint64_t>(pool.free) + 1;
          fits = fits && static_cast<int>(used / pool.stride % states) + items[i].slots <= pool.free;
          next += pool.stride * static_cast<std::uint64_t>(items[i].slots);
        }
        if (!fits) continue;
        const double worth = filled.worth + static_cast<double>(value);
        const auto [known, is_new] = layers[i + 1].try_emplace(next, Filled{worth, used, hub});
        if (!is_new && worth > known->second.worth) known->second = {worth, used, hub};
      }
    }
    if (layers[i + 1].empty()) return {};
  }
  auto best = layers.back().begin();
  for (auto it = layers.back().begin(); it != layers.back().end(); ++it) {
    if (it->second.worth > best->second.worth) best = it;
  }
  std::vector<std::uint32_t> hubs(items.size());
  std::uint64_t at = best->first;
  for (std::size_t i = items.size(); i-- > 0;) {
    const Filled& filled = layers[i + 1].at(at);
    hubs[i] = filled.hub;
    at = filled.before;
  }
  return hubs;
}

int SlotPools::missing(const std::vector<PlacementItem>& items, const SlotChances& chances) const {
  // One more hub that takes everything and is worth nothing; what goes there is missing.
  SlotChances with{chances.hubs + 1, {}};
  for (std::size_t i = 0; i < items.size(); ++i) {
    for (std::size_t hub = 0; hub < chances.hubs; ++hub) {
      const bool may = chances.values[i * chances.hubs + hub] >= 0;
      with.values.push_back(may ? static_cast<float>(items[i].slots) : -1);
    }
    with.values.push_back(0);
  }
  SlotPools pools = *this;
  pools.named_.emplace_back();
  const std::vector<std::uint32_t> hubs = pools.share_out(items, with, 0);
  int missing = 0;
  for (std::size_t i = 0; i < items.size(); ++i) missing += hubs[i] == chances.hubs ? items[i].slots : 0;
  return missing;
}

}  // namespace linkmargin

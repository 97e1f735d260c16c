#include "linkmargin/prediction/serving/hub_load.hpp"

#include <map>

namespace linkmargin {

HubLoad hub_load(const Hub& hub, const std::vector<SlotUser>& tenants) {
  HubLoad load;
  load.hub = hub.name;
  std::map<std::string, int> used;
  for (const SlotUser& tenant : tenants) {
    load.slots_used += tenant.slots;
    const bool named = hub.capacity && hub.capacity->by_class.contains(tenant.device_class);
    used[named ? tenant.device_class : "others"] += tenant.slots;
  }
  if (!hub.capacity) return load;
  load.capacity = hub.capacity->total;
  if (!hub.capacity->by_class.empty()) {
    int total = 0;
    for (const auto& [device_class, places] : hub.capacity->by_class) {
      load.classes.push_back({device_class, used[device_class], places});
      load.over_capacity |= used[device_class] > places;
      total += places;
    }
    load.capacity = total;
  }
  load.over_capacity |= load.slots_used > *load.capacity;
  return load;
}

}  // namespace linkmargin

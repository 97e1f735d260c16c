#include "linkmargin/prediction/serving/hub_load.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

template <typename Classes>
auto slots_of(Classes& classes, const std::string& device_class) {
  const auto named = std::ranges::find(classes, device_class, &ClassLoad::device_class);
  return named != classes.end() ? named : std::ranges::find(classes, "others", &ClassLoad::device_class);
}

}  // namespace

HubLoad empty_load(const std::string& name, const std::optional<Capacity>& capacity) {
  HubLoad load{.hub = name, .capacity = {}, .classes = {}};
  if (!capacity) return load;
  load.capacity = capacity->total;
  if (capacity->by_class.empty()) return load;
  int total = 0;
  for (const auto& [device_class, slots] : capacity->by_class) {
    load.classes.push_back({device_class, 0, slots});
    total += slots;
  }
  load.capacity = total;
  return load;
}

void HubLoad::take(const SlotUser& user) {
  slots_used += user.slots;
  over_capacity |= capacity && slots_used > *capacity;
  const auto of_class = slots_of(classes, user.device_class);
  if (of_class == classes.end()) return;
  of_class->slots_used += user.slots;
  over_capacity |= of_class->slots_used > of_class->capacity;
}

bool HubLoad::has_room(const SlotUser& user) const {
  if (!capacity) return true;
  if (classes.empty()) return slots_used + user.slots <= *capacity;
  const auto of_class = slots_of(classes, user.device_class);
  return of_class != classes.end() && of_class->slots_used + user.slots <= of_class->capacity;
}

}  // namespace linkmargin

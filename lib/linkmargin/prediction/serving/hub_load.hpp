#pragma once

#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct ClassLoad {
  std::string device_class;
  int slots_used = 0;
  int capacity = 0;
};

/// How many of a hub's slots are used.
struct HubLoad {
  std::string hub;
  int slots_used = 0;
  std::optional<int> capacity;     ///< in all; absent: not said
  std::vector<ClassLoad> classes;  ///< where the hub's slots are by class
  bool over_capacity = false;      ///< in all, or in a class
};

/// Something that takes slots of a hub.
struct SlotUser {
  std::string device_class;
  int slots = 1;
};

/// A tenant of a class that the hub does not name takes from "others".
HubLoad hub_load(const Hub& hub, const std::vector<SlotUser>& tenants);

}  // namespace linkmargin

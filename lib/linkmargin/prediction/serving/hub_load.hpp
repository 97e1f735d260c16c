#pragma once

#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// Slots of one class of devices.
struct ClassLoad {
  std::string device_class;
  int slots_used = 0;
  int capacity = 0;
};

/// Something that takes slots of a hub.
struct SlotUser {
  std::string device_class;
  int slots = 1;
};

/// How many of a hub's or a repeater's slots are used.
struct HubLoad {
  std::string hub;
  int slots_used = 0;
  std::optional<int> capacity;     ///< in all; absent: not said
  std::vector<ClassLoad> classes;  ///< where the slots are by class
  bool over_capacity = false;      ///< in all, or in a class

  /// A user of a class that is not named takes from "others".
  void take(const SlotUser& user);

  /// Whether a user's slots are left.
  bool has_room(const SlotUser& user) const;
};

/// Of a hub or repeater at which nothing is enrolled.
HubLoad empty_load(const std::string& name, const std::optional<Capacity>& capacity);

}  // namespace linkmargin

#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>

namespace linkmargin {

/// What the equipment showed of a device on site. Exactly one of `percent` and `level` has a value.
struct Reading {
  std::string device;              ///< a name of Site::devices
  std::optional<std::string> hub;  ///< a name of Site::hubs; absent: not said which hub it was
  std::optional<double> percent;   ///< 0..100 on the site's ReadingScale; 0 and 100 are bounds, not values
  std::optional<Dbm> level;
  std::optional<bool> doors_open;  ///< every leaf that opens stood open; absent: not said
  std::optional<Placement> place;  ///< where it was read; absent: at the device's own place
  std::string note;
  int line = 0;  ///< of the file, from 1; 0 when it comes from none
  friend bool operator==(const Reading&, const Reading&) = default;
};

}  // namespace linkmargin

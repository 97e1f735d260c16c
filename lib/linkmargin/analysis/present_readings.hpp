#pragma once

#include "linkmargin/link/scene.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <map>
#include <string>
#include <vector>

namespace linkmargin {

/// What was read of each device where it hangs.
struct PresentReadings {
  std::map<std::string, double> percent;  ///< by device; of several rows the last
  std::vector<std::string> left_out;      ///< why rows were not taken
};

/// Left out are rows taken elsewhere than the device's place, with doors otherwise than asked, or with
/// another hub than the device is enrolled with. A level counts as what the site's scale shows of it.
PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors);

}  // namespace linkmargin

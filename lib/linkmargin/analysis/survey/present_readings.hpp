#pragma once

#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/prediction/device_link.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// What was read of a device where it hangs.
struct PresentReading {
  double percent = 0;
  std::optional<std::string> hub;  ///< absent: not said which hub it was
  std::size_t row = 0;             ///< position among the readings
};

/// What was read of each device where it hangs.
struct PresentReadings {
  std::map<std::string, PresentReading> of_device;  ///< of several rows the last
  std::vector<Warning> left_out;                    ///< why rows are none of them
};

/// Left out are rows taken elsewhere than the device's place, with doors otherwise than asked, or with
/// another hub than the device is enrolled with. They still tell of what is near them (ShadowingRegression).
/// A level counts as what the site's scale shows of it.
/// @throws DomainError when a reading names a device that the site lacks or its percentage is none
PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors);

/// A caution for each serving link whose device was read weak where it hangs and is not predicted weak: what
/// was read counts.
std::vector<Warning> read_weak_warnings(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                        std::span<const Link> links);

}  // namespace linkmargin

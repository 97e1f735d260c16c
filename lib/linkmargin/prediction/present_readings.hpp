#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What was read of a device or repeater where it hangs.
struct PresentReading {
  double percent = 0;
  std::optional<std::string> hub;         ///< absent: not said which hub it was
  std::optional<std::string> via{};       ///< the repeater that it was enrolled at
  std::size_t row = 0;                    ///< position among the readings
  std::vector<double> earlier_percent{};  ///< read there before, in their order
};

/// What was read of a device at another place, with the doors as asked and enrolled as it is.
struct ElsewhereReading {
  Placement place;
  double percent = 0;
};

/// What was read of each device where it hangs.
struct PresentReadings {
  /// Of several rows the last that was taken: by their moments where all of a device have a date or none has,
  /// else by the order of the rows.
  std::map<std::string, PresentReading> of_device;
  std::map<std::string, std::vector<ElsewhereReading>> elsewhere;  ///< in the order of the rows
  std::vector<Warning> left_out;                                   ///< why rows are none of them

  /// Null where none was taken.
  const PresentReading* find(const std::string& device) const;

  /// What was read of a device at other places; empty where nothing was.
  std::vector<ElsewhereReading> elsewhere_of(const std::string& device) const;
};

/// Left out are rows taken elsewhere than the device's place, with doors otherwise than asked, or with
/// another hub than the device is enrolled with. They still tell of what is near them (ShadowingRegression).
/// A level counts as what the site's scale shows of it.
/// @throws DomainError when a reading names a device or repeater that the site lacks or its percentage is
/// none
PresentReadings present_readings(const Site& site, const std::vector<Reading>& readings, Doors doors);

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/what_if/what_if.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What a device reads as predicted, in the site as it is and in a case; absent where it has no such device.
struct DeviceChange {
  std::string device;
  std::optional<double> before_percent;
  std::optional<double> after_percent;
  bool weak_before = false;
  bool weak_after = false;
};

/// What a case makes of a site, without swept values and draws.
struct CaseChange {
  std::string name;  ///< of the case; empty: the site as it is
  std::string worst_device;
  double worst_reading_percent = 0;
  double worst_pass_probability = 0;
  std::size_t weak_count = 0;
  std::vector<std::string> weak_areas;
  std::vector<std::string> over_capacity;  ///< hubs that serve more than they have slots for
  std::vector<DeviceChange> devices;       ///< of the site, then those that the case adds
  bool same_figures = false;  ///< no level, chance, area, hub or slot differs from the site as it is

  std::vector<std::string> turns_weak() const;  ///< weak in the case and not before, or new and weak
  std::vector<std::string> recovers() const;    ///< weak before, there still and not weak
};

/// Whether two tables of one site, or of a site and a case of it, tell the same of every link, area and hub.
bool same_figures(const LinkTable& before, const LinkTable& after);

/// The site as it is, then each of its cases.
/// @throws DomainError as what_if() does
std::vector<CaseChange> what_if_changes(const WhatIf& what_if, std::size_t site,
                                        const WhatIfOptions& options);

/// One thing that is not settled, and between what the lowest reading of the site lies for it, all else as
/// predicted.
struct Sensitivity {
  enum class Kind { swept, element, model, parameter, spot };
  Kind kind = Kind::swept;
  std::string path{};    ///< what is swept; else empty
  PartName part{};       ///< what stands in the way; else none
  std::string low_at{};  ///< the swept value, as shown; else empty
  std::string high_at{};
  double low_percent = 0;
  double high_percent = 0;

  double swing_percent() const { return high_percent - low_percent; }
};

/// One for each swept path over its values; and where there are draws, one for each thing in the way between
/// the tenth and the ninetieth percentile of its loss, and for the model, the calibration and the spots
/// between those of kSensitivityDraws draws of each alone. The largest first; none that changes nothing.
/// @throws DomainError as what_if() does
std::vector<Sensitivity> what_if_sensitivity(const WhatIf& what_if, std::size_t site,
                                             const WhatIfOptions& options);

inline constexpr std::uint64_t kSensitivityDraws = 2000;

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/area_cover.hpp"
#include "linkmargin/analysis/hub_load.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct LinkTableOptions {
  Doors doors = Doors::armed;
  bool all_pairs = false;    ///< every device with every hub, not only with the one that serves it
  double area_step_m = 0.5;  ///< between the sample points of an area, at most
  int threads = 1;           ///< >= 1; changes nothing in the result
};

/// One device with one hub.
struct Link {
  std::string device;
  std::string hub;
  std::vector<std::string> via;  ///< repeaters on the way
  LossBreakdown loss;
  Direction uplink;
  std::optional<Direction> downlink;  ///< absent: a one-way device
  bool weaker_is_downlink = false;
  double pass_probability =
      0;                ///< that the reading, taken on site, reaches the threshold: the direction with less
  bool weak = false;    ///< the predicted reading of either direction is under the threshold, or none
  bool serving = true;  ///< this hub serves the device (all_pairs lists the others too)

  /// The direction with the smaller margin: the one that counts.
  const Direction& weaker() const { return weaker_is_downlink ? *downlink : uplink; }

  /// The direction with the lower reading: the weaker one where both read the same.
  const Direction& lower() const;
  bool lower_is_downlink() const { return &lower() != &uplink; }
};

/// The answer of `check`.
struct LinkTable {
  std::string site;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  PathLossModel model = PathLossModel::walls;
  ReadingScale reading;
  std::vector<Link> links;  ///< in the order of the site's devices, then of its hubs
  std::vector<AreaCover> areas;
  std::vector<HubLoad> hubs;
  std::vector<std::string> weak_devices;  ///< in the order of the site
  std::vector<std::string> cautions;
};

/// @param site sound: validate(site) is empty
LinkTable link_table(const Site& site, const LinkTableOptions& options = {});

}  // namespace linkmargin

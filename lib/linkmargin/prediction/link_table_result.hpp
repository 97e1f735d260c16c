#pragma once

#include "linkmargin/prediction/area_cover.hpp"
#include "linkmargin/prediction/device_link.hpp"
#include "linkmargin/prediction/endpoint_cache.hpp"
#include "linkmargin/prediction/hub_load.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct LinkTableOptions {
  Doors doors = Doors::armed;
  bool all_pairs = false;        ///< every device with every hub, not only with the one that serves it
  double area_step_m = 0.5;      ///< between the sample points of an area, at most
  ShadowingRegression nearby{};  ///< of the site: links and areas near them follow them
  int threads = 1;               ///< >= 1; changes nothing in the result
  /// Chances alone, for many tables: ranges and outage of links stay unset, and there are no cautions.
  bool in_short = false;
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
  std::vector<Warning> warnings;
  std::size_t nearby_readings = 0;  ///< how many readings links near them follow
};

}  // namespace linkmargin

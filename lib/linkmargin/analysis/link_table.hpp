#pragma once

#include "linkmargin/analysis/area_cover.hpp"
#include "linkmargin/analysis/device_link.hpp"
#include "linkmargin/analysis/hub_load.hpp"
#include "linkmargin/analysis/traced_scene.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct LinkTableOptions {
  Doors doors = Doors::armed;
  bool all_pairs = false;    ///< every device with every hub, not only with the one that serves it
  double area_step_m = 0.5;  ///< between the sample points of an area, at most
  NearbyReadings nearby{};   ///< of the site: links and areas near them follow them
  int threads = 1;           ///< >= 1; changes nothing in the result
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
  std::vector<std::string> cautions;
  std::size_t nearby_readings = 0;  ///< how many readings links near them follow
};

/// @param site sound: validate(site) is empty
LinkTable link_table(const Site& site, const LinkTableOptions& options = {});

/// The same, with what was traced for sites before it. @param options  of one thread
/// @throws DomainError when it is of several
LinkTable link_table(const Site& site, const LinkTableOptions& options, SceneStore& scenes);

}  // namespace linkmargin

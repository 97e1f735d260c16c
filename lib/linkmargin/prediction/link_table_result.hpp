#pragma once

#include "linkmargin/prediction/area_cover.hpp"
#include "linkmargin/prediction/outcome.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/prediction/serving/endpoint_cache.hpp"
#include "linkmargin/prediction/serving/hub_load.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// How much of a table of links is worked out: each has all that the one before it has.
enum class TableDetail {
  chances,  ///< of links and areas; for many tables
  ranges,   ///< of links, and their outage
  all       ///< cautions, and the edges of areas
};

struct LinkTableOptions {
  Doors doors = Doors::armed;
  bool all_pairs = false;    ///< every way that a device may go, not only the one that serves it
  bool direct = false;       ///< as though the site had no repeaters
  double area_step_m = 0.5;  ///< between the sample points of an area, at most
  /// Of the site's devices: those of devices where they hang decide their outcome.
  std::vector<Reading> readings{};
  /// What `readings` tell of the local means near them (fitted_shadowing()): links and areas follow it, but
  /// no device its own present reading.
  ShadowingRegression nearby{};
  int threads = 1;  ///< >= 1; changes nothing in the result
  TableDetail detail = TableDetail::all;
};

/// What a site comes to where one hub or repeater has failed.
struct SingleFailure {
  std::string station;
  bool repeater = false;
  std::vector<std::string> lost;  ///< devices that were not weak and now are, or are enrolled there by name
  std::vector<std::string> doubtful;  ///< that were good and now are doubtful
  std::vector<std::string> areas;     ///< that were served well enough and now are not
  bool all_lost = false;              ///< it was the only hub
};

/// The answer of `check`.
struct LinkTable {
  std::string site;
  double frequency_hz = 0;
  Doors doors = Doors::armed;
  PathLossModel model = PathLossModel::walls;
  ReadingScale reading;
  std::vector<Link> links;        ///< in the order of the site's devices, then of its hubs and repeaters
  std::vector<Link> repeaters{};  ///< each repeater's own link, in the order of the site
  PresentReadings present{};      ///< what was read of devices and repeaters where they hang
  std::vector<AreaCover> areas;
  std::vector<HubLoad> hubs;
  std::vector<HubLoad> repeater_loads{};        ///< in the order of the site
  std::vector<std::string> weak_devices;        ///< by their outcome, in the order of the site
  std::vector<std::string> doubtful_devices{};  ///< likewise
  std::vector<Warning> warnings;
  std::vector<SingleFailure> failures{};  ///< by single_failures(), where they are asked for
  std::size_t nearby_readings = 0;        ///< how many readings links near them follow
};

}  // namespace linkmargin

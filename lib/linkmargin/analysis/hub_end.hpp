#pragma once

#include "linkmargin/analysis/nearby_readings.hpp"
#include "linkmargin/analysis/parameter_spread.hpp"
#include "linkmargin/analysis/traced_scene.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/vantage.hpp"
#include "linkmargin/site/site.hpp"

#include <memory>
#include <optional>
#include <string>

namespace linkmargin {

/// A hub at its place, with its radio as it is fixed and in the noise about it.
struct HubEnd {
  std::string name;
  Point3 at;
  RadioEnd radio;
};

/// A hub with what all its links share.
struct HubVantage : HubEnd {
  std::shared_ptr<const Vantage> from;              ///< at the same place
  std::shared_ptr<const ParameterSpread> spread{};  ///< of the site; absent: every parameter is sure
  NearbyReadings nearby{};                          ///< of the site, so far as given
  std::shared_ptr<TracedEnd> traced{};              ///< remembers losses of `from`; absent: none are kept

  LossBreakdown path_loss(Point3 to) const {
    return traced ? traced->path_loss(to) : linkmargin::path_loss(*from, to);
  }

  /// What is known of a link's local mean: the spreads of its path loss and of the site's parameters, and
  /// what readings near by tell.
  /// @param level  predicted without them
  LocalMean local_mean(Point3 device, const LossBreakdown& loss, Dbm level) const {
    const double sigma_db = spread ? spread->sigma_db(loss, level) : loss.sigma_db;
    return nearby.at(device, at, sigma_db, loss.sigma_db);
  }
};

/// A radio with a hub, in both directions.
struct BothWays {
  Direction uplink;
  std::optional<Direction> downlink;  ///< absent: a one-way device
  bool weaker_is_downlink = false;    ///< its margin is the smaller
};

/// With what readings taught of all the site's links (Calibration::offset_db).
/// @param site sound: validate(site) is empty
HubEnd hub_end(const Site& site, const Hub& hub);

/// @param device,hub each turned towards the other (link/metal_mount.hpp)
/// @return nothing when the device does not transmit or the hub does not receive
std::optional<BothWays> both_ways(const RadioEnd& device, const RadioEnd& hub, double path_loss_db,
                                  const ReadingScale& scale);

}  // namespace linkmargin

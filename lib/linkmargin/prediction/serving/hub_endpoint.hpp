#pragma once

#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/mechanism/link_endpoint.hpp"
#include "linkmargin/prediction/serving/endpoint_cache.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"
#include "linkmargin/site/site.hpp"

#include <memory>
#include <optional>
#include <string>

namespace linkmargin {

/// A hub at its place, with its radio as it is fixed and in the noise about it.
struct HubRadio {
  std::string name;
  Point3 at;
  RadioEnd radio;
};

/// A hub with what all its links share.
struct HubEndpoint : HubRadio {
  std::shared_ptr<const LinkEndpoint> from;         ///< at the same place, or where the one other end is
  std::shared_ptr<const ParameterSpread> spread{};  ///< of the site; absent: every parameter is sure
  ShadowingRegression nearby{};                     ///< of the site, so far as given
  std::shared_ptr<EndpointCache> traced{};          ///< remembers losses of `from`; absent: none are kept

  LossBreakdown path_loss(Point3 to) const {
    if (traced) return traced->path_loss(to);
    return linkmargin::path_loss(*from, from->at() == snapped_in_plan(at) ? to : at);
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
struct TwoWayBudget {
  LinkBudget uplink;
  std::optional<LinkBudget> downlink;  ///< absent: a one-way device
  bool weaker_is_downlink = false;     ///< its margin is the smaller
};

/// With what was learned of all the site's links (Calibration::offset_db), and of this hub.
/// @param site sound: validate(site) is empty
HubRadio hub_radio(const Site& site, const Hub& hub);

/// A device's radio as it is fixed, in the noise about it, with what was learned of it.
RadioEnd device_radio(const Site& site, const Device& device);

/// @param device,hub each turned towards the other (link/radio/metal_mount.hpp)
/// @return nothing when the device does not transmit or the hub does not receive
std::optional<TwoWayBudget> two_way_budget(const RadioEnd& device, const RadioEnd& hub, double path_loss_db,
                                           const ReadingScale& scale);

}  // namespace linkmargin

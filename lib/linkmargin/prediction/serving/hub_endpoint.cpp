#include "linkmargin/prediction/serving/hub_endpoint.hpp"

#include "linkmargin/link/radio/metal_mount.hpp"
#include "linkmargin/link/radio/noise_rise.hpp"

namespace linkmargin {

HubRadio hub_radio(const Site& site, const Hub& hub) {
  RadioEnd radio = in_noise(radio_end(site.profiles.at(hub.profile)), site.radio);
  if (site.calibration)
    radio.learned_offset_db = site.calibration->offset_db + learned_radio_db(site.calibration, hub.name);
  return {hub.name, site.point(hub.place), on_mount(radio, hub.mount, site.radio.frequency_hz)};
}

RadioEnd device_radio(const Site& site, const Device& device) {
  RadioEnd radio = in_noise(radio_end(site.profiles.at(device.profile), device), site.radio);
  radio.learned_offset_db = learned_radio_db(site.calibration, device.name);
  return on_mount(radio, device.mount, site.radio.frequency_hz);
}

std::optional<TwoWayBudget> two_way_budget(const RadioEnd& device, const RadioEnd& hub, double path_loss_db,
                                           const ReadingScale& scale) {
  const auto up = link_budget(device, hub, path_loss_db, scale);
  if (!up) return {};
  TwoWayBudget ways{*up, link_budget(hub, device, path_loss_db, scale), false};
  ways.weaker_is_downlink = ways.downlink && ways.downlink->margin < ways.uplink.margin;
  return ways;
}

}  // namespace linkmargin

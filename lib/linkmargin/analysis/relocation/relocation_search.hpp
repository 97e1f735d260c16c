#pragma once

#include "linkmargin/analysis/relocation/relocation_result.hpp"
#include "linkmargin/analysis/survey/present_readings.hpp"
#include "linkmargin/prediction/serving.hpp"

#include <cstdint>
#include <vector>

namespace linkmargin {

/// What the search for remedies shares: the site made ready, and each device as things stand.
struct RelocationSearch {
  RelocationSearch(const Site& site, const RelocationOptions& options);

  /// What a device should read over a link, readings near by counted.
  ExpectedReading expected(const Link& link) const;
  PassSummary brief(const Link& link) const;

  /// What was read of a device, in percent; nothing where nothing was.
  std::optional<double> read_percent(std::size_t device) const;

  /// As read on site, else as predicted.
  bool is_weak(std::size_t device) const;

  /// What a reading says of a device as it hangs; nothing where none was taken.
  std::optional<FadePosterior> after_reading(std::size_t device) const;

  /// A device of the site, enrolled with the hub that it was read with where it was read: the equipment chose
  /// that one, and of it the reading tells. A better reading than that is promised of no other hub.
  Device as_read(std::size_t device) const;

  const Site& site;
  const RelocationOptions& options;
  PresentReadings read;
  Scene scene;
  ShadowingRegression nearby;
  std::vector<HubEndpoint> hubs;
  FadingModel fading_model;
  std::vector<Link> links;               ///< of the site's devices, in order, all readings counted
  std::vector<Link> predicted;           ///< the same less what each device's own present reading tells
  std::vector<ExpectedReading> present;  ///< where they hang, at another spot about there

  const PresentReading* read_of(std::size_t device) const;  ///< null where none was taken
  void name_hubs_read();

  bool enough(double pass_probability) const { return pass_probability >= options.chance; }

  /// Whether something is worth telling of: it does, or it brings a device nearer.
  bool helps(std::size_t device, const PassSummary& then) const {
    const double gain = then.pass_probability - present[device].pass_probability;
    return gain >= kWorthChance ||
           (gain > 0 && enough(then.pass_probability) && !enough(present[device].pass_probability));
  }
};

/// What another place of a hub does to all devices.
struct HubMove {
  std::size_t hub = 0;  ///< position in Site::hubs
  Point2 at;
  double distance_m = 0;
  std::vector<PassSummary> then;     ///< of the site's devices, in order
  std::vector<std::uint8_t> serves;  ///< 1 where it then serves the device
};

/// Every place that the site's hubs may be moved to, hub by hub, the nearest first.
std::vector<HubMove> hub_moves(const RelocationSearch& search);

/// The nearest move of a hub that helps a device enough and harms no other; without one, the harmless move
/// after which it is best. Only a hub that then serves the device is moved.
std::optional<Remedy> moved_hub(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                std::size_t device);

/// Another hub, for a device that is enrolled by name.
std::optional<Remedy> other_hub(const RelocationSearch& search, std::size_t device);

/// A spot for one more repeater, with its hop to the hub.
struct RepeaterPlace {
  Repeater repeater;
  Link to_hub;
};

/// Spots at the walls of all rooms from which the hub is reached; none where no profile is a repeater's.
std::vector<RepeaterPlace> repeater_places(const RelocationSearch& search);

/// A repeater that the site has, and one more where it helps most.
std::vector<Remedy> repeaters(const RelocationSearch& search, const std::vector<RepeaterPlace>& places,
                              std::size_t device);

}  // namespace linkmargin

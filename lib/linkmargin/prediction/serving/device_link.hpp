#pragma once

#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/serving/hub_endpoint.hpp"
#include "linkmargin/prediction/uncertainty/local_mean.hpp"
#include "linkmargin/site/site.hpp"

#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What a device comes to, the worst last.
enum class Outcome {
  good,
  doubtful,  ///< enough, but not for sure
  weak
};

/// One device with one hub, directly or by way of repeaters. Loss, budgets, range, K and outage are those of
/// the device's own hop, to what hears it first: the reading that the equipment shows of it is of that hop.
struct Link {
  std::string device;
  std::string hub;               ///< where the way ends
  std::vector<std::string> via;  ///< repeaters on the way, the one that it is enrolled at first
  Point3 from{};                 ///< the device
  Point3 to{};                   ///< what hears it first
  LossBreakdown loss;
  LinkBudget uplink;
  std::optional<LinkBudget> downlink;  ///< absent: a one-way device
  bool weaker_is_downlink = false;
  /// By how much readings near by move the levels of both directions (ShadowingRegression): counted in them,
  /// in their budgets and in all that follows. Absent: there are no readings.
  std::optional<double> nearby_shift_db{};
  /// Of the level in either direction, one standard deviation: that of the path loss, and what readings left
  /// open of the site's parameters (ParameterSpread); less what readings near by tell. Fading comes on top.
  double sigma_db = 0;
  /// That the reading, taken on site, reaches the threshold, the direction with less: of the device's own
  /// hop.
  double own_probability = 0;
  /// That every hop of the way does.
  double pass_probability = 0;
  /// The reading of the weaker direction lies between these with a chance of kIntervalChance.
  double low_percent = 0;
  double high_percent = 0;
  /// Of the fading about the local mean, by the path (FadingModel::k_db); infinity where fading is off.
  double k_db = std::numeric_limits<double>::infinity();
  double outage = 0;  ///< share of time that the weaker direction is not heard while people move about
  /// Of the device's own hop: the predicted reading of either direction is under the threshold, or none.
  bool own_hop_weak = false;
  bool weak = false;  ///< a hop of the way is predicted to be
  /// By what was read (outcome()) where the link is of a table, else as predicted.
  Outcome outcome = Outcome::good;
  std::optional<double> read_percent{};   ///< of the device where it hangs, the last that was taken
  std::vector<double> earlier_percent{};  ///< taken before it, in their order
  bool lacks_reserve = false;             ///< its margin is under Profile::reserve_db, in either direction
  bool serving = true;                    ///< this way serves the device (all_pairs lists the others too)
  /// The link of the repeater that the device is enrolled at; null where the hub hears the device itself.
  std::shared_ptr<const Link> onward{};
  /// How alike the local means of the device's own hop and of the next lie off their predictions.
  double onward_correlation = 0;

  /// The hub, or the repeater that the device is enrolled at.
  const std::string& heard_by() const { return via.empty() ? hub : via.front(); }

  /// Of the hops, the one with the least chance; the first of equals.
  const Link& weakest_hop() const;

  /// The direction with the smaller margin: the one that counts.
  const LinkBudget& weaker() const { return weaker_is_downlink ? *downlink : uplink; }

  /// The direction with the lower reading: the weaker one where both read the same.
  const LinkBudget& lower() const;
  /// The direction that a page speaks of: the weaker one, or where the device's own hop is weak the lower
  /// one.
  const LinkBudget& told() const { return own_hop_weak ? lower() : weaker(); }
  bool lower_is_downlink() const { return &lower() != &uplink; }

  /// How much the level lacks of what is needed, in the direction that lacks more; negative where both have
  /// enough.
  Db shortfall(const ReadingScale& scale) const;
};

inline constexpr double kIntervalChance = 0.9;

/// In short what a reading taken on site is expected to be.
struct PassSummary {
  double percent = 0;  ///< of the direction with the smaller margin, at the local mean, as `check` has it
  bool weak = false;   ///< either direction is under the threshold there, or a hop farther on is
  double own_probability = 0;   ///< that the own hop reaches the threshold: the direction with less
  double pass_probability = 0;  ///< that every hop does
};
/// @param mean  of the own hop; hops farther on are as predicted
PassSummary pass_summary(const Site& site, const Link& link, const FadingModel& fading_model,
                         const LocalMean& mean);

/// The same with its range: ten times as dear.
struct ExpectedReading : PassSummary {
  double low_percent = 0;  ///< the reading of the weaker direction lies between these with kIntervalChance
  double high_percent = 0;
};
/// @param mean  as for pass_summary()
ExpectedReading expected_reading(const Site& site, const Link& link, const FadingModel& fading_model,
                                 const LocalMean& mean);

/// What `check` says of a device with one hub or repeater as though that were the hub; `serving` stays true.
/// @param site   sound: validate(site) is empty
/// @param device one of the site's, or such a one at another place
/// @throws DomainError when the device does not transmit or the hub does not receive
Link device_link(const Site& site, const Device& device, const HubEndpoint& hub,
                 const FadingModel& fading_model);

/// The same without what FadingModel adds (chance, range, K, outage), and that.
Link predicted_link(const Site& site, const Device& device, const HubEndpoint& hub);
/// Adds chance, range, K and outage to what predicted_link() gives.
void add_chances(const Site& site, const FadingModel& fading_model, Link& link);

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/visit/visit_stations.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside analysis/visit only.
namespace linkmargin {

/// A device as a remedy leaves it, spots apart.
struct DeviceVariant {
  Device device;
  bool spacer = false;
  std::optional<Placement> place{};
  std::optional<double> read_percent{};  ///< what was read at that place, which is enough
  bool enrolled_anew = false;            ///< by whichever way is best
  std::vector<Edit> edits{};             ///< without those of an enrolment
  VisitEffort effort{};
  std::size_t row = 0;  ///< of VisitSearch::hops: variants that differ in their enrolment alone share one
};

/// A variant under a set, with spots or without.
struct DeviceOption {
  std::size_t variant = 0;
  Link link;  ///< with its chances
  std::optional<SpotTrial> spots{};
  std::optional<VisitWay> enrol{};       ///< where that is not the way it goes now
  std::optional<double> read_percent{};  ///< what was read at the place of the variant, where that decides
  VisitOption figures;
};

/// What each set of changes does to every device.
class VisitSearch {
 public:
  /// @param needy  the devices that the plan is for, with their remedies: positions in Site::devices
  VisitSearch(const RelocationSearch& search, const VisitStations& stations,
              const std::vector<std::size_t>& needy, const std::vector<DeviceRelocation>& remedies);

  /// Every option of a needy device, the first one to do nothing. @param needy  position among them
  std::vector<DeviceOption> all_options(const StandingStations& standing, std::size_t needy) const {
    return options(standing, needy, true);
  }

  /// Of these those that may be the best: not what takes more than another that is met.
  std::vector<DeviceOption> best_options(const StandingStations& standing, std::size_t needy) const {
    return options(standing, needy, false);
  }

  /// The same of all as figures; nothing where the set harms another device.
  std::optional<VisitOptions> options(const StationSet& set) const;

  const DeviceVariant& variant(std::size_t needy, std::size_t position) const {
    return variants_[needy][position];
  }

  /// The edits that enrol a device that says in the file how it is enrolled.
  std::vector<Edit> enrolment(std::size_t device, const VisitWay& way) const;

  /// Spots to try about a needy device after a change, where there are any.
  std::optional<SpotTrial> spots(std::size_t needy, const DeviceOption& option) const;

 private:
  using Row = std::vector<std::optional<Link>>;  ///< of one device at one place, by VisitStations::places

  void add_variants(const DeviceRelocation& remedies, std::size_t device);
  void add_hops(const std::vector<Device>& of_rows);
  Link link(const StandingStations& standing, const Device& device, const Row& row) const;
  bool is_harmless(const StandingStations& standing) const;
  bool is_met(const Link& link, double chance) const;
  std::vector<DeviceOption> options(const StandingStations& standing, std::size_t needy, bool all) const;
  /// What is dear to calculate of a link, for each way that a variant may go: sets share most ways.
  struct WayChances {
    Link near;           ///< the link with kNearDb more
    bool tried = false;  ///< spots were looked for
    std::optional<SpotTrial> spots{};
    double spots_near = 0;
  };
  WayChances& way_chances(const StandingStations& standing, std::size_t needy, std::size_t row,
                          const Link& link) const;
  void add_spots(std::size_t needy, const Placement& place, const Link& link, WayChances& chances) const;
  DeviceOption with_spots(DeviceOption option, const SpotTrial& trial, double near_chance) const;

  const RelocationSearch& search_;
  const VisitStations& stations_;
  std::vector<std::size_t> needy_;
  std::vector<std::vector<DeviceVariant>> variants_;  ///< of each needy device
  std::vector<Device> row_devices_;
  std::vector<Row> hops_;  ///< of the site's devices as they are, then of the variants
  std::vector<Link> now_;  ///< of the site's devices, as they are enrolled
  PresentReadings repeaters_read_;
  /// Of each needy device, by its row and the places on its way. One thread at a time asks of one device.
  mutable std::vector<std::map<std::vector<std::size_t>, WayChances>> known_;
};

/// A link once every level is so much higher.
Link shifted_link(const RelocationSearch& search, Link link, double by_db);

/// The way of a link.
VisitWay way_of(const Link& link);

/// Whether a link goes by something that is changed.
bool touches(const std::vector<NamedChange>& changes, const Link& link);

/// Whether a device is what the plan is for: it was read weak, or was not read and has less than the chance
/// asked for, or is weak or short of a reserve as predicted.
bool needs_something(const RelocationSearch& search, std::size_t device);

}  // namespace linkmargin

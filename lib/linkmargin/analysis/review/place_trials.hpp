#pragma once

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/site.hpp"

#include <string>
#include <vector>

namespace linkmargin {

struct PlaceTrialOptions {
  Doors doors = Doors::armed;
  ShadowingRegression nearby{};       ///< what readings tell of links near them; no device keeps its own
  std::vector<std::string> moving{};  ///< devices whose own places are tried as well
  double step_m = 0.25;               ///< between places, at least
  std::size_t most_links = 20'000;  ///< that are calculated for one hub or repeater; fewer places where more
  int threads = 1;                  ///< >= 1; changes nothing in the result
};

/// What a device comes to, as `check` has it.
struct TrialFigures {
  double percent = 0;  ///< of the direction that counts: with the smaller margin, or which reads lower where
                       ///< the device's own hop is weak
  double low_percent = 0;  ///< Link::low_percent, high_percent
  double high_percent = 0;
  double pass_probability = 0;
  Outcome outcome = Outcome::good;
  std::size_t heard_by = 0;  ///< position in Site::hubs, then in Site::repeaters
};

/// One radio at another place.
struct PlaceTrial {
  Placement place;
  std::vector<TrialFigures> devices;  ///< in the order of the site; of a device's own places it alone
  std::vector<int> slots_used;        ///< of hubs, then of repeaters; empty for a device's own places
};

/// The figures of a table of links that serve, in the order of the site's devices.
std::vector<TrialFigures> trial_figures(const Site& site, const LinkTable& table);
/// Slots used of each hub, then of each repeater.
std::vector<int> slots_used(const LinkTable& table);

/// All places at which one radio is tried.
struct RadioTrials {
  std::string radio;  ///< of Site::hubs, Site::repeaters or Site::devices
  bool device = false;
  std::vector<PlaceTrial> places{};
};

/// What the site comes to with each hub and repeater, and each device that is asked for, at each place where
/// it could hang: hubs and repeaters in every room where they may, on all storeys (MountingPlaces); devices
/// within their may_move. Radios that are `fixed`, and those without another place, have none.
///
/// Each figure is that of link_table() of the site with that one radio moved, areas sampled kTrialAreaStepM
/// apart: they matter for slots alone.
/// @param site sound: validate(site) is empty
std::vector<RadioTrials> place_trials(const Site& site, const PlaceTrialOptions& options);

inline constexpr double kTrialAreaStepM = 2;

}  // namespace linkmargin

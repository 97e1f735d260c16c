#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"
#include "linkmargin/site/environment.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace linkmargin {

/// What a radio at a place comes to, as `check` has it, slots not looked at.
struct PlacePrediction {
  std::string hub;
  std::vector<std::string> via{};  ///< repeaters, the first beside the radio
  double distance_m = 0;           ///< of its own hop, as the figures below
  double path_loss_db = 0;
  double level_dbm = 0;                  ///< in the direction with the smaller margin
  std::optional<double> received_dbm{};  ///< of what the hub or repeater sends, at the radio's antenna port
  double margin_db = 0;
  double reading_percent = 0;
  double sigma_db = 0;
  double pass_probability = 0;  ///< of the whole way
  bool weak = false;
};

struct PlaceLevelOptions {
  Doors doors = Doors::armed;
  bool direct = false;  ///< as though the site had no repeaters
  ShadowingRegression nearby{};
  int threads = 1;  ///< >= 1; changes nothing in the result
};

/// Predicts radios at many places; the site's own devices play no part.
/// @param radios  as devices: profile, place, and the hub where it is named
std::vector<PlacePrediction> place_levels(const Site& site, std::span<const Device> radios,
                                          const PlaceLevelOptions& options = {});

/// The same in a scene that is made already. @param scene  of the site, with the doors of the options
std::vector<PlacePrediction> place_levels(const Site& site, std::span<const Device> radios,
                                          const PlaceLevelOptions& options, const Scene& scene);

}  // namespace linkmargin

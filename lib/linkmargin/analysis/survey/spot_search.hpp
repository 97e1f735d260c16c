#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/propagation/fading/best_spot.hpp"
#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include <limits>
#include <optional>
#include <vector>

namespace linkmargin {

/// What a device hangs on, so that spots about it can be named.
enum class SpotSetting { wall, corner, floor, frame };

/// One way to try some spots about a device, and the chance that the best of them passes: that its level
/// reaches what both directions need (Link::shortfall).
struct SpotTrial {
  SpotShape shape = SpotShape::four;
  double distance_m = 0;
  int spots = 0;                ///< to be tried, the present one among them
  double pass_probability = 0;  ///< of the whole way, where repeaters are on it
  SpotSetting setting = SpotSetting::wall;
  bool turned = false;  ///< turned by a quarter at its spot, and the better way kept; `spots` is 2
  int read = 0;         ///< how many of these were read already, the present one among them

  /// From one to the next: along a line, or from ring to ring.
  double step_m() const;
};

struct SpotSearchOptions {
  double asked_chance = 0.9;  ///< [0, 1]: the fewest spots with this chance are recommended
  double reach_m = std::numeric_limits<double>::infinity();  ///< the mount allows no more; 0 or less: nothing
  bool along_line = false;                                   ///< the mount allows a line only
  bool may_turn = false;                                     ///< turning it by a quarter is tried first
  SpotSetting setting = SpotSetting::wall;
  /// No more are recommended, the present one among them: people try few and then stop.
  int most_spots = std::numeric_limits<int>::max();
};

/// What shifting a device by centimetres can do.
struct SpotSearch {
  std::vector<SpotTrial>
      trials;  ///< turned where it may; `four` by rising distance, then `disc`; along a line `line`
  /// Of those with few enough spots the first that has the asked chance, else the best; none without reach.
  std::optional<std::size_t> recommended;

  const SpotTrial* choice() const { return recommended ? &trials[*recommended] : nullptr; }
};

/// Of the whole way of a device, once its own hop holds with a chance: what other spots add to it holds
/// further on as often as what does not hold now.
double way_probability(const Link& link, double own);

/// Farther than half a wave nothing is gained that belongs to the spot rather than to another place.
inline constexpr double kFarthestWavelengths = 0.5;

/// Within a disc or along a line, spots are tried a quarter of a wave apart: rings of 6, 12, ... round the
/// present one. The chances are those of a search without gaps; docs/methods/fading.md says what the gaps cost.
inline constexpr double kSpotStepWavelengths = 0.25;

/// Distances of 1/4 and 1/2 wavelength as far as they are within reach, and the reach itself where it is
/// under 1/2: two figures that hold for all devices of a site, so that one measure serves all.
///
/// Of the device's own hop:
///
///     chance = sum over the posterior's nodes of chance * P(best >= needed - shadow | present = fade)
///
/// Turned by a quarter its antenna takes another component of the field, whose echoes are independent of the
/// first's: P(better of two >= needed) = 1 - P(first < needed) F_K(needed).
///
/// With nothing read the present spot is not known: the sum runs over the prior of the local mean, and the
/// best spot is that about any. With fading off no spot differs from another.
/// @param link  with its chances (add_chance())
/// @param after  what a reading said of the present spot (fade_posterior()); null: nothing was read
/// Accuracy: that of BestSpot, chances within 0.01, 0.03 under 1/16 wavelength.
/// Source: definition; docs/methods/fading.md.
SpotSearch spot_search(const FadingModel& fading_model, const ReadingScale& scale, double frequency_hz,
                       const Link& link, const FadePosterior* after, const SpotSearchOptions& options = {});

}  // namespace linkmargin

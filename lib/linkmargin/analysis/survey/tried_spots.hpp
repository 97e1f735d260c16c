#pragma once

#include "linkmargin/analysis/survey/spot_search.hpp"
#include "linkmargin/geometry/point.hpp"
#include "linkmargin/prediction/present_readings.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace linkmargin {

/// A spot of a device that was read.
struct TriedSpot {
  Point3 offset_m{};   ///< from where the device hangs
  double percent = 0;  ///< limits::kPercent
};

/// How it stands after some of the spots of a trial were read.
struct TriedSpots {
  std::vector<TriedSpot> read;  ///< in the order of reading; of one spot read twice the last
  std::size_t best = 0;         ///< position among them
  bool reached = false;         ///< the best reaches the threshold
  SpotTrial trial;              ///< of which spots are left: the first one, or a wider one once that is done
  bool wider = false;
  std::vector<Point3> left_m;   ///< offsets of the spots that are left, in their order
  std::size_t next = 0;         ///< position of the first of them in spot_offsets_m() of the trial
  double next_probability = 0;  ///< that the next one reaches the threshold
  double pass_probability = 0;  ///< that one of those left does; of the whole way, where repeaters are on it
  int worth = 0;                ///< how many of those left are worth reading; 0: stop
  FadePosterior::Moments shadow{};  ///< of the local mean, over the predicted one
  double place_probability = 0;     ///< that the local mean is enough for both directions

  bool goes_on() const { return !reached && worth > 0; }
};

/// What a further spot costs of what it saves where it is enough: some two minutes of the forty that another
/// place takes, or the price of a repeater (common practice). So a spot is worth reading while its chance is
/// over this; four spots with kWorthTryingProbability of the words together are just worth it.
inline constexpr double kSpotCost = 0.05;

/// The spots of a trial but the present one, in the order in which they are read: of four left, right, above
/// and below; along a line one side from the near to the far, then the other; of a disc ring after ring.
std::vector<Point3> spot_offsets_m(const SpotTrial& trial);

/// Readings in the order of a trial: the present spot, the spots that spot_search() then asks for, and those
/// of the wider trial; what goes beyond them is left out.
std::vector<TriedSpot> spots_in_order(const FadingModel& fading_model, const ReadingScale& scale,
                                      double frequency_hz, const Link& link, std::span<const double> percents,
                                      const SpotSearchOptions& options = {});

/// What was read of a device at its present spot, then at spots within half a wave about it, in the order of
/// the rows; empty where the present spot was not read.
std::vector<TriedSpot> read_spots(const Site& site, const PresentReadings& readings, const Device& device);

/// @param read     the present spot first, with an offset of 0
/// @param options  as spot_search() took them before any but the present spot was read
/// @return nothing where no spot may be tried
/// @throws DomainError outside limits::kPercent
/// Accuracy: that of SpotSequence.
std::optional<TriedSpots> tried_spots(const FadingModel& fading_model, const ReadingScale& scale,
                                      double frequency_hz, const Link& link, std::span<const TriedSpot> read,
                                      const SpotSearchOptions& options = {});

}  // namespace linkmargin

#pragma once

#include "linkmargin/analysis/survey/tried_spots.hpp"
#include "linkmargin/prediction/spot_reading.hpp"

namespace linkmargin {

/// What a reading taken on site calls for. Decided by chances, in this order:
///
/// - The reading reaches the threshold: `better`, where the prediction gave so much a chance under
///   kRareProbability; `low`, where it gave so little such a chance: enough, but something is wrong; else
///   `fine`. What is read counts, not what was predicted.
/// - `unexplained`: the prediction, wall and fade together, gave so little a chance under kRareProbability. A
///   hundred sound predictions give one such reading, so that a site of usual size has none by chance; what
///   the plan does not know of (a battery, a shut door, metal) is then about as likely, and costs minutes to
///   look at.
/// - `fade`: the local mean is more likely enough than not, or the best spot within reach is. Shift it.
/// - `wall`: neither. The place itself is short; move it.
enum class ReadingVerdict { fine, better, low, fade, wall, unexplained };

/// No fade goes deeper: of Rayleigh's fading one spot in 1,000 lies so far under the mean (1 - exp(-10^-3)).
inline constexpr double kDeepestFadeDb = 30;

inline constexpr double kRareProbability = 0.01;
inline constexpr double kLikelyProbability = 0.5;

/// What a reading says of place and spot, and whether spots are worth trying.
struct ReadingAnswer {
  SpotReading reading;
  ReadingVerdict verdict = ReadingVerdict::fine;
  double deviations =
      0;  ///< reading over the mean predicted for a spot, in deviations of mean and fade together
  double as_low_probability = 0;      ///< that the prediction gave to this level or less
  double as_high_probability = 0;     ///< to this level or more
  FadePosterior::Moments shadow;      ///< of the local mean, over the predicted one
  FadePosterior::Moments fade;        ///< of the spot, over its local mean
  double place_probability = 0;       ///< that the local mean is enough for both directions
  SpotSearch spots;                   ///< with `four` and `disc`, or `line`, as far as the options allow
  std::optional<TriedSpots> tried{};  ///< where more spots than the present one were read

  bool beyond_fading = false;  ///< unexplained, and too low for any spot: something is broken or wrong

  bool good_place = false;  ///< another place was read and is enough: it comes before any shift

  bool enough() const { return verdict <= ReadingVerdict::low; }
};

/// The same after further spots were read. The best of them is enough, or it is not: then going on decides
/// between `fade` and `wall`, and place and spot are what all readings together say.
/// @param read  the present spot first, at least that
ReadingAnswer readings_verdict(const FadingModel& fading_model, const ReadingScale& scale,
                               double frequency_hz, const Link& link, std::span<const TriedSpot> read,
                               const SpotSearchOptions& options = {});

/// Whether so low a reading has a chance under kRareProbability where the prediction is right. 100 % is a
/// bound and never low.
bool is_far_lower(const FadingModel& fading_model, const ReadingScale& scale, const Link& link,
                  double percent);

/// @param percent  read at the direction that reads lower: limits::kPercent. 0 % is never enough
/// @throws DomainError outside
/// Accuracy: that of FadePosterior and SpotSearch. The reading counts as free of error.
ReadingAnswer reading_verdict(const FadingModel& fading_model, const ReadingScale& scale, double frequency_hz,
                              const Link& link, double percent, const SpotSearchOptions& options = {});

/// The most that was read of a device where it hangs, before its last reading, where that is enough.
std::optional<double> enough_before(const Link& link, const ReadingScale& scale);

/// How far the device may be shifted by the site file, and how many spots are worth trying: on a wall four
/// round it, along a line where it slides on one or keeps to a frame, fewer from a ladder. One without
/// `may_move` is asked of as if it could: whether it may is said in words. One whose place a standard fixes
/// (`fixed_by_rule`) shifts by no more than the radius that its `may_move` gives, without one not at all.
SpotSearchOptions centimetre_options(const Site& site, const Link& link);

/// Whether `may_move` gives a radius, as a standard may allow.
bool shifts_by_radius(const Device& device);

/// Whether the device's standard leaves it no place but its own: `fixed_by_rule`, and no radius.
bool stays_by_rule(const Device& device, const Profile& profile);

/// Spots to try first, the present one among them (common practice).
inline constexpr int kFirstSpots = 5;
inline constexpr int kFirstCeilingSpots = 3;

}  // namespace linkmargin

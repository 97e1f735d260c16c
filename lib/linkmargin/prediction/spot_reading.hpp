#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/propagation/fading/fade_posterior.hpp"

namespace linkmargin {

/// A reading taken on site, as a level. It belongs to the direction that reads lower (Link::lower()), which
/// is what `check` prints. The walls and the spot are the same for both directions, so what it says of them
/// holds for both.
struct SpotReading {
  double percent = 0;
  Dbm level;  ///< read, or its bound
  ReadingKind kind = ReadingKind::exact;
  Db over_predicted;  ///< the level less the predicted local mean
};

/// A reading as a level, or as a bound of one.
struct ReadLevel {
  ReadingKind kind = ReadingKind::exact;
  Dbm level;
};

/// What a percentage says: 0 and 100 % are bounds.
/// @param heard  what the receiver hears at the least: 0 % may be no more than that
/// @throws DomainError outside limits::kPercent
ReadLevel read_level(const ReadingScale& scale, double percent, Dbm heard);

/// 100 % is the scale's end or more. 0 % is the scale's beginning or less, or what the receiver does not
/// hear, where that is more. Between them the reading counts as exact: a step of 1 % is some 0.6 dB.
/// @param percent  limits::kPercent
/// @throws DomainError outside
SpotReading spot_reading(const ReadingScale& scale, const Link& link, double percent);

/// No prediction is surer than this: a reading is rounded to a percent, and no two radios of a kind are
/// alike.
inline constexpr double kLeastSigmaDb = 0.5;

/// What the reading says of the local mean (shadow) and of the spot (fade), from the link's sigma_db, at
/// least kLeastSigmaDb, and the K of its path. A reading farther off than kReadingDb counts as that far.
FadePosterior fade_posterior(const FadingModel& fading_model, const Link& link, const SpotReading& reading);

}  // namespace linkmargin

#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/fading/best_spot.hpp"
#include "linkmargin/site/environment.hpp"

namespace linkmargin {

/// The levels that a reading lies between with some chance, as much outside on either side.
struct LevelInterval {
  Dbm low;
  Dbm high;
};

/// What a link's prediction says of one reading on site. The local mean is spread normally in decibels about
/// the prediction by the link's sigma_db; the spot lies off its local mean by Rician fading, whose K follows
/// from the link. With fading off the reading is the local mean.
///
/// Accuracy: 2e-4 in chance (K is read between values 0.5 dB apart). Whether the distribution is true of
/// buildings is another matter: docs/validation.
class FadingModel {
 public:
  explicit FadingModel(const Fading& fading);

  /// K from spot to spot. What the site states holds, in sight (LossBreakdown::line_of_sight) or not; else
  /// unknown_orientation_k_db() of what comes steadily over what echoes bring, at most kMostSpotKDb; where
  /// the model says nothing of echoes, kMostSpotKDb in sight, else kSpotKBehindWallsDb. Infinity with fading
  /// off.
  double k_db(const LossBreakdown& loss) const;
  bool fades() const { return fading_.on; }
  Scattering scattering() const { return fading_.in_space ? Scattering::space : Scattering::plane; }

  /// Chance that the level reaches what is needed. @param sigma_db  kLocalMeanSigmaDb
  /// @param k_db  of k_db()
  double chance(Dbm predicted, Dbm needed, double sigma_db, double k_db) const;

  /// @param chance of lying between, within (0, 1)
  LevelInterval interval(Dbm predicted, double chance, double sigma_db, double k_db) const;

  /// Share of time that a link with this margin over its local mean is not heard while people move about
  /// (Fading::k_over_time_db). With fading off 0 or 1.
  double outage(Db margin) const;

 private:
  Fading fading_;
};

/// 3GPP TR 38.901, indoor office in sight (its spread is 4 dB).
inline constexpr double kMostSpotKDb = 7;
/// 1 to 3 dB in full-wave flats, rooms without the transmitter: own computation.
inline constexpr double kSpotKBehindWallsDb = 2;

}  // namespace linkmargin

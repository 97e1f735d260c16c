#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/best_spot.hpp"
#include "linkmargin/propagation/fading/composite_fading.hpp"
#include "linkmargin/site/environment.hpp"

namespace linkmargin {

/// The levels that a reading lies between with some chance, as much outside on either side.
struct LevelInterval {
  Dbm low;
  Dbm high;
};

/// What a link's prediction says of one reading on site. The local mean is spread normally in decibels about
/// the prediction by the link's sigma_db; the spot lies off its local mean by Rician fading, whose K goes by
/// the path: Fading::k_in_sight_db in sight (LossBreakdown::line_of_sight), else Fading::k_behind_walls_db.
/// With fading off the reading is the local mean.
///
/// Accuracy: that of CompositeFading, 1e-6 in chance. Whether the distribution is true of buildings is
/// another matter: docs/validation.md.
class FadingModel {
 public:
  explicit FadingModel(const Fading& fading);

  /// Infinity with fading off.
  double k_db(bool line_of_sight) const;
  Scattering scattering() const { return fading_.in_space ? Scattering::space : Scattering::plane; }

  /// Chance that the level reaches what is needed. @param sigma_db  kLocalMeanSigmaDb
  double chance(Dbm predicted, Dbm needed, double sigma_db, bool line_of_sight) const;

  /// @param chance of lying between, within (0, 1)
  LevelInterval interval(Dbm predicted, double chance, double sigma_db, bool line_of_sight) const;

  /// Share of time that a link with this margin over its local mean is not heard while people move about
  /// (Fading::k_over_time_db). With fading off 0 or 1.
  double outage(Db margin) const;

 private:
  const CompositeFading& composite(bool line_of_sight) const {
    return line_of_sight ? line_of_sight_ : behind_walls_;
  }

  Fading fading_;
  CompositeFading line_of_sight_;
  CompositeFading behind_walls_;
};

}  // namespace linkmargin

#pragma once

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"

#include <functional>

namespace linkmargin {

/// One hop, as far as it tells what it has in common with another.
struct HopEnds {
  Point3 from;
  Point3 to;
  const LossBreakdown& loss;
  double reading_share = 0;  ///< the reading predicted over 100
};

/// How alike two hops' local means lie off their predictions, -1 to 1: by the walls that both pass, by what
/// the model does not know where both ends of one are near those of the other, and by what readings left open
/// of the parameters. As LinkDraws draws them.
/// @param spread  of the site
double hop_correlation(const ParameterSpread& spread, const HopEnds& a, const HopEnds& b);

/// A smaller correlation counts as none: at the medians, where it counts most, it changes a chance by 0.0003.
inline constexpr double kLeastHopCorrelation = 0.002;

/// A hop's chance where its level lies shift_db over the prediction and its local mean is spread by sigma_db.
struct HopChance {
  std::function<double(double shift_db, double sigma_db)> chance;
  double sigma_db = 0;  ///< of its local mean
};

/// That two hops hold together whose local means go alike by `correlation`: over what they have in common,
/// normal, the product of what each does with what is its own. Fading is each hop's own.
/// Accuracy: 1e-3 (two normal hops at their medians against W. F. Sheppard, 1899); hops with nothing in
/// common give the product.
double joint_chance(double correlation, const HopChance& one, const HopChance& other);

}  // namespace linkmargin

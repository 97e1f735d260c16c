#include "linkmargin/propagation/fading/level_crossing.hpp"

#include "linkmargin/base/units.hpp"

#include <cmath>

namespace linkmargin {

LevelCrossing rayleigh_level_crossing(double level_db) {
  require_in(kCrossingLevelDb, level_db);
  const double rho = std::pow(10, level_db / 20);
  const double rate = std::sqrt(2 * kPi) * rho;
  return {rate * std::exp(-rho * rho), std::expm1(rho * rho) / rate};
}

}  // namespace linkmargin

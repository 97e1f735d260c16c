#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/propagation/fading/best_spot_table.hpp"

#include <array>
#include <optional>

/// What some centimetres can do: the level at the strongest of the spots within r of the present one.
///
/// Levels are in decibels over the true local mean power. The field is one steady plane wave from a random
/// direction and a diffuse rest (Rice), as in fading.hpp; distances are in wavelengths.
///
/// From a table of quantiles, made by simulation (best_spot_table.hpp) and interpolated by cubic polynomials
/// in the distance, in the diffuse amplitude and in the present amplitude.
///
/// Accuracy: chances within 0.01 from 1/16 to 1 wavelength, 0.03 elsewhere (docs/methods/fading.md).
namespace linkmargin {

/// Which spots are tried.
enum class SpotShape {
  line,  ///< the best within r either way along a line
  disc,  ///< the best within r
  four,  ///< the best of staying and r left, right, forth and back
  step,  ///< one blind move by r that must be taken
};

/// From where the diffuse waves come: all directions of the plane of motion, or all of space.
enum class Scattering { plane, space };

/// Correlation of the diffuse field at two spots r apart: J0(2 pi r / lambda) in the plane, sin x / x in
/// space.
/// @param r_over_lambda  kSpotRadius
/// @throws DomainError outside. Accuracy: 1e-14.
/// Source: Clarke, Bell System Technical Journal 47, 1968 (plane); the mean over the sphere (space).
double field_correlation(Scattering scattering, double r_over_lambda);

inline constexpr Range kSpotRadius{0, 1000, "r_over_lambda",
                                   "bounds of this library; counted as 1.5 above 1.5"};
inline constexpr Range kSpotLevelDb{-1000, 1000, "level_db", "bounds of this library"};

/// The best spot for one way of trying in one surrounding; made once, then asked often.
///
/// - r above 1.5 wavelengths counts as 1.5.
/// - K above 12 dB: amplitudes are taken from 12 dB, their distances from the steady wave's scaled by the
/// diffuse
///   amplitude. Chances within 0.03.
/// - A present level above 10.4 dB counts as that (chance under 2e-5).
class BestSpot {
 public:
  /// @param k_db  kRicianKDb of fading.hpp, minus infinity for Rayleigh. @param r_over_lambda  kSpotRadius
  /// @throws DomainError outside the ranges
  BestSpot(SpotShape shape, Scattering scattering, double k_db, double r_over_lambda);

  /// Chance that the best spot's level is at least needed_db. Never rises with needed_db.
  /// @param present_db  level at the present spot; none when it is not known, as for a spot picked at random.
  ///                    Minus infinity is a field of nothing
  /// @param needed_db   kSpotLevelDb
  /// @throws DomainError outside the ranges, NaN
  double reaches(std::optional<double> present_db, double needed_db) const;

  /// The level that the best spot has at least with chance 1 - chance. @param chance  kChance of
  /// shadowing.hpp
  /// @throws DomainError outside the ranges. Accuracy beyond the tabled 1 and 99 %: extrapolated.
  double quantile_db(std::optional<double> present_db, double chance) const;

 private:
  /// Quantiles of the amplitude at kScores; of `four` without staying, where the present level is known.
  using Quantiles = std::array<double, best_spot_table::kScores.size()>;
  struct Distribution {
    Quantiles quantiles;
    double floor;  ///< no less is possible
  };
  double tabled(double level_db) const;
  Distribution distribution(std::optional<double> present_db) const;

  SpotShape shape_;
  double scale_;  ///< of amplitudes, 1 up to a K of 12 dB
  double shift_;  ///< of amplitudes after that, 0 up to 12 dB
  std::array<Quantiles, best_spot_table::kPresentEntries> at_present_;
};

/// BestSpot(shape, scattering, k_db, r_over_lambda).reaches(present_db, needed_db)
double best_spot_reaches(SpotShape shape, Scattering scattering, double k_db, double r_over_lambda,
                         std::optional<double> present_db, double needed_db);

}  // namespace linkmargin

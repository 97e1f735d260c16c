#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

inline constexpr Range kCrossingLevelDb{-200, 20, "level_db", "bounds of this library"};

/// How often and for how long a level lies under a threshold along a straight way through a Rayleigh field
/// with scattering in the plane, in wavelengths of way; or in time, with wavelengths moved a second (the
/// largest Doppler shift) for the unit.
struct LevelCrossing {
  double per_wavelength;    ///< downward crossings: sqrt(2 pi) rho exp(-rho^2)
  double mean_wavelengths;  ///< of one stretch under the threshold: (exp(rho^2) - 1) / (sqrt(2 pi) rho)
};

/// @param level_db  threshold over the local mean power, 20 log10(rho); kCrossingLevelDb
/// @throws DomainError outside. Accuracy: rounding of doubles; per_wavelength 0 and mean infinite where they
/// must be. Source: Rice 1944-45; Jakes (ed.), Microwave Mobile Communications, 1974, section 1.3 (section
/// from memory).
LevelCrossing rayleigh_level_crossing(double level_db);

}  // namespace linkmargin

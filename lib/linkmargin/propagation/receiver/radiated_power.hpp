#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// What e.i.r.p. is over e.r.p.: the gain of a half-wave dipole, rounded as regulations print it. The
/// dipole's gain is 1.64092, 2.1509 dB.
inline constexpr double kEirpOverErpDb = 2.15;

inline constexpr Range kRadiatedPowerDbm{-200, 200, "power_dbm", "bounds of this library"};
inline constexpr Range kPowerMw{1e-20, 1e20, "power_mw", "bounds of this library"};
inline constexpr Range kFieldStrength{1e-12, 1e6, "field_v_per_m", "bounds of this library"};

/// Milliwatts as a level. @throws DomainError outside kPowerMw
double dbm_from_mw(double power_mw);

/// Equivalent isotropic power of a power stated over a half-wave dipole, and back. Source: definition; the
/// difference is kEirpOverErpDb. @throws DomainError outside kRadiatedPowerDbm
double eirp_from_erp_dbm(double erp_dbm);
double erp_from_eirp_dbm(double eirp_dbm);

/// Equivalent isotropic power behind a field strength measured in free space: E^2 d^2 / 30 W.
/// @param field_v_per_m  kFieldStrength, root mean square
/// @param distance_m     kDistanceM
/// @return dBm
/// @throws DomainError outside the ranges
/// Accuracy: the factor 30 is that of the regulations; the exact one is 29.98 (0.003 dB). Source: plane wave
/// in free space, as 47 CFR 15 limits are converted.
double eirp_from_field_strength_dbm(double field_v_per_m, double distance_m);

}  // namespace linkmargin

#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// What e.i.r.p. is over e.r.p.: the gain of a half-wave dipole, rounded as regulations print it. The
/// dipole's gain is 1.64092, 2.1509 dB.
inline constexpr double kEirpOverErpDb = 2.15;

inline constexpr Range kRadiatedPowerDbm{-200, 200, "power_dbm", "bounds of this library"};

/// Equivalent isotropic power of a power stated over a half-wave dipole. Source: definition; the difference
/// is kEirpOverErpDb. @throws DomainError outside kRadiatedPowerDbm
double eirp_from_erp_dbm(double erp_dbm);

}  // namespace linkmargin

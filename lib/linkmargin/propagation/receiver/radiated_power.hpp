#pragma once

#include "linkmargin/base/constants.hpp"
#include "linkmargin/base/range.hpp"

namespace linkmargin {

inline constexpr Range kRadiatedPowerDbm{-200, 200, "power_dbm", "bounds of this library"};

/// Equivalent isotropic power of a power stated over a half-wave dipole. Source: definition; the difference
/// is kEirpOverErpDb. @throws DomainError outside kRadiatedPowerDbm
double eirp_from_erp_dbm(double erp_dbm);

}  // namespace linkmargin

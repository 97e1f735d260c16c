#pragma once

#include "linkmargin/base/units.hpp"

namespace linkmargin {

/// The chance that a level whose local mean is normal in decibels about `predicted` reaches `threshold`.
/// @param sigma_db >= 0; with 0 the chance is 1 or 0 (a level on the threshold reaches it)
double pass_probability(Dbm predicted, Dbm threshold, double sigma_db);

}  // namespace linkmargin

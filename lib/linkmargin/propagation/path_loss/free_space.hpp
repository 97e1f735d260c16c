#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// The distances that every formula of this folder takes. Below some wavelengths the far field is an
/// assumption.
inline constexpr Range kDistanceM{0.01, 100e3, "distance_m",
                                  "bounds of this library; ITU-R P.525 states none"};

/// The frequencies that every formula of this folder takes. A published table may be stated for less; its
/// rows say so.
inline constexpr Range kFrequencyHz{30e6, 100e9, "frequency_hz",
                                    "bounds of this library; ITU-R P.525 states none"};

/// Loss between two isotropic antennas in free space: 20 log10(4 pi d / lambda).
/// @param distance_m    kDistanceM
/// @param frequency_hz  kFrequencyHz
/// @return decibels; negative nearer than lambda / (4 pi), where the formula has left its far field
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles, under 1e-12 dB. The speed of light is exact, so that the constant is
/// 32.4478 dB (MHz, km) where ITU-R prints 32.4.
/// Source: ITU-R P.525, free-space basic transmission loss; equation number not seen.
double free_space_loss_db(double distance_m, double frequency_hz);

}  // namespace linkmargin

#pragma once

#include "linkmargin/base/range.hpp"

#include <complex>

namespace linkmargin {

/// Real part of a relative permittivity. The lower bound keeps every layer's wave from turning evanescent.
inline constexpr Range kRelativePermittivity{1, 1e4, "relative_permittivity", "bounds of this library"};

/// Minus the imaginary part. Metal of 1e7 S/m has 6e9 at 30 MHz.
inline constexpr Range kDielectricLoss{0, 1e12, "dielectric_loss", "bounds of this library"};

inline constexpr Range kConductivity{0, 1e9, "conductivity_s_per_m", "bounds of this library"};

/// Complex relative permittivity eta = a f^b - j sigma / (omega eps0) with sigma = c f^d, f in GHz, in the
/// convention exp(+j omega t), in which loss is a negative imaginary part.
/// @param a,b,c,d       constants of one material, as ITU-R P.2040 tabulates them; c f^d in kConductivity
/// @param frequency_hz  kFrequencyHz. The tables state a range per material, often from 1 GHz; outside it the
///                      power law is an extrapolation, which this function cannot know.
/// @throws DomainError when the frequency, the conductivity or the permittivity is outside its range
/// Accuracy: rounding of doubles. The factor 1 / (omega eps0) is exact, 17.9751 / f(GHz), where ITU-R
/// prints 17.98. Source: ITU-R P.2040, material table and the two power laws; equation numbers not seen.
std::complex<double> relative_permittivity(double a, double b, double c, double d, double frequency_hz);

}  // namespace linkmargin

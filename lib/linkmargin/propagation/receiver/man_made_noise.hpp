#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// Where the line of the business area is stated; outside it there is no figure. Homes have no line over 250
/// MHz.
inline constexpr Range kBusinessNoiseHz{200e6, 900e6, "frequency_hz", "ITU-R P.372-8, range of the line"};

/// Median external noise figure at an antenna in a business area, of what machines, mains and traffic make
/// alone: 44.3 - 12.3 log10(f / MHz).
/// @param frequency_hz  kBusinessNoiseHz
/// @return decibels over k T0 B, T0 = 290 K
/// @throws DomainError outside the range
/// Accuracy: rounding of doubles; of the line: the noise at one place varies by some 7 dB down and 11 dB up
/// (deciles of the line for cities, one copy).
/// Source: ITU-R P.372-8, man-made noise, business area in UHF; one public secondary copy, agrees with
/// memory; equation number not seen.
double business_noise_db(double frequency_hz);

/// What the total noise factor takes: noise figures in decibels.
inline constexpr Range kExternalNoiseDb{-100, 200, "external_noise_db", "bounds of this library"};
inline constexpr Range kReceiverNoiseDb{0, 100, "receiver_noise_db",
                                        "definition of the noise figure; upper bound of this library"};

/// Noise figure of receiver and surroundings together, f = fa + fr - 1 in factors, in decibels.
/// @param external_noise_db  Fa over k T0 B, kExternalNoiseDb
/// @param receiver_noise_db  Fr, kReceiverNoiseDb
/// @return decibels; at least the receiver's own where Fa is that of an antenna at T0 or warmer (Fa >= 0)
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles. Assumed: an antenna and a line without loss at T0.
/// Source: ITU-R P.372, system noise factor; equation number not seen.
double total_noise_figure_db(double external_noise_db, double receiver_noise_db);

}  // namespace linkmargin

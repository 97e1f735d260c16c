#pragma once

#include "linkmargin/base/range.hpp"

#include <span>
#include <string_view>

namespace linkmargin {

/// One line of the noise that machines, mains and traffic make: Fam = c - d log10(f / MHz), in decibels over
/// k T0 B with T0 = 290 K, the median.
struct ManMadeNoise {
  std::string_view environment;
  double c = 0;
  double d = 0;
  Range frequency_hz;  ///< for which the line is stated; outside it there is no figure
  std::string_view source;
  std::string_view verified;  ///< how far the row was checked against its source, in words
};

/// City, residential, rural and business area, in this order. Homes have no line over 250 MHz.
std::span<const ManMadeNoise> man_made_noise_lines();

/// The line of that environment; null when none has the name.
const ManMadeNoise* find_man_made_noise(std::string_view environment);

/// Median external noise figure Fam at an antenna, of man-made noise alone.
/// @param frequency_hz  in the line's own range
/// @return decibels over k T0 B
/// @throws DomainError outside the line's range
/// Accuracy: rounding of doubles; of the line: the noise at one place varies by some 7 dB down and 11 dB up
/// (deciles of the city line, one copy).
/// Source: ITU-R P.372, man-made noise; equation number not seen.
double man_made_noise_db(const ManMadeNoise& line, double frequency_hz);

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

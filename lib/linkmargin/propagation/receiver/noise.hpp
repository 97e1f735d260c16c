#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// The reference temperature of noise figures, kelvin (definition of the noise figure).
inline constexpr double kReferenceTemperatureK = 290;

inline constexpr Range kBandwidthHz{1, 10e9, "bandwidth_hz", "bounds of this library"};
inline constexpr Range kTemperatureK{1, 1e5, "temperature_k", "bounds of this library"};
inline constexpr Range kNoiseFigureDb{0, 100, "noise_figure_db", "definition; upper bound of this library"};
inline constexpr Range kRequiredSnrDb{-100, 100, "required_snr_db", "bounds of this library"};

/// Power of thermal noise k T B.
/// @param bandwidth_hz   kBandwidthHz, the noise bandwidth of the receiver
/// @param temperature_k  kTemperatureK
/// @return dBm
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles; the Boltzmann constant is exact. Source: definition.
double thermal_noise_dbm(double bandwidth_hz, double temperature_k = kReferenceTemperatureK);

/// The level that a receiver needs in thermal noise alone: k T B + noise figure + required ratio, at 290 K.
/// Noise made by people and machines comes on top; it is not counted here.
/// @return dBm
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles. Source: definition of the noise figure.
double sensitivity_dbm(double bandwidth_hz, double noise_figure_db, double required_snr_db);

}  // namespace linkmargin

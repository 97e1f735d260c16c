#pragma once

#include "linkmargin/base/range.hpp"

#include <span>
#include <string_view>

namespace linkmargin {

/// How fast the level falls with distance: 2 is free space. The bounds leave a fit room beyond the published
/// indoor values, which lie between 1.4 and 5.4.
inline constexpr Range kPathExponent{0, 10, "exponent", "bounds of this library"};

inline constexpr Range kLossAt1mDb{-50, 150, "loss_at_1m_db", "bounds of this library"};

/// Loss that grows with a power of the distance: L(1 m) + 10 n log10(d).
/// @param distance_m      kDistanceM; below 1 m the result is under the loss at 1 m
/// @param loss_at_1m_db   kLossAt1mDb; free_space_loss_db(1, f) where nothing was measured
/// @param exponent        kPathExponent
/// @return decibels, the median
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles, under 1e-12 dB; of the model: sigma_db of the table below.
/// Source: Andersen, Rappaport, Yoshida, IEEE Communications Magazine 33(1), 1995; equation number not seen.
double log_distance_loss_db(double distance_m, double loss_at_1m_db, double exponent);

/// One measured kind of building.
struct LogDistanceEnvironment {
  std::string_view name;  ///< a kind measured at two frequencies has two rows of one name
  double frequency_hz;    ///< at which it was measured
  double exponent;
  double sigma_db;  ///< spread of the measured levels about the median
  std::string_view source;
  std::string_view verified;  ///< how far the row was checked against its source, in words
};

/// Published exponents and spreads, rows of one name together, by rising frequency. "home" was measured from
/// a house to the street.
std::span<const LogDistanceEnvironment> log_distance_environments();

/// The row of that name whose frequency is nearest on a logarithmic scale; null when no row has the name.
/// The rows were measured at one frequency each: a caller far from it should say so.
/// @throws DomainError when frequency_hz is outside kFrequencyHz
const LogDistanceEnvironment* find_log_distance_environment(std::string_view name, double frequency_hz);

}  // namespace linkmargin

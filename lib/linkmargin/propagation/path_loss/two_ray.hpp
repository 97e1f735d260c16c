#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// Height of an antenna over a flat ground. Nearer to it than a wavelength or so the formulas are an
/// assumption.
inline constexpr Range kGroundHeightM{0.01, 10e3, "height_m", "bounds of this library"};

/// The distance 4 h1 h2 / lambda, beyond which the direct ray and the one reflected by the ground cancel more
/// and more: there the two paths differ by half a wavelength.
/// @param height_1_m,height_2_m  h1 and h2, kGroundHeightM; either may come first, bit for bit
/// @param frequency_hz           kFrequencyHz
/// @return metres
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles.
/// Source: textbook; the breakpoint of ITU-R P.1411, line of sight in UHF (from memory, unverified).
double breakpoint_distance_m(double height_1_m, double height_2_m, double frequency_hz);

/// What the reflection by a flat ground costs over free space: 20 log10(d / db) beyond the breakpoint
/// distance db, nothing before it. The loss goes on as 40 log10(d).
/// @param distance_m  kDistanceM
/// @param others      as breakpoint_distance_m
/// @return decibels, >= 0; continuous
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles. Two rays over a perfect mirror give 20 log10(pi) = 9.94 dB less far beyond
/// the breakpoint, and up to 6.02 dB under free space before it (two_ray_test.cpp); this is the law through
/// the middle of measured streets.
/// Source: ITU-R P.1411, line of sight in UHF, median of its bounds (from memory, unverified).
double ground_reflection_db(double distance_m, double height_1_m, double height_2_m, double frequency_hz);

}  // namespace linkmargin

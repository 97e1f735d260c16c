#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// The loss of what passes round the edges of a wall or panel: its joints, seams, frames and fixings.
inline constexpr Range kLeakage{0, 1000, "leakage_db", "bounds of this library"};

/// The loss through it. Thick metal has many thousands of decibels.
inline constexpr Range kThroughDb{0, 1e12, "through_db", "bounds of this library"};

/// What leaks round a wall whose loss is computed from its layers, where its material says nothing else.
/// Common practice: over what sheet metal was measured to let through in place, 26 dB for a solid sheet-metal
/// floor at 815 MHz (Arnold, Murray, Cox 1989, read in the abstract), and under the 50 dB that single panes
/// of coated glass were measured at. Low enough to bound metal, high enough to leave masonry alone: 0.002 dB
/// at 7 dB.
inline constexpr double kLeakageDb = 40;  ///< doubled, halved: 0.002, 0.16 dB at most

/// Both ways together, their powers added: L = -10 log10(10^(-through/10) + 10^(-leakage/10)).
/// @param through_db  kThroughDb
/// @param leakage_db  kLeakage
/// @return decibels, >= 0, at most the smaller of the two and at most 3.01 dB under it
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles.
/// Source: two powers of unrelated phase add; definition.
double with_leakage_db(double through_db, double leakage_db);

}  // namespace linkmargin

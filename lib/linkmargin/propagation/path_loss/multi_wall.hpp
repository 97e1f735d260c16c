#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

inline constexpr Range kFloors{0, 200, "floors", "bounds of this library"};
inline constexpr Range kFloorLossDb{0, 1e6, "loss_db", "bounds of this library"};  ///< of one floor
inline constexpr Range kFloorBend{0, 1, "b", "bounds of this library"};

/// What COST 231 fitted at 1800 MHz, final report, section 4.7, table 4.7.2; two independent copies agree. At
/// other frequencies it is an assumption.
inline constexpr double kCost231FloorBend = 0.46;

/// Loss of all floors on the path together: k^((k + 2) / (k + 1) - b) Lf. Each further floor adds less,
/// because energy finds ways round them.
/// @param floors         k, kFloors; none lose nothing
/// @param floor_loss_db  Lf, the loss of one floor, kFloorLossDb; the mean where floors differ
/// @param b              kFloorBend
/// @return decibels
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles.
/// Source: COST 231 final report, section 4.7, multi-wall model; equation number not seen.
double floor_term_db(int floors, double floor_loss_db, double b = kCost231FloorBend);

}  // namespace linkmargin

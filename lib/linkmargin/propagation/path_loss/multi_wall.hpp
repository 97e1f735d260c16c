#pragma once

#include "linkmargin/base/range.hpp"

#include <span>

namespace linkmargin {

inline constexpr Range kFloors{0, 200, "floors", "bounds of this library"};
inline constexpr Range kElementLossDb{0, 1e6, "loss_db", "bounds of this library"};  ///< of one wall or floor
inline constexpr Range kConstantLossDb{-100, 100, "constant_loss_db", "bounds of this library"};
inline constexpr Range kFloorBend{0, 1, "b", "bounds of this library"};

/// Values that COST 231 fitted at 1800 MHz, final report, section 4.7, table 4.7.2; two independent copies
/// agree. At other frequencies they are an assumption.
inline constexpr double kCost231LightWallDb = 3.4;
inline constexpr double kCost231HeavyWallDb = 6.9;
inline constexpr double kCost231FloorDb = 18.3;
inline constexpr double kCost231FloorBend = 0.46;

/// Loss of all floors on the path together: k^((k + 2) / (k + 1) - b) Lf. Each further floor adds less,
/// because energy finds ways round them.
/// @param floors         k, kFloors; none lose nothing
/// @param floor_loss_db  Lf, the loss of one floor, kElementLossDb; the mean where floors differ
/// @param b              kFloorBend
/// @return decibels
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles.
/// Source: COST 231 final report, section 4.7, multi-wall model; equation number not seen.
double floor_term_db(int floors, double floor_loss_db, double b = kCost231FloorBend);

/// Free space and what stands in the way: LFS + Lc + sum of the walls + floor term.
/// @param distance_m        kDistanceM
/// @param frequency_hz      kFrequencyHz
/// @param constant_loss_db  Lc, kConstantLossDb; the report gives values close to 0
/// @param wall_losses_db    one figure per wall crossed, each in kElementLossDb
/// @param floors,floor_loss_db,b  as floor_term_db
/// @return decibels, the median
/// @throws DomainError outside the ranges
/// Accuracy: rounding of doubles. The model's own spread is some 6 to 8 dB (from memory, unverified).
/// Source: COST 231 final report, section 4.7, multi-wall model; equation number not seen.
double multi_wall_loss_db(double distance_m, double frequency_hz, double constant_loss_db,
                          std::span<const double> wall_losses_db, int floors, double floor_loss_db,
                          double b = kCost231FloorBend);

}  // namespace linkmargin

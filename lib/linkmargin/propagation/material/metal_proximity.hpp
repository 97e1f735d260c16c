#pragma once

#include "linkmargin/base/range.hpp"

namespace linkmargin {

/// Which way from the sheet the far end lies, how large the sheet is and how the antenna hangs before it.
enum class MetalCurve {
  front_of_sheet,          ///< antenna parallel to an endless sheet, far end on the antenna's side
  front_of_plate,          ///< the same before a plate of 0.36 m x 0.36 m (1.04 wavelengths)
  behind_plate,            ///< far end on the other side of that plate
  front_of_sheet_upright,  ///< antenna perpendicular to an endless sheet, gap to its nearer tip
};

/// Gap between antenna and metal over the wavelength.
inline constexpr Range kMetalGapWavelengths{1e-6, 1e3, "gap_wavelengths", "bounds of this library"};

/// What metal at a small gap costs a resonant half-wave dipole, against the same dipole in free space with
/// the same source: mean power over all directions of the half space named, mismatch and copper loss
/// included. Negative where the sheet, as a mirror, adds more than it takes: at most 3.01 dB, all the power
/// in one half space.
/// @param gap_wavelengths kMetalGapWavelengths
/// @return decibels. Between the points of the table: monotone cubic over the logarithm of the gap. Outside
/// them (0.0145 to 0.72 wavelengths, behind the plate to 1.01, upright to 0.49) the nearest point's loss.
/// Nearer to the metal that is too little, since the loss grows by some 6 dB with each halving of the gap
/// there.
/// @throws DomainError outside the range
/// Accuracy: the table within 0.01 dB of its source, between the points within 0.1 dB of the same solver; the
/// solver's curve serves a dipole of 1 mm copper wire. No product has that antenna: small tuned ones usually
/// detune more.
/// Source: method of moments (nec2c 1.3) at 868 MHz; metal_proximity.cpp says how each number was derived.
double metal_proximity_loss_db(MetalCurve curve, double gap_wavelengths);

/// From the loss in front to that behind, in dB, by the angle of the far end from the plane of the sheet:
/// half of each in the plane, all of one beyond kMetalBlendDeg to its side, along the smooth step t^2 (3 -
/// 2t).
/// @param plane_angle_deg -90 (straight behind) to 90 (straight in front)
/// @throws DomainError outside that
/// Accuracy: half of each is within 2.1 dB of the mean power in the plane of the 0.36 m plate that the same
/// solver gives, for gaps of 0.03 to 0.25 wavelengths. The width is common practice.
double metal_blend_db(double front_db, double behind_db, double plane_angle_deg);

inline constexpr double kMetalBlendDeg = 15;
inline constexpr Range kPlaneAngleDeg{-90, 90, "plane_angle_deg", "definition"};

}  // namespace linkmargin

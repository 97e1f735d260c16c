#pragma once

#include <iosfwd>

namespace linkmargin::validation {

/// Answers one line with one number in dB, for the scripts of tests/fullwave/. Fields are separated by tabs:
///   slab    LAYERS_MM  FREQUENCY_HZ  ANGLE_DEG  te|tm    gain, with the constants of ITU-R P.2040-3
///   square  SCENARIO  X_M  Y_M                           mean over free space behind a doorway
///   metal   GAP_WAVELENGTHS                              loss of a dipole before an endless sheet
/// @throws std::runtime_error for any other line
void answer(std::istream& questions, std::ostream& answers);

}  // namespace linkmargin::validation

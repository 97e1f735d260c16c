#pragma once

#include "linkmargin/base/range.hpp"
#include "linkmargin/site/material.hpp"

#include <optional>
#include <string>

namespace linkmargin {

/// Of a power law of a material at a frequency; what it states at 1 GHz has the bounds of limits.hpp.
inline constexpr Range kPermittivityAtFrequency{1, 1e4, "permittivity", "what the formulas of slabs take"};
inline constexpr Range kConductivityAtFrequency{0, 1e9, "conductivity_s_per_m",
                                                "what the formulas of slabs take"};

/// What a power law of a material gives and no formula takes.
struct ElectricalFlaw {
  std::string key;      ///< of the law's factor: "a" or "c"
  std::string message;  ///< "the permittivity a f^b is 0.983 at 6000 MHz, outside 1..10000"
};

/// The first law that leaves its range (kPermittivityAtFrequency, kConductivityAtFrequency) at a
/// frequency.
std::optional<ElectricalFlaw> electrical_flaw(const ElectricalProperties& properties, double frequency_hz);

/// The same over all frequencies for which the material states them: a power law is greatest and least at
/// their ends.
std::optional<ElectricalFlaw> electrical_flaw(const ElectricalProperties& properties);

}  // namespace linkmargin

#pragma once

#include <string>

namespace linkmargin {

/// By what law a distance costs what it does.
struct DistanceLaw {
  enum class Code {
    free_space,
    free_space_and_constant,  ///< figure: the constant, in dB
    exponent,                 ///< figure: the exponent
    site_general,             ///< environment
    power_loss                ///< environment; figure: the decibels of a decade
  };
  Code code = Code::free_space;
  double figure = 0;
  std::string environment{};
  double bent_m = 0;  ///< length of a way with bends; 0: straight
  bool operator==(const DistanceLaw&) const = default;
};

}  // namespace linkmargin

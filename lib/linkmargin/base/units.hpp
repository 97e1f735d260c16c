#pragma once

#include <compare>
#include <numbers>

namespace linkmargin {

/// A ratio of powers in decibels: a loss, a gain, a margin. Ratios add to each other and to levels.
struct Db {
  double value = 0;
  friend constexpr auto operator<=>(Db, Db) = default;
};

/// A power level in decibels over one milliwatt. A level minus a level is a ratio; two levels never add.
struct Dbm {
  double value = 0;
  friend constexpr auto operator<=>(Dbm, Dbm) = default;
};

constexpr Db operator-(Db ratio) {
  return {-ratio.value};
}
constexpr Db operator+(Db left, Db right) {
  return {left.value + right.value};
}
constexpr Db operator-(Db left, Db right) {
  return {left.value - right.value};
}
constexpr Dbm operator+(Dbm level, Db gain) {
  return {level.value + gain.value};
}
constexpr Dbm operator-(Dbm level, Db loss) {
  return {level.value - loss.value};
}
constexpr Db operator-(Dbm level, Dbm reference) {
  return {level.value - reference.value};
}

/// Speed of light in vacuum, m/s (exact by definition of the metre).
inline constexpr double kSpeedOfLight = 299'792'458.0;

/// Boltzmann constant, J/K (exact by definition of the kelvin).
inline constexpr double kBoltzmann = 1.380649e-23;

inline constexpr double kPi = std::numbers::pi;

/// MHz as Hz, the unit of all formulas.
constexpr double hz_from_mhz(double frequency_mhz) {
  return frequency_mhz * 1e6;
}
/// Hz as MHz, the unit of site files.
constexpr double mhz_from_hz(double frequency_hz) {
  return frequency_hz / 1e6;
}
/// In vacuum, metres. @param frequency_hz  over 0
constexpr double wavelength_m(double frequency_hz) {
  return kSpeedOfLight / frequency_hz;
}

}  // namespace linkmargin

#pragma once

#include <array>
#include <cstddef>
#include <span>

/// The grid on which the level of the best spot is tabled, shared by the table's reader and its generator
/// (tests/propagation/best_spot_generator.cpp, target best_spot_table). Amplitudes, because the field is
/// linear in the present one; then the table is smooth down to a present level of nothing.
namespace linkmargin::best_spot_table {

/// r / lambda. The first is the present spot itself.
inline constexpr std::array<double, 15> kRadii{0,   0.03125, 0.0625, 0.125, 0.1875, 0.25, 0.3125, 0.375,
                                               0.5, 0.625,   0.75,   0.875, 1.0,    1.25, 1.5};

/// Root of the share of power that is diffuse, 1 / sqrt(1 + K): Rayleigh first, K = 12 dB last.
inline constexpr std::array<double, 7> kDiffuse{1, 0.88, 0.76, 0.64, 0.52, 0.4, 0.24361841};

/// Present amplitude over the root of the local mean power. One more entry follows: present level not known.
inline constexpr std::array<double, 11> kPresent{0, 0.2, 0.4, 0.6, 0.8, 1, 1.25, 1.6, 2, 2.6, 3.3};
inline constexpr std::size_t kPresentEntries = kPresent.size() + 1;

/// Normal scores of the tabled quantiles: 1, 5, 16, 31, 50, 69, 84, 95, 99 %.
inline constexpr std::array<double, 9> kScores{-2.35, -1.65, -1, -0.5, 0, 0.5, 1, 1.65, 2.35};

inline constexpr std::size_t kScatterings = 2;  ///< plane, space
inline constexpr std::size_t kShapes = 4;       ///< line, disc, four, step
inline constexpr std::size_t kFields =
    kScatterings * kShapes * kRadii.size() * kDiffuse.size() * kPresentEntries;

/// The file holds amplitudes in units of 1 / kScale.
inline constexpr double kScale = 500;

/// How far back a number's neighbours stand: the present amplitude before, the diffuse amplitude before.
inline constexpr std::array<std::size_t, 2> kStrides{kScores.size(), kScores.size() * kPresentEntries};

/// Place of a field's first score in the table.
constexpr std::size_t place(std::size_t scattering, std::size_t shape, std::size_t radius,
                            std::size_t diffuse, std::size_t present) {
  const std::size_t outer = (scattering * kShapes + shape) * kRadii.size() + radius;
  return ((outer * kDiffuse.size() + diffuse) * kPresentEntries + present) * kScores.size();
}

/// The quantiles of data/best-spot-table.csv, kFields times kScores.size(), as amplitudes over the root of
/// the local mean power. Read at the first call, 1.2 ms; safe from several threads.
std::span<const float> amplitudes();

}  // namespace linkmargin::best_spot_table

#pragma once

#include "linkmargin/analysis/coverage/angle_table.hpp"

#include <cstdint>
#include <span>

namespace linkmargin {

/// The steps along a row are counted in these, so that they add up exactly in any order.
inline constexpr double kStepsPerDb = 0x1p40;

/// sums[i] = all steps up to and including i, in dB; clears the steps. There is one step more than sums.
void run_along(std::span<std::int64_t> steps, std::span<double> sums);

/// counts[i] becomes the sum of all changes up to and including i; clears the changes from [from, to].
void run_along(std::span<int> changes, int from, int to, std::span<float> counts);

/// distances from an end: the squares along x of every column, and the rest of the square, along y and z.
struct RowDistances {
  std::span<const float> x_squared;
  float rest = 0;
};

/// One over the distance, 1/m; 1e10 where there is none.
void inverse_distances(const RowDistances& distances, std::span<float> inverse);

/// loss_db = sums + at_1m_db + octave_db log2 d^2, with d at least kNearestM. Accuracy of the logarithm:
/// 2e-7.
void add_distance(const RowDistances& distances, float at_1m_db, float octave_db,
                  std::span<const double> sums, std::span<float> loss_db);

/// Parallel walls (or slabs) of one material, over neighbouring cells.
struct AngleRow {
  const AngleTable* table = nullptr;
  float normal_x = 0;              ///< of the walls
  float normal_rest = 0;           ///< the product of normal and direction, but for its part along x
  std::span<const float> x;        ///< from the end
  std::span<const float> inverse;  ///< see inverse_distances()
};

/// sums += the loss at each cell's angle.
void add_angle_losses(const AngleRow& row, std::span<double> sums);

/// The same, times the count of walls in the way.
void add_angle_losses(const AngleRow& row, std::span<const float> counts, std::span<double> sums);

}  // namespace linkmargin

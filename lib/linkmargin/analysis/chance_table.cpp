#include "linkmargin/analysis/chance_table.hpp"

#include "linkmargin/propagation/shadowing.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Deviations either way from the middle of a row, and steps in each.
constexpr int kReach = 10;
constexpr int kSteps = 10;
constexpr std::size_t kChanceColumns = 2 * kReach * kSteps + 1;

/// About the deviation of fading alone: 5.6 dB of Rayleigh's, less with a steady part.
double fade_deviation_db(double k_db) {
  constexpr double rayleigh_db = 5.57;
  return std::min(rayleigh_db, 8.686 / std::sqrt(2 * std::pow(10, k_db / 10)));
}

/// Under this spread chances are straighter over the variance, above over the spread.
constexpr float kSmallSpreadDb = 1;

/// Without fading: a finer row, for the line between its values.
constexpr int kNormalSteps = 100;
constexpr int kNormalReach = 6;

}  // namespace

ChanceTable::ChanceTable(const Reliability& reliability, bool in_sight, double least_sigma_db,
                         double most_sigma_db)
    : fades_(std::isfinite(reliability.k_db(in_sight))) {
  if (!fades_) {
    for (int i = -kNormalReach * kNormalSteps; i <= kNormalReach * kNormalSteps; ++i)
      values_.push_back(static_cast<float>(normal_cdf(-static_cast<double>(i) / kNormalSteps)));
    return;
  }
  const double first = std::floor(std::max(0.0, least_sigma_db) / kChanceSigmaStepDb) * kChanceSigmaStepDb;
  first_sigma_db_ = static_cast<float>(first);
  const double fade_db = fade_deviation_db(reliability.k_db(in_sight));
  rows_ = static_cast<std::size_t>(std::ceil((most_sigma_db - first) / kChanceSigmaStepDb)) + 2;
  for (std::size_t row = 0; row < rows_; ++row) {
    const double sigma_db = first + static_cast<double>(row) * kChanceSigmaStepDb;
    const double step_db = std::hypot(sigma_db, fade_db) / kSteps;
    per_db_.push_back(static_cast<float>(1 / step_db));
    for (std::size_t column = 0; column < kChanceColumns; ++column) {
      const double lack_db = (static_cast<double>(column) - kReach * kSteps) * step_db;
      values_.push_back(static_cast<float>(reliability.chance(Dbm{0}, Dbm{lack_db}, sigma_db, in_sight)));
    }
  }
}

float ChanceTable::row_chance(std::size_t row, float at) const {
  const float clipped = std::clamp(at, 1.0F, static_cast<float>(kChanceColumns - 3));
  const auto k = static_cast<std::size_t>(clipped);
  const float t = clipped - static_cast<float>(k);
  const float* v = &values_[row * kChanceColumns + k - 1];
  const float slope = 0.5F * (v[2] - v[0]);
  const float next_slope = 0.5F * (v[3] - v[1]);
  const float rise = v[2] - v[1];
  return v[1] + t * (slope + t * (3 * rise - 2 * slope - next_slope + t * (slope + next_slope - 2 * rise)));
}

float ChanceTable::fading_chance(float lack_db, float sigma_db) const {
  const float at = (sigma_db - first_sigma_db_) * static_cast<float>(1 / kChanceSigmaStepDb);
  const float clipped = std::clamp(at, 0.0F, static_cast<float>(rows_ - 2));
  const auto row = static_cast<std::size_t>(clipped);
  constexpr auto width_db = static_cast<float>(kChanceSigmaStepDb);
  const float row_db = first_sigma_db_ + static_cast<float>(row) * width_db;
  const float at_db = first_sigma_db_ + clipped * width_db;
  const float t = row_db < kSmallSpreadDb
                      ? (at_db - row_db) * (at_db + row_db) / (width_db * (2 * row_db + width_db))
                      : clipped - static_cast<float>(row);
  constexpr auto middle = static_cast<float>(kReach * kSteps);
  const float low = row_chance(row, middle + lack_db * per_db_[row]);
  const float high = row_chance(row + 1, middle + lack_db * per_db_[row + 1]);
  return std::clamp(low + t * (high - low), 0.0F, 1.0F);
}

float ChanceTable::chance(float lack_db, float sigma_db) const {
  if (fades_) return fading_chance(lack_db, sigma_db);
  if (sigma_db <= 0) return lack_db <= 0 ? 1.0F : 0.0F;
  constexpr auto middle = static_cast<float>(kNormalReach * kNormalSteps);
  const float at = std::clamp(middle + lack_db / sigma_db * kNormalSteps, 0.0F, 2 * middle - 0.001F);
  const auto k = static_cast<std::size_t>(at);
  const float t = at - static_cast<float>(k);
  return values_[k] + t * (values_[k + 1] - values_[k]);
}

}  // namespace linkmargin

#include "linkmargin/analysis/placement/model/chance_table.hpp"

#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/site/limits.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// Deviations either way from the middle of a row, the values calculated in each, and those filled in for
/// each.
constexpr int kReach = 10;
constexpr int kSteps = 10;
constexpr int kFilled = 6;

/// The same without fading.
constexpr int kNormalReach = 6;
constexpr int kNormalSteps = 100;

/// Under this spread chances are straighter over the variance, above over the spread.
constexpr double kSmallSpreadDb = 1;

/// A decibel of K each.
constexpr auto kKSteps = static_cast<std::size_t>(limits::kFadingKDb.max - limits::kFadingKDb.min);

/// About the deviation of fading alone: 5.6 dB of Rayleigh's, less with a steady part.
double fade_deviation_db(double k_db) {
  constexpr double rayleigh_db = 5.57;
  return std::min(rayleigh_db, 8.686 / std::sqrt(2 * std::pow(10, k_db / 10)));
}

/// Between the second and the third of four values.
double cubic(const double* v, double t) {
  const double slope = 0.5 * (v[2] - v[0]);
  const double next_slope = 0.5 * (v[3] - v[1]);
  const double rise = v[2] - v[1];
  return v[1] + t * (slope + t * (3 * rise - 2 * slope - next_slope + t * (slope + next_slope - 2 * rise)));
}

/// The values of a row with more between them; the ends repeat.
std::vector<float> filled(const std::vector<double>& calculated) {
  std::vector<double> padded{calculated.front()};
  padded.insert(padded.end(), calculated.begin(), calculated.end());
  padded.insert(padded.end(), {calculated.back(), calculated.back()});
  std::vector<float> row;
  for (std::size_t i = 0; i + 1 < calculated.size(); ++i) {
    for (int k = 0; k < kFilled; ++k)
      row.push_back(
          static_cast<float>(std::clamp(cubic(&padded[i], static_cast<double>(k) / kFilled), 0.0, 1.0)));
  }
  row.push_back(static_cast<float>(calculated.back()));
  return row;
}

}  // namespace

ChanceTable::ChanceTable(const FadingModel& fading_model, double k_db, double least_sigma_db,
                         double most_sigma_db)
    : fades_(fading_model.fades()) {
  if (!fades_) {
    middle_ = kNormalReach * kNormalSteps;
    for (int i = -kNormalReach * kNormalSteps; i <= kNormalReach * kNormalSteps; ++i)
      values_.push_back(static_cast<float>(normal_cdf(-static_cast<double>(i) / kNormalSteps)));
    last_column_ = 2 * middle_ - 0.001F;
    return;
  }
  const double first = std::floor(std::max(0.0, least_sigma_db) / kChanceSigmaStepDb) * kChanceSigmaStepDb;
  const int rows = static_cast<int>(std::ceil((most_sigma_db - first) / kChanceSigmaStepDb)) + 2;
  const double fade_db = fade_deviation_db(k_db);
  for (int row = 0; row < rows; ++row) {
    const double sigma_db = first + row * kChanceSigmaStepDb;
    const double step_db = std::hypot(sigma_db, fade_db) / kSteps;
    per_db_.push_back(static_cast<float>(kFilled / step_db));
    if (sigma_db < kSmallSpreadDb) ++squared_rows_;
    std::vector<double> calculated;
    for (int column = -kReach * kSteps; column <= kReach * kSteps; ++column)
      calculated.push_back(fading_model.chance(Dbm{0}, Dbm{column * step_db}, sigma_db, k_db));
    const std::vector<float> all = filled(calculated);
    values_.insert(values_.end(), all.begin(), all.end());
    columns_ = all.size();
  }
  middle_ = kReach * kSteps * kFilled;
  last_column_ = 2 * middle_ - 0.001F;
  first_sigma_db_ = static_cast<float>(first);
  per_sigma_db_ = static_cast<float>(1 / kChanceSigmaStepDb);
  last_row_ = static_cast<float>(rows - 2);
}

float ChanceTable::squared_share(std::size_t row, float share) const {
  constexpr auto width_db = static_cast<float>(kChanceSigmaStepDb);
  const float row_db = first_sigma_db_ + static_cast<float>(row) * width_db;
  return share * (2 * row_db + share * width_db) / (2 * row_db + width_db);
}

float ChanceTable::normal_chance(float lack_db, float sigma_db) const {
  if (sigma_db <= 0) return lack_db <= 0 ? 1.0F : 0.0F;
  return at(values_.data(), middle_ + lack_db / sigma_db * kNormalSteps);
}

ChanceTables::ChanceTables(const FadingModel& fading_model, double least_sigma_db, double most_sigma_db)
    : fading_model_(fading_model),
      least_sigma_db_(least_sigma_db),
      most_sigma_db_(most_sigma_db),
      slots_(fading_model.fades() ? kKSteps + 1 : 1) {}

const ChanceTable& ChanceTables::at(std::size_t step) const {
  Slot& slot = slots_[step];
  std::call_once(slot.made, [&] {
    slot.table.emplace(fading_model_, limits::kFadingKDb.min + static_cast<double>(step), least_sigma_db_,
                       most_sigma_db_);
  });
  return *slot.table;
}

float ChanceTables::chance(float lack_db, float sigma_db, float k_db) const {
  if (slots_.size() == 1) return at(0).chance(lack_db, sigma_db);
  const auto last = static_cast<float>(kKSteps);
  const float place = std::clamp(k_db - static_cast<float>(limits::kFadingKDb.min), 0.0F, last);
  const std::size_t step = std::min(static_cast<std::size_t>(place), kKSteps - 1);
  const float low = at(step).chance(lack_db, sigma_db);
  const float share = place - static_cast<float>(step);
  return share == 0 ? low : low + share * (at(step + 1).chance(lack_db, sigma_db) - low);
}

}  // namespace linkmargin

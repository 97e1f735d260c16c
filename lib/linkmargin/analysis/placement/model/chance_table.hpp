#pragma once

#include "linkmargin/link/fading_model.hpp"

#include <algorithm>
#include <cstddef>
#include <mutex>
#include <optional>
#include <vector>

namespace linkmargin {

/// Chances looked up, for very many links of one K: those of FadingModel by what the level lacks and by its
/// spread.
///
/// With fading off a chance is a normal probability, tabled over the lack in deviations. With fading it is
/// tabled for spreads kChanceSigmaStepDb apart, linear between (under 1 dB in the variance), and over the
/// lack: calculated in steps of a tenth of its own deviation, filled in by cubics through four values
/// (Catmull and Rom, 1974, from memory), linear between those.
///
/// Accuracy: kChanceTableError of FadingModel::chance() (chance_table_test.cpp). Read-only after
/// construction; safe to share between threads.
class ChanceTable {
 public:
  /// @param least_sigma_db,most_sigma_db the spreads that it holds, kLocalMeanSigmaDb
  /// @param k_db  kFadingKDb
  ChanceTable(const FadingModel& fading_model, double k_db, double least_sigma_db, double most_sigma_db);

  /// Chance that a level is enough. @param lack_db what is needed less what is predicted
  /// @param sigma_db nearest of those held
  float chance(float lack_db, float sigma_db) const {
    return fades_ ? fading_chance(lack_db, sigma_db) : normal_chance(lack_db, sigma_db);
  }

 private:
  /// A row's value at a column between two.
  float at(const float* row, float column) const {
    const float clipped = std::min(std::max(column, 0.0F), last_column_);
    const auto k = static_cast<std::size_t>(clipped);
    return row[k] + (clipped - static_cast<float>(k)) * (row[k + 1] - row[k]);
  }
  float fading_chance(float lack_db, float sigma_db) const {
    const float place = std::min(std::max((sigma_db - first_sigma_db_) * per_sigma_db_, 0.0F), last_row_);
    const auto row = static_cast<std::size_t>(place);
    const float low = at(&values_[row * columns_], middle_ + lack_db * per_db_[row]);
    const float high = at(&values_[(row + 1) * columns_], middle_ + lack_db * per_db_[row + 1]);
    const float share = place - static_cast<float>(row);
    return low + (row < squared_rows_ ? squared_share(row, share) : share) * (high - low);
  }
  float squared_share(std::size_t row, float share) const;
  float normal_chance(float lack_db, float sigma_db) const;

  bool fades_ = false;
  std::size_t columns_ = 0;
  float last_column_ = 0;
  float middle_ = 0;
  float first_sigma_db_ = 0;
  float per_sigma_db_ = 0;
  float last_row_ = 0;
  std::size_t squared_rows_ = 0;  // the first ones: linear in the variance
  std::vector<float> per_db_;     // columns a decibel, by row
  std::vector<float> values_;     // row after row
};

inline constexpr double kChanceTableError = 1e-4;
inline constexpr double kChanceSigmaStepDb = 0.125;

/// Tables of all K, a decibel apart, each made when a link first asks for it; linear between. Where nothing
/// fades there is one.
///
/// Accuracy: kChanceTablesError of FadingModel::chance(). Safe to share between threads.
class ChanceTables {
 public:
  /// @param fading_model outlives this. @param least_sigma_db,most_sigma_db as of ChanceTable
  ChanceTables(const FadingModel& fading_model, double least_sigma_db, double most_sigma_db);

  /// @param k_db  kFadingKDb
  float chance(float lack_db, float sigma_db, float k_db) const;

 private:
  const ChanceTable& at(std::size_t step) const;

  struct Slot {
    std::once_flag made;
    std::optional<ChanceTable> table;
  };
  const FadingModel& fading_model_;
  double least_sigma_db_;
  double most_sigma_db_;
  mutable std::vector<Slot> slots_;
};

inline constexpr double kChanceTablesError = 6e-4;

}  // namespace linkmargin

#pragma once

#include "linkmargin/link/reliability.hpp"

#include <vector>

namespace linkmargin {

/// Chances looked up, for very many links: those of Reliability by what the level lacks and by its spread.
///
/// With fading off a chance is a normal probability, tabled over the lack in deviations, linear between. With
/// fading it is tabled for spreads kChanceSigmaStepDb apart, linear between (under 1 dB in the variance), and
/// over the lack in steps of a tenth of its own deviation, by cubics through four values (Catmull and Rom,
/// 1974, from memory).
///
/// Accuracy: kChanceTableError of Reliability::chance() (chance_table_test.cpp). Read-only after
/// construction; safe to share between threads.
class ChanceTable {
 public:
  /// @param least_sigma_db,most_sigma_db the spreads that will be asked for, kLocalMeanSigmaDb
  ChanceTable(const Reliability& reliability, bool in_sight, double least_sigma_db, double most_sigma_db);

  /// Chance that a level is enough. @param lack_db what is needed less what is predicted
  float chance(float lack_db, float sigma_db) const;

 private:
  float fading_chance(float lack_db, float sigma_db) const;
  float row_chance(std::size_t row, float at) const;

  bool fades_ = false;
  float first_sigma_db_ = 0;
  std::size_t rows_ = 0;
  std::vector<float> per_db_;  // steps a decibel, by row
  std::vector<float> values_;  // row after row of kChanceColumns
};

inline constexpr double kChanceTableError = 1e-4;
inline constexpr double kChanceSigmaStepDb = 0.125;

}  // namespace linkmargin

#pragma once

#include "linkmargin/propagation/material/slab_loss.hpp"

#include <array>
#include <atomic>
#include <cstddef>
#include <optional>
#include <vector>

namespace linkmargin {

/// What is changed of the loss through a construction.
struct LossChange {
  double shift_db = 0;                 ///< added to it, never below 0
  std::optional<double> leakage_db{};  ///< what passes round the edges then; absent: nothing does

  double of(double through_db) const;  ///< the loss with both
};

/// What layers lose by the angle, for very many lines: values at even steps of the cosine, each calculated
/// when it is first asked for, cubics between.
///
/// Accuracy: 1e-5 dB of mean_slab_loss_db(), with a shift and what leaks, for walls of the site file's
/// thicknesses from 300 to 6000 MHz.
/// Safe to share between threads: a value is the same whoever calculates it.
class LossCurve {
 public:
  /// @param layers outside in, as mean_slab_loss_db() has them
  LossCurve(std::vector<SlabLayer> layers, double frequency_hz, LossChange change = {});

  /// @param incidence_cos from the normal, [0, 1]; beyond kMaxIncidenceDeg the loss at that angle
  double loss_db(double incidence_cos) const;

 private:
  static constexpr std::size_t kSteps = 1024;
  double at(std::size_t step) const;

  std::vector<SlabLayer> layers_;
  double frequency_hz_;
  LossChange change_;
  mutable std::array<std::atomic<double>, kSteps + 1> known_;  // NaN where not yet
};

}  // namespace linkmargin

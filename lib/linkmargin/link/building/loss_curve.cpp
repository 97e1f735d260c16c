#include "linkmargin/link/building/loss_curve.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/leakage.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace linkmargin {
namespace {

double least_cosine() {
  static const double cosine = std::cos(kMaxIncidenceDeg * kPi / 180);
  return cosine;
}

}  // namespace

double LossChange::of(double through_db) const {
  const double shifted_db = shift_db == 0 ? through_db : std::max(0.0, through_db + shift_db);
  return leakage_db ? with_leakage_db(shifted_db, *leakage_db) : shifted_db;
}

LossCurve::LossCurve(std::vector<SlabLayer> layers, double frequency_hz, LossChange change)
    : layers_(std::move(layers)), frequency_hz_(frequency_hz), change_(change) {
  for (std::atomic<double>& one : known_)
    one.store(std::numeric_limits<double>::quiet_NaN(), std::memory_order_relaxed);
}

double LossCurve::at(std::size_t step) const {
  std::atomic<double>& known = known_[step];
  double loss_db = known.load(std::memory_order_relaxed);
  if (std::isnan(loss_db)) {
    const double cosine = least_cosine() + (1 - least_cosine()) * static_cast<double>(step) / kSteps;
    loss_db = change_.of(mean_slab_loss_db(layers_, frequency_hz_, std::min(1.0, cosine)));
    known.store(loss_db, std::memory_order_relaxed);
  }
  return loss_db;
}

double LossCurve::loss_db(double incidence_cos) const {
  const double cosine = std::clamp(incidence_cos, least_cosine(), 1.0);
  const double place = (cosine - least_cosine()) / (1 - least_cosine()) * kSteps;
  const std::size_t first = std::clamp<std::size_t>(static_cast<std::size_t>(place), 1, kSteps - 2) - 1;
  // Lagrange's cubic through four values.
  const double t = place - static_cast<double>(first);
  const double a = t, b = t - 1, c = t - 2, d = t - 3;
  return -b * c * d / 6 * at(first) + a * c * d / 2 * at(first + 1) - a * b * d / 2 * at(first + 2) +
         a * b * c / 6 * at(first + 3);
}

}  // namespace linkmargin

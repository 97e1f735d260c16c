#include "linkmargin/link/fading_model.hpp"

#include "linkmargin/propagation/fading/composite_fading.hpp"
#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <mutex>
#include <optional>

namespace linkmargin {
namespace {

double within(const Range& range, double value) {
  return std::clamp(value, range.min, range.max);
}

constexpr double kStepDb = 0.5;
constexpr auto kSteps = static_cast<std::size_t>((limits::kFadingKDb.max - limits::kFadingKDb.min) / kStepDb);

/// Of every half decibel of K, each made when it is first asked for.
const CompositeFading& composite(std::size_t step) {
  struct Slot {
    std::once_flag made;
    std::optional<CompositeFading> fading;
  };
  static std::array<Slot, kSteps + 1> slots;
  Slot& slot = slots[step];
  std::call_once(slot.made,
                 [&] { slot.fading.emplace(limits::kFadingKDb.min + kStepDb * static_cast<double>(step)); });
  return *slot.fading;
}

/// Fading of a K between two steps.
struct Blend {
  explicit Blend(double k_db) {
    const double place = (within(limits::kFadingKDb, k_db) - limits::kFadingKDb.min) / kStepDb;
    const std::size_t step = std::min(static_cast<std::size_t>(place), kSteps - 1);
    share = place - static_cast<double>(step);
    low = &composite(step);
    high = &composite(step + 1);
  }

  template <typename Of>
  double operator()(const Of& of) const {
    return share == 0 ? of(*low) : of(*low) + share * (of(*high) - of(*low));
  }

  const CompositeFading* low = nullptr;
  const CompositeFading* high = nullptr;
  double share = 0;
};

}  // namespace

FadingModel::FadingModel(const Fading& fading) : fading_(fading) {}

double FadingModel::k_db(const LossBreakdown& loss) const {
  if (!fading_.on) return std::numeric_limits<double>::infinity();
  const auto& stated = loss.line_of_sight ? fading_.k_in_sight_db : fading_.k_behind_walls_db;
  if (stated) return *stated;
  if (!loss.reverberant_ratio) return loss.line_of_sight ? kMostSpotKDb : kSpotKBehindWallsDb;
  return std::min(kMostSpotKDb, unknown_orientation_k_db(1 / *loss.reverberant_ratio));
}

double FadingModel::chance(Dbm predicted, Dbm needed, double sigma_db, double k_db) const {
  if (!fading_.on) return chance_of_reaching(predicted.value, needed.value, sigma_db);
  const double needed_db = within(kFadeLevelDb, needed.value - predicted.value);
  const double spread_db = within(kLocalMeanSigmaDb, sigma_db);
  return 1 - Blend(k_db)([&](const CompositeFading& fading) { return fading.cdf(needed_db, spread_db); });
}

LevelInterval FadingModel::interval(Dbm predicted, double chance, double sigma_db, double k_db) const {
  const double outside = (1 - chance) / 2;
  if (!fading_.on) {
    return {predicted + Db{log_normal_margin_db(outside, sigma_db)},
            predicted + Db{log_normal_margin_db(1 - outside, sigma_db)}};
  }
  const Blend blend(k_db);
  const double spread_db = within(kLocalMeanSigmaDb, sigma_db);
  const auto at = [&](double below) {
    return predicted +
           Db{blend([&](const CompositeFading& fading) { return fading.quantile_db(below, spread_db); })};
  };
  return {at(outside), at(1 - outside)};
}

double FadingModel::outage(Db margin) const {
  if (!fading_.on) return margin < Db{0} ? 1 : 0;
  return rician_cdf(fading_.k_over_time_db, within(kFadeLevelDb, -margin.value));
}

}  // namespace linkmargin

#include "linkmargin/link/fading_model.hpp"

#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <algorithm>
#include <limits>

namespace linkmargin {
namespace {

double within(const Range& range, double value) {
  return std::clamp(value, range.min, range.max);
}

}  // namespace

FadingModel::FadingModel(const Fading& fading)
    : fading_(fading), line_of_sight_(fading.k_in_sight_db), behind_walls_(fading.k_behind_walls_db) {}

double FadingModel::k_db(bool line_of_sight) const {
  if (!fading_.on) return std::numeric_limits<double>::infinity();
  return line_of_sight ? fading_.k_in_sight_db : fading_.k_behind_walls_db;
}

double FadingModel::chance(Dbm predicted, Dbm needed, double sigma_db, bool line_of_sight) const {
  if (!fading_.on) return chance_of_reaching(predicted.value, needed.value, sigma_db);
  const double needed_db = within(kFadeLevelDb, needed.value - predicted.value);
  return 1 - composite(line_of_sight).cdf(needed_db, within(kLocalMeanSigmaDb, sigma_db));
}

LevelInterval FadingModel::interval(Dbm predicted, double chance, double sigma_db, bool line_of_sight) const {
  const double outside = (1 - chance) / 2;
  const auto at = [&](double below) {
    const double off_db =
        fading_.on ? composite(line_of_sight).quantile_db(below, within(kLocalMeanSigmaDb, sigma_db))
                   : log_normal_margin_db(below, sigma_db);
    return predicted + Db{off_db};
  };
  return {at(outside), at(1 - outside)};
}

double FadingModel::outage(Db margin) const {
  if (!fading_.on) return margin < Db{0} ? 1 : 0;
  return rician_cdf(fading_.k_over_time_db, within(kFadeLevelDb, -margin.value));
}

}  // namespace linkmargin

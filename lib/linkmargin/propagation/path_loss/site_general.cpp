#include "linkmargin/propagation/path_loss/site_general.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace linkmargin {
namespace {

/// The rows of these two environments hold for one.
struct EnvironmentRows {
  std::string_view environment;
  std::string_view own;
  std::string_view also;
};

constexpr EnvironmentRows kEnvironmentRows[] = {
    {"residential", "residential", "apartment"}, {"apartment", "apartment", "residential"},
    {"house", "house", "residential"},           {"office", "office", "office"},
    {"commercial", "commercial", "commercial"},
};

const EnvironmentRows& rows_of(std::string_view environment) {
  const auto found = std::ranges::find(kEnvironmentRows, environment, &EnvironmentRows::environment);
  if (found == std::ranges::end(kEnvironmentRows)) {
    throw DomainError("environment '" + std::string(environment) +
                      "' is none of residential, apartment, house, office, commercial (ITU-R P.1238)");
  }
  return *found;
}

/// Of the rows that hold for the environment, the one nearest in frequency. Of two as near, an own one, then
/// the lower band.
template <typename Row>
const Row* nearest_row(std::span<const Row> rows, const EnvironmentRows& wanted, double frequency_hz) {
  const auto rank = [&](const Row& row) {
    return std::array<double, 3>{row.band.octaves_outside(frequency_hz),
                                 row.band.environment == wanted.own ? 0.0 : 1.0, row.band.min_frequency_hz};
  };
  const Row* nearest = nullptr;
  for (const Row& row : rows) {
    if (row.band.environment != wanted.own && row.band.environment != wanted.also) continue;
    if (nearest == nullptr || rank(row) < rank(*nearest)) nearest = &row;
  }
  return nearest;
}

double floors_db(const FloorFactor& factor, int floors) {
  const int listed = factor.stated_floors == 0 ? 3 : factor.stated_floors;
  if (floors <= listed) return factor.floors_db[floors - 1];
  const double last_db = factor.floors_db[listed - 1];
  const double step_db = listed == 1 ? last_db : last_db - factor.floors_db[listed - 2];
  return last_db + (floors - listed) * step_db;
}

}  // namespace

double site_general_loss_db(const SiteGeneralCoefficients& row, double distance_m, double frequency_hz) {
  require_in(kDistanceM, distance_m);
  require_in(kFrequencyHz, frequency_hz);
  return 10 * row.alpha * std::log10(distance_m) + row.beta + 10 * row.gamma * std::log10(frequency_hz / 1e9);
}

const SiteGeneralCoefficients* find_site_general(std::string_view environment, bool line_of_sight) {
  for (const SiteGeneralCoefficients& row : site_general_coefficients()) {
    if (row.environment == environment && row.line_of_sight == line_of_sight) return &row;
  }
  return nullptr;
}

const SiteGeneralCoefficients* find_site_general(std::string_view name) {
  for (const SiteGeneralCoefficients& row : site_general_coefficients()) {
    if (row.name == name) return &row;
  }
  return nullptr;
}

double PowerLossBand::octaves_outside(double frequency_hz) const {
  const double clamped_hz = std::clamp(frequency_hz, min_frequency_hz, max_frequency_hz);
  return std::abs(std::log2(frequency_hz / clamped_hz));
}

PowerLoss power_loss(std::string_view environment, double distance_m, double frequency_hz, int floors) {
  require_in(kDistanceM, distance_m);
  require_in(kFrequencyHz, frequency_hz);
  require_in(kFloors, floors);
  const EnvironmentRows& wanted = rows_of(environment);
  PowerLoss result;
  result.coefficient = nearest_row(power_loss_coefficients(), wanted, frequency_hz);
  result.sigma = nearest_row(power_loss_sigmas(), wanted, frequency_hz);
  if (floors > 0) {
    result.floor_factor = nearest_row(floor_factors(), wanted, frequency_hz);
    result.floor_db = floors_db(*result.floor_factor, floors);
    result.floors_stated =
        result.floor_factor->stated_floors == 0 || floors <= result.floor_factor->stated_floors;
  }
  result.loss_db = 20 * std::log10(frequency_hz / 1e6) +
                   result.coefficient->decade_db * std::log10(distance_m) + result.floor_db - 28;
  return result;
}

}  // namespace linkmargin

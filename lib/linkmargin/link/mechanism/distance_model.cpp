#include "linkmargin/link/mechanism/distance_model.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/propagation/path_loss/log_distance.hpp"
#include "linkmargin/propagation/path_loss/multi_wall.hpp"
#include "linkmargin/propagation/path_loss/site_general.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linkmargin {
namespace {

double sum(const std::vector<double>& terms_db) {
  return std::accumulate(terms_db.begin(), terms_db.end(), 0.0);
}

/// A total shared out in proportion to each floor's own loss, or evenly where they have none.
std::vector<double> shared_out(const std::vector<double>& floors_db, double total_db) {
  const double sum_db = sum(floors_db);
  std::vector<double> shares;
  for (const double own_db : floors_db) {
    shares.push_back(sum_db > 0 ? total_db * own_db / sum_db
                                : total_db / static_cast<double>(floors_db.size()));
  }
  return shares;
}

double reference_loss_db(const PropagationSettings& radio) {
  return free_space_loss_db(1.0, radio.frequency_hz);
}

Figure mhz(double frequency_hz) {
  return {mhz_from_hz(frequency_hz)};
}

DistanceTerm free_space(const PropagationSettings& radio, double distance_m) {
  return {.loss_db = free_space_loss_db(distance_m, radio.frequency_hz),
          .sigma_db = kUncountedSigmaDb,
          .law = {.code = DistanceLaw::Code::free_space},
          .itemises = false,
          .floor_db = {},
          .warnings = {{.code = WarningCode::free_space_model}}};
}

DistanceTerm log_distance(const PropagationSettings& radio, double distance_m) {
  const std::string name = radio.building_type.empty() ? "home" : radio.building_type;
  const auto* row = find_log_distance_environment(name, radio.frequency_hz);
  if (row == nullptr) throw DomainError("no environment '" + name + "' for log_distance");
  const double exponent = radio.exponent.value_or(row->exponent);
  DistanceTerm term{.loss_db = log_distance_loss_db(distance_m, reference_loss_db(radio), exponent),
                    .sigma_db = row->sigma_db,
                    .law = {.code = DistanceLaw::Code::exponent, .figure = exponent},
                    .itemises = false,
                    .floor_db = {},
                    .warnings = {}};
  if (!radio.exponent && std::abs(std::log2(radio.frequency_hz / row->frequency_hz)) > kNearOctaves) {
    term.warnings.push_back({.code = WarningCode::environment_of_other_band,
                             .arguments = {{"environment", Quoted{name}},
                                           {"measured", mhz(row->frequency_hz)},
                                           {"frequency", mhz(radio.frequency_hz)}}});
  }
  return term;
}

DistanceTerm walls(const PropagationSettings& radio, double distance_m,
                   const std::vector<double>& floors_db) {
  const double exponent = radio.exponent.value_or(kWallsExponent);
  return {.loss_db = log_distance_loss_db(distance_m, reference_loss_db(radio), exponent),
          .sigma_db = kItemisedSigmaDb,
          .law = {.code = DistanceLaw::Code::exponent, .figure = exponent},
          .itemises = true,
          .floor_db = floors_db,
          .warnings = {}};
}

DistanceTerm multi_wall(const PropagationSettings& radio, double distance_m,
                        const std::vector<double>& floors_db) {
  const int count = static_cast<int>(floors_db.size());
  const double mean_db = count > 0 ? sum(floors_db) / count : 0;
  return {.loss_db = free_space_loss_db(distance_m, radio.frequency_hz) + radio.constant_loss_db,
          .sigma_db = kItemisedSigmaDb,
          .law = {.code = radio.constant_loss_db == 0 ? DistanceLaw::Code::free_space
                                                      : DistanceLaw::Code::free_space_and_constant,
                  .figure = radio.constant_loss_db},
          .itemises = true,
          .floor_db = shared_out(floors_db, floor_term_db(count, mean_db)),
          .warnings = {}};
}

void say_if_outside(DistanceTerm& term, const PowerLossBand& band, WarningCode code, double frequency_hz) {
  if (band.octaves_outside(frequency_hz) <= kNearOctaves) return;
  term.warnings.push_back({.code = code,
                           .arguments = {{"environment", std::string(band.environment)},
                                         {"frequency", mhz(frequency_hz)},
                                         {"row", mhz(band.min_frequency_hz)}}});
}

DistanceTerm site_general_power_loss(const PropagationSettings& radio, double distance_m,
                                     const std::vector<double>& floors_db) {
  const std::string name = radio.building_type.empty() ? "residential" : radio.building_type;
  const PowerLoss loss = power_loss(name, distance_m, radio.frequency_hz, static_cast<int>(floors_db.size()));
  DistanceTerm term{.loss_db = loss.loss_db - loss.floor_db,
                    .sigma_db = loss.sigma->sigma_db,
                    .law = {.code = DistanceLaw::Code::power_loss,
                            .figure = loss.coefficient->decade_db,
                            .environment = name},
                    .itemises = false,
                    .floor_db = shared_out(floors_db, loss.floor_db),
                    .floors_spread = false,
                    .warnings = {}};
  say_if_outside(term, loss.coefficient->band, WarningCode::coefficient_of_other_band, radio.frequency_hz);
  if (loss.floor_factor != nullptr) {
    say_if_outside(term, loss.floor_factor->band, WarningCode::floor_factor_of_other_band,
                   radio.frequency_hz);
  }
  if (!loss.floors_stated) term.warnings.push_back({.code = WarningCode::floors_not_stated});
  return term;
}

DistanceTerm site_general_coefficients(const PropagationSettings& radio, double distance_m,
                                       const std::vector<double>& floors_db, bool line_of_sight) {
  const std::string name = radio.building_type.empty() ? "office" : radio.building_type;
  const auto* row = find_site_general(name, line_of_sight);
  if (row == nullptr) throw DomainError("no environment '" + name + "' for site_general");
  DistanceTerm term{.loss_db = site_general_loss_db(*row, distance_m, radio.frequency_hz),
                    .sigma_db = row->sigma_db,
                    .law = {.code = DistanceLaw::Code::site_general, .environment = std::string(row->name)},
                    .itemises = false,
                    .floor_db = floors_db,
                    .warnings = {}};
  if (!row->distance_m.contains(distance_m) || !row->frequency_hz.contains(radio.frequency_hz)) {
    term.warnings.push_back({.code = WarningCode::distance_not_stated,
                             .arguments = {{"environment", std::string(row->name)},
                                           {"from", Figure{row->distance_m.min}},
                                           {"to", Figure{row->distance_m.max}}}});
  }
  if (!floors_db.empty()) {
    term.warnings.push_back({.code = WarningCode::coefficients_of_one_floor});
  }
  return term;
}

DistanceTerm of_model(const PropagationSettings& radio, double distance_m,
                      const std::vector<double>& floors_db, bool line_of_sight) {
  switch (radio.model) {
    case PathLossModel::free_space:
      return free_space(radio, distance_m);
    case PathLossModel::log_distance:
      return log_distance(radio, distance_m);
    case PathLossModel::walls:
      return walls(radio, distance_m, floors_db);
    case PathLossModel::multi_wall:
      return multi_wall(radio, distance_m, floors_db);
    case PathLossModel::site_general:
      return radio.form == SiteGeneralForm::power_loss
                 ? site_general_power_loss(radio, distance_m, floors_db)
                 : site_general_coefficients(radio, distance_m, floors_db, line_of_sight);
  }
  throw DomainError("unknown path loss model");
}

}  // namespace

DistanceTerm distance_term(const PropagationSettings& radio, double distance_m,
                           const std::vector<double>& floors_db, bool line_of_sight) {
  DistanceTerm term = of_model(radio, std::max(distance_m, kNearestM), floors_db, line_of_sight);
  term.sigma_db = std::hypot(radio.model_sigma_db.value_or(term.sigma_db), radio.equipment_sigma_db);
  return term;
}

}  // namespace linkmargin

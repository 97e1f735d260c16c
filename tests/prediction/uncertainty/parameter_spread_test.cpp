#include "linkmargin/prediction/uncertainty/parameter_spread.hpp"

#include "linkmargin/link/mechanism/distance_model.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

/// Six parameters, five of their pairs not apart.
Site calibrated() {
  Site site = fixture::two_rooms();
  Calibration& learned = site.calibration.emplace();
  learned.offset_sigma_db = 1.5;
  learned.exponent_sigma = 0.2;
  learned.zero_sigma_db = 2;
  learned.full_sigma_db = 2.5;
  learned.materials = {{"board", {1, 0.5, 0}}, {"heavy", {-2, 1.2, 0}}};
  learned.correlations = {{kOffsetPointer, kExponentPointer, -0.62},
                          {shift_pointer("heavy"), kOffsetPointer, 0.3},
                          {kZeroPointer, kFullPointer, -0.4},
                          {shift_pointer("board"), shift_pointer("heavy"), -0.25},
                          {kExponentPointer, shift_pointer("board"), 0.15}};
  return site;
}

LossItem item_of(const std::string& row, double share) {
  LossItem item;
  item.table_row = row;
  item.power_fraction = share;
  return item;
}

/// 8 m; a fifth of the power comes by echoes.
LossBreakdown link_loss(double distance_m = 8) {
  LossBreakdown loss;
  loss.distance_m = distance_m;
  loss.items = {item_of("", 0.8), item_of("board", 0.8), item_of("heavy", 0.9),
                item_of("", 1),   item_of("board", 0.5), item_of("steel", 0.7)};
  loss.sigma_db = 4.5;
  return loss;
}

}  // namespace

TEST_CASE("the variance is that of the derivatives in the covariance, calculated elsewhere too") {
  // NumPy 1.24.2: J = [1, -10 log10(8) 0.8, -(1-q), -q, -1.3, -0.9], C = outer(s, s) * R,
  // s = [1.5, 0.2, 2, 2.5, 0.5, 1.2], J @ C @ J.
  const ParameterSpread spread(calibrated());
  REQUIRE_FALSE(spread.empty());
  CHECK(std::abs(spread.variance_db2(link_loss(), 0.3) - 9.25562298021859) <= 1e-12);
  CHECK(std::abs(spread.variance_db2(link_loss(), 0) - 11.573122980218589) <= 1e-12);
  CHECK(std::abs(spread.variance_db2(link_loss(), 1) - 13.823122980218589) <= 1e-12);
  CHECK(spread.variance_db2(link_loss(), 1.4) == spread.variance_db2(link_loss(), 1));
  CHECK(spread.variance_db2(link_loss(), -3) == spread.variance_db2(link_loss(), 0));
  CHECK(std::abs(spread.variance_db2(link_loss(kNearestM / 9), 0.3) - 3.4704000000000006) <= 1e-12);
}

TEST_CASE("a model without an exponent is not unsure of one") {
  Site site = calibrated();
  site.radio.model = PathLossModel::multi_wall;
  CHECK(std::abs(ParameterSpread(site).variance_db2(link_loss(), 0.3) - 4.1983999999999995) <= 1e-12);
  site.radio.model = PathLossModel::log_distance;
  CHECK(std::abs(ParameterSpread(site).variance_db2(link_loss(), 0.3) - 9.25562298021859) <= 1e-12);
}

TEST_CASE("a level's spread is that of its path and of the parameters where it reads") {
  const Site site = calibrated();
  const ParameterSpread spread(site);
  const Dbm level = site.reading.zero + Db{0.3 * (site.reading.full - site.reading.zero).value};
  CHECK(std::abs(spread.sigma_db(link_loss(), level) - std::hypot(4.5, std::sqrt(9.25562298021859))) <= 1e-9);
}

TEST_CASE("what a table brings along is unsure by itself, unless the site's own readings tell of it") {
  Site site = fixture::two_rooms();
  site.materials.at("board").learned = LearnedShift{2, 1.5, 0};
  site.materials.at("steel").learned = LearnedShift{1, 3, 0};
  site.materials.at("leaf").learned = LearnedShift{1, 0, 0};  // sure
  const double board = 1.3 * 1.3 * 1.5 * 1.5, steel = 0.7 * 0.7 * 9;
  CHECK(std::abs(ParameterSpread(site).variance_db2(link_loss(), 0.5) - board - steel) <= 1e-12);
  site.calibration = Calibration{};
  CHECK(std::abs(ParameterSpread(site).variance_db2(link_loss(), 0.5) - board - steel) <= 1e-12);
  site.calibration->materials["board"] = {2, 0.5, 0};
  CHECK(std::abs(ParameterSpread(site).variance_db2(link_loss(), 0.5) - board / 9 - steel) <= 1e-12);
  Site both = calibrated();
  both.materials.at("steel").learned = LearnedShift{1, 3, 0};
  CHECK(std::abs(ParameterSpread(both).variance_db2(link_loss(), 0.3) - 9.25562298021859 - steel) <= 1e-12);
}

TEST_CASE("a site that is sure of everything adds nothing, not even a bit") {
  Site site = fixture::two_rooms();
  CHECK(ParameterSpread(site).empty());
  site.calibration = Calibration{};
  site.calibration->offset_db = 3;
  site.calibration->materials["board"] = {2, 0, 9};
  const ParameterSpread spread(site);
  CHECK(spread.empty());
  CHECK(spread.variance_db2(link_loss(), 0.3) == 0);
  CHECK(spread.sigma_db(link_loss(), Dbm{-80}) == link_loss().sigma_db);
}

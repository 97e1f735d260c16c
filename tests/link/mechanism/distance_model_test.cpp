#include "linkmargin/link/mechanism/distance_model.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/log_distance.hpp"
#include "linkmargin/propagation/path_loss/site_general.hpp"

#include "fixtures/near.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <numeric>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

PropagationSettings radio(PathLossModel model, double frequency_hz = 868.3e6) {
  PropagationSettings made;
  made.model = model;
  made.frequency_hz = frequency_hz;
  return made;
}

double total(const DistanceTerm& term) {
  return std::accumulate(term.floor_db.begin(), term.floor_db.end(), term.loss_db);
}

}  // namespace

TEST_CASE("free space counts neither walls nor floors") {
  const auto term = distance_term(radio(PathLossModel::free_space), 10, {10}, false);
  CHECK(near(term.loss_db, 51.2212,
             0.001));  // ITU-R P.525, 868.3 MHz, 10 m: published.md, case 1 of section 13
  CHECK_FALSE(term.itemises);
  CHECK(term.floor_db.empty());
  CHECK(term.sigma_db == kUncountedSigmaDb);
  CHECK(term.warnings.size() == 1);
}

TEST_CASE("log-distance takes exponent and spread from a published environment unless the site says more") {
  auto of_site = radio(PathLossModel::log_distance);
  of_site.building_type = "office soft partition";
  // Andersen, Rappaport, Yoshida 1995, table 2: 900 MHz soft partition 2.4 / 9.6 dB (two or more copies
  // agree).
  const auto published = distance_term(of_site, 10, {}, true);
  CHECK(near(published.loss_db, 31.2212 + 24, 0.001));
  CHECK(published.sigma_db == 9.6);
  CHECK(published.warnings.empty());  // 868.3 MHz is near 900
  of_site.frequency_hz = 433.92e6;
  CHECK(distance_term(of_site, 10, {}, true).warnings.size() == 1);
  of_site.frequency_hz = 868.3e6;
  of_site.exponent = 3;
  of_site.model_sigma_db = 5;
  const auto given = distance_term(of_site, 10, {}, true);
  CHECK(near(given.loss_db, 31.2212 + 30, 0.001));
  CHECK(given.sigma_db == 5);
  CHECK(given.warnings.empty());
}

TEST_CASE("multi-wall floors follow the law of COST 231, shared out by each floor's own loss") {
  // published.md, case 12 of section 13: kf = 1..4 with Lf 18.3 dB; COST 231 final report, section 4.7.
  const double published_db[] = {18.3, 33.5236, 43.5890, 51.0476};
  for (std::size_t floors = 1; floors <= 4; ++floors) {
    const auto term =
        distance_term(radio(PathLossModel::multi_wall, 1.8e9), 20, std::vector<double>(floors, 18.3), false);
    CHECK(near(total(term) - term.loss_db, published_db[floors - 1], 0.0005));
  }
  const auto mixed = distance_term(radio(PathLossModel::multi_wall, 1.8e9), 20, {10, 20}, false);
  CHECK(near(mixed.floor_db[1], 2 * mixed.floor_db[0], 1e-12));
  auto with_constant = radio(PathLossModel::multi_wall, 1.8e9);
  with_constant.constant_loss_db = 4;
  CHECK(near(distance_term(with_constant, 20, {}, true).loss_db, 63.5738 + 4, 0.001));
}

TEST_CASE("site-general, power-loss form") {
  auto office = radio(PathLossModel::site_general);
  office.form = SiteGeneralForm::power_loss;
  office.building_type = "office";
  // published.md, case 5 of section 13: 868.3 MHz, 20 m, N = 33, 1 / 2 / 3 floors.
  const double published_db[] = {82.707, 92.707, 97.707};
  for (std::size_t floors = 1; floors <= 3; ++floors) {
    const auto term = distance_term(office, 20, std::vector<double>(floors, 12), false);
    CHECK(near(total(term), published_db[floors - 1], 0.001));
    CHECK(term.floor_db.size() == floors);
    CHECK_FALSE(term.floors_spread);
  }
}

TEST_CASE("site-general, coefficient form, takes the row by what stands between") {
  const auto office = radio(PathLossModel::site_general);
  // published.md, case 6 of section 13.
  CHECK(near(distance_term(office, 10, {}, false).loss_db, 52.670, 0.001));
  CHECK(near(distance_term(office, 5, {}, true).loss_db, 43.580, 0.001));
  CHECK(distance_term(office, 10, {}, false).warnings.empty());
  CHECK(distance_term(office, 60, {}, false).warnings.size() == 1);    // stated for 4 to 30 m
  CHECK(distance_term(office, 10, {12}, false).warnings.size() == 1);  // stated for one floor
  CHECK(total(distance_term(office, 10, {12}, false)) - 52.670 == doctest::Approx(12).epsilon(0.0001));
}

TEST_CASE("nearer than 0.1 m counts as 0.1 m") {
  const auto walls = radio(PathLossModel::walls);
  CHECK(distance_term(walls, 0, {}, true).loss_db == distance_term(walls, kNearestM, {}, true).loss_db);
  CHECK(near(distance_term(walls, kNearestM, {}, true).loss_db, 11.2212, 0.001));
}

TEST_CASE("the environments that a site may name are those of the published tables") {
  std::vector<std::string> published;
  for (const LogDistanceEnvironment& row : log_distance_environments()) {
    if (published.empty() || published.back() != row.name) published.emplace_back(row.name);
  }
  CHECK(environment_names(PathLossModel::log_distance, SiteGeneralForm::coefficients) == published);
  published.clear();
  for (const SiteGeneralCoefficients& row : site_general_coefficients()) {
    if (published.empty() || published.back() != row.environment) published.emplace_back(row.environment);
  }
  CHECK(environment_names(PathLossModel::site_general, SiteGeneralForm::coefficients) == published);
  for (const std::string& name :
       environment_names(PathLossModel::site_general, SiteGeneralForm::power_loss)) {
    CHECK_NOTHROW(power_loss(name, 10, 868e6, 0));
  }
  CHECK(environment_names(PathLossModel::walls, SiteGeneralForm::coefficients).empty());
}

TEST_CASE("an environment that the model lacks throws") {
  for (const auto model : {PathLossModel::log_distance, PathLossModel::site_general}) {
    auto wrong = radio(model);
    wrong.building_type = "submarine";
    CHECK_THROWS_AS(distance_term(wrong, 10, {}, true), DomainError);
  }
}

TEST_CASE("what the equipment leaves open is added to the model's spread, until readings taught the offset") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  const auto sigma_db = [&] {
    return path_loss(Scene(site, Doors::armed), {1, 2, 1.5}, {3, 2, 1.5}).sigma_db;
  };
  CHECK(sigma_db() == kItemisedSigmaDb);
  site.profiles.at("contact").sigma_db = 3;
  CHECK(near(sigma_db(), 5, 1e-12));     // 4 and 3
  site.profiles.at("hub").sigma_db = 2;  // the greatest counts, once
  CHECK(near(sigma_db(), 5, 1e-12));
  site.profiles.at("fob").sigma_db = 9;  // nothing of it is on the site
  CHECK(near(sigma_db(), 5, 1e-12));
  site.radio.model_sigma_db = 0;
  CHECK(near(sigma_db(), 3, 1e-12));
  site.calibration = Calibration{};
  CHECK(sigma_db() == 0);
}

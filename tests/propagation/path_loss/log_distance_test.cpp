#include "linkmargin/propagation/path_loss/log_distance.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

TEST_CASE("exponent 2 from the loss at 1 m is free space") {
  for (const double distance_m : {0.1, 1.0, 7.3, 50.0}) {
    const double loss_db = log_distance_loss_db(distance_m, free_space_loss_db(1, 868.3e6), 2);
    CHECK(std::abs(loss_db - free_space_loss_db(distance_m, 868.3e6)) <= 1e-12);
  }
}

TEST_CASE("log-distance loss of published examples") {
  struct Case {
    double distance_m;
    double loss_at_1m_db;
    double exponent;
    double added_db;
    double loss_db;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {30, 31.5, 3.27, 24.4 + 2 * 13, 130.2, 0.05,
       "Rappaport, attenuation-factor example, three floors and two walls; from memory, recomputed"},
      {30, 31.5, 5.22, 0, 108.6, 0.05,
       "Rappaport, the same with an exponent for three floors; from memory, recomputed"},
      {10, 46.8, 1.87, 0, 65.5, 0.0005,
       "WINNER II A1 in sight, 5 GHz; one copy agrees with memory, computed"},
  };
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double loss_db =
        log_distance_loss_db(row.distance_m, row.loss_at_1m_db, row.exponent) + row.added_db;
    CHECK(std::abs(loss_db - row.loss_db) <= row.tolerance_db);
  }
}

TEST_CASE("the environments are those of the published table") {
  const auto table = PublishedTable::read("log_distance_environments.csv", 12);
  CHECK(log_distance_environments().size() == 12);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double frequency_hz = row.number("frequency_mhz") * 1e6;
    const auto* found = find_log_distance_environment(row.text("environment"), frequency_hz);
    REQUIRE(found != nullptr);
    CHECK(found->frequency_hz == frequency_hz);
    CHECK(found->exponent == row.number("exponent"));
    CHECK(found->sigma_db == row.number("sigma_db"));
    CHECK(found->source.find("1995, table 2") != std::string_view::npos);
    CHECK_FALSE(found->verified.empty());
  }
}

TEST_CASE("the row nearest in the logarithm of the frequency is taken") {
  // the middle between 900 and 1900 MHz is 1308 MHz
  CHECK(find_log_distance_environment("office soft partition", 1300e6)->frequency_hz == 900e6);
  CHECK(find_log_distance_environment("office soft partition", 1315e6)->frequency_hz == 1900e6);
  CHECK(find_log_distance_environment("office, soft partition", 868e6) == nullptr);
  CHECK_THROWS_AS(find_log_distance_environment("home", 1e6), DomainError);
}

TEST_CASE("log-distance loss: edges of the ranges") {
  testing::check_edges(kDistanceM, [](double value) { return log_distance_loss_db(value, 31, 2); });
  testing::check_edges(kLossAt1mDb, [](double value) { return log_distance_loss_db(10, value, 2); });
  testing::check_edges(kPathExponent, [](double value) { return log_distance_loss_db(10, 31, value); });
}

#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace linkmargin;

TEST_CASE("the floor law of COST 231") {
  struct Case {
    int floors;
    double loss_db;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {1, 18.3000, 0.0005,
       "COST 231 final report, section 4.7; computed, coefficients in two copies that agree"},
      {2, 33.5236, 0.0005, "the same"},
      {3, 43.5890, 0.0005, "the same"},
      {4, 51.0476, 0.0005, "the same"},
      {5, 57.0676, 0.0005, "the same"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.floors);
    CAPTURE(row.source);
    const double apart_db = std::abs(floor_term_db(row.floors, kCost231FloorDb) - row.loss_db);
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= row.tolerance_db);
  }
  MESSAGE("floor law, worst deviation in dB: " << largest);
  CHECK(floor_term_db(0, kCost231FloorDb) == 0);
}

TEST_CASE("the floor law of IEEE 802.11-14/0980 is the same") {
  // residential, 2.4 GHz, 10 m, one floor and two walls of 5 dB: 92.865 dB, of which 64.565 dB without them;
  // two copies of the formula agree, computed
  CHECK(std::abs(64.565 + floor_term_db(1, 18.3) + 2 * 5 - 92.865) <= 0.0005);
}

TEST_CASE("the whole multi-wall loss") {
  // COST 231 final report, section 4.7: 1800 MHz, 20 m, two light walls, one heavy, one floor; computed from
  // coefficients on which two copies agree
  const std::vector<double> walls_db{kCost231LightWallDb, kCost231LightWallDb, kCost231HeavyWallDb};
  const double loss_db = multi_wall_loss_db(20, 1800e6, 0, walls_db, 1, kCost231FloorDb);
  CHECK(std::abs(loss_db - 95.5738) <= 0.0005);
  MESSAGE("multi-wall example, deviation in dB: " << loss_db - 95.5738);
  CHECK(multi_wall_loss_db(20, 1800e6, 0, {}, 0, 0) == free_space_loss_db(20, 1800e6));
  CHECK(std::abs(multi_wall_loss_db(20, 1800e6, -2.5, walls_db, 1, kCost231FloorDb) - loss_db + 2.5) <=
        1e-12);
}

TEST_CASE("multi-wall loss: edges of the ranges") {
  using testing::check_edges;
  check_edges(kElementLossDb, [](double value) { return floor_term_db(2, value); });
  check_edges(kFloorBend, [](double value) { return floor_term_db(2, 18.3, value); });
  CHECK(std::isfinite(floor_term_db(static_cast<int>(kFloors.max), 18.3)));
  CHECK_THROWS_AS(floor_term_db(static_cast<int>(kFloors.max) + 1, 18.3), DomainError);
  CHECK_THROWS_AS(floor_term_db(-1, 18.3), DomainError);
  check_edges(kDistanceM, [](double value) { return multi_wall_loss_db(value, 868e6, 0, {}, 1, 18.3); });
  check_edges(kFrequencyHz, [](double value) { return multi_wall_loss_db(10, value, 0, {}, 1, 18.3); });
  check_edges(kConstantLossDb,
              [](double value) { return multi_wall_loss_db(10, 868e6, value, {}, 1, 18.3); });
  check_edges(kElementLossDb, [](double value) {
    const double walls_db[] = {3.4, value};
    return multi_wall_loss_db(10, 868e6, 0, walls_db, 1, 18.3);
  });
}

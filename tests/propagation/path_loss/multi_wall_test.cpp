#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

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
    const double apart_db = std::abs(floor_term_db(row.floors, 18.3) - row.loss_db);
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= row.tolerance_db);
  }
  MESSAGE("floor law, worst deviation in dB: " << largest);
  CHECK(floor_term_db(0, 18.3) == 0);
}

TEST_CASE("the floor law of IEEE 802.11-14/0980 is the same") {
  // residential, 2.4 GHz, 10 m, one floor and two walls of 5 dB: 92.865 dB, of which 64.565 dB without them;
  // two copies of the formula agree, computed
  CHECK(std::abs(64.565 + floor_term_db(1, 18.3) + 2 * 5 - 92.865) <= 0.0005);
}

TEST_CASE("floor law: edges of the ranges") {
  using testing::check_edges;
  check_edges(kFloorLossDb, [](double value) { return floor_term_db(2, value); });
  check_edges(kFloorBend, [](double value) { return floor_term_db(2, 18.3, value); });
  CHECK(std::isfinite(floor_term_db(static_cast<int>(kFloors.max), 18.3)));
  CHECK_THROWS_AS(floor_term_db(static_cast<int>(kFloors.max) + 1, 18.3), DomainError);
  CHECK_THROWS_AS(floor_term_db(-1, 18.3), DomainError);
}

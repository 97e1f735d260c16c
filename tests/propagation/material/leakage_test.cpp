#include "linkmargin/propagation/material/leakage.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

TEST_CASE("the powers through and round a wall add") {
  CHECK(std::abs(with_leakage_db(40, 40) - (40 - 10 * std::log10(2.0))) <= 1e-12);
  CHECK(std::abs(with_leakage_db(30, 40) - (30 - 10 * std::log10(1.1))) <= 1e-12);
  CHECK(with_leakage_db(0, 1000) == 0);
  for (const double through_db : {0.0, 3.0, 7.0, 20.0, 60.0, 300.0, 1e6}) {
    for (const double leakage_db : {10.0, 26.0, 40.0, 120.0}) {
      const double loss_db = with_leakage_db(through_db, leakage_db);
      CHECK(loss_db <= std::min(through_db, leakage_db));
      CHECK(loss_db >= std::min(through_db, leakage_db) - 3.0103);
    }
    if (through_db == 0 || through_db > 200) continue;
    const double sum = std::pow(10, -through_db / 10) + std::pow(10, -4.0);
    CHECK(std::abs(with_leakage_db(through_db, kLeakageDb) + 10 * std::log10(sum)) <= 1e-9);
  }
}

TEST_CASE("metal is bounded and masonry left alone") {
  CHECK(with_leakage_db(1e9, kLeakageDb) == kLeakageDb);
  CHECK(std::abs(with_leakage_db(7, kLeakageDb) - 7) <= 0.01);
}

TEST_CASE("leakage: edges of the ranges") {
  testing::check_edges(kThroughDb, [](double value) { return with_leakage_db(value, 40); });
  testing::check_edges(kLeakage, [](double value) { return with_leakage_db(7, value); });
}

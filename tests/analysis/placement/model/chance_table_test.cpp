#include "linkmargin/analysis/placement/model/chance_table.hpp"

#include "linkmargin/base/random.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

/// The greatest difference over random lacks and spreads.
double worst_error(const Fading& fading, double least_sigma_db, double most_sigma_db, double most_k_db = 7) {
  const FadingModel fading_model(fading);
  const RandomStream random(5, 1);
  double worst = 0;
  for (const double k_db : {-20.0, 2.0, most_k_db}) {
    const ChanceTable table(fading_model, k_db, least_sigma_db, most_sigma_db);
    for (std::uint64_t i = 0; i < 4000; ++i) {
      const auto sigma_db =
          static_cast<float>(least_sigma_db + (most_sigma_db - least_sigma_db) * random.uniform(2 * i));
      const double wide = i % 4 == 0 ? 60 : 3 * std::hypot(sigma_db, 4);
      const auto lack_db = static_cast<float>(wide * (2 * random.uniform(2 * i + 1) - 1));
      const double exact =
          fading_model.chance(Dbm{0}, Dbm{static_cast<double>(lack_db)}, static_cast<double>(sigma_db), k_db);
      worst = std::max(worst, std::abs(exact - static_cast<double>(table.chance(lack_db, sigma_db))));
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("looked up chances are those that are calculated") {
  CHECK(worst_error({}, 0, 15) <= kChanceTableError);
  CHECK(worst_error({}, 3.03, 12.2) <= kChanceTableError);
  CHECK(worst_error({}, 15, 40) <= kChanceTableError);
  CHECK(worst_error({}, 2, 9, 15) <= kChanceTableError);
  CHECK(worst_error({.on = false}, 0.5, 20) <= kChanceTableError);
}

TEST_CASE("a table for each K, and what lies between") {
  const FadingModel fading_model{Fading{}};
  const ChanceTables tables(fading_model, 3, 12);
  const RandomStream random(6, 1);
  double worst = 0;
  for (std::uint64_t i = 0; i < 6000; ++i) {
    const auto k_db = static_cast<float>(-20 + 40 * random.uniform(3 * i));
    const auto sigma_db = static_cast<float>(3 + 9 * random.uniform(3 * i + 1));
    const auto lack_db = static_cast<float>(20 * (2 * random.uniform(3 * i + 2) - 1));
    const double exact = fading_model.chance(Dbm{0}, Dbm{static_cast<double>(lack_db)},
                                             static_cast<double>(sigma_db), static_cast<double>(k_db));
    worst = std::max(worst, std::abs(exact - static_cast<double>(tables.chance(lack_db, sigma_db, k_db))));
  }
  CHECK(worst <= kChanceTablesError);
  const FadingModel none({.on = false});
  CHECK(ChanceTables(none, 3, 12).chance(0, 4, 2) == 0.5F);
}

TEST_CASE("without any spread what is needed is reached or not") {
  const ChanceTable table(FadingModel({.on = false}), 2, 0, 0);
  CHECK(table.chance(0, 0) == 1);
  CHECK(table.chance(0.01F, 0) == 0);
  CHECK(table.chance(-0.01F, 0) == 1);
}

TEST_CASE("a table of one spread") {
  const FadingModel fading_model(Fading{});
  const ChanceTable table(fading_model, 2, 4, 4);
  for (const double lack_db : {-30.0, -6.0, 0.0, 3.0, 25.0}) {
    const double exact = fading_model.chance(Dbm{0}, Dbm{lack_db}, 4, 2);
    CHECK(std::abs(exact - static_cast<double>(table.chance(static_cast<float>(lack_db), 4))) <=
          kChanceTableError);
  }
}

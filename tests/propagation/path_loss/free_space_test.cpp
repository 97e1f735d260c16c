#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "linkmargin/base/units.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

TEST_CASE("free-space loss of 25 tabulated links") {
  const auto table = PublishedTable::read("free_space.csv", 25);
  testing::Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double loss_db =
        free_space_loss_db(row.number("distance_m"), hz_from_mhz(row.number("frequency_mhz")));
    CHECK(worst.add(loss_db, row.number("loss_db")) <= row.number("tolerance_db"));
  }
  MESSAGE("free space, worst deviation in dB: " << worst.largest());
}

TEST_CASE("the constant of free-space loss in three unit systems, and two printed examples") {
  struct Case {
    double distance_m;
    double frequency_hz;
    double loss_db;
    double tolerance_db;
    std::string source;
  };
  const double fifty_watt_dbm = 46.9897;
  const Case cases[] = {
      {1000, 1e9, 92.447783, 1e-6, "ITU-R P.525 with exact c, km and GHz; computed"},
      {1000, 1e8, 32.447783 + 40, 1e-6, "ITU-R P.525 with exact c, km and MHz; computed"},
      {1, 1e8, -27.552217 + 40, 1e-6, "ITU-R P.525 with exact c, m and MHz; computed"},
      {10, 868.3e6, 51.2212, 0.001, "ITU-R P.525; computed"},
      {1, 2.4e9, 40.05, 0.005,
       "IEEE 802.11-14/0980, intercept of its indoor formula; two copies agree, recomputed"},
      {100, 900e6, fifty_watt_dbm + 24.5, 0.05,
       "Rappaport, Friis example, 50 W; print from memory, recomputed"},
      {10e3, 900e6, fifty_watt_dbm + 64.5, 0.05,
       "Rappaport, Friis example, 50 W; print from memory, recomputed"},
  };
  for (const Case& row : cases) {
    CAPTURE(row.source);
    CHECK(std::abs(free_space_loss_db(row.distance_m, row.frequency_hz) - row.loss_db) <= row.tolerance_db);
  }
}

TEST_CASE("free-space loss: edges of the ranges") {
  testing::check_edges(kDistanceM, [](double value) { return free_space_loss_db(value, 868.3e6); });
  testing::check_edges(kFrequencyHz, [](double value) { return free_space_loss_db(10, value); });
}

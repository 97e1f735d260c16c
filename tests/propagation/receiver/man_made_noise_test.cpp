#include "linkmargin/propagation/receiver/man_made_noise.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

TEST_CASE("the business area's line of ITU-R P.372") {
  struct Case {
    double frequency_mhz;
    double noise_db;
  };
  // ITU-R P.372-8, one copy and memory; values computed, to half of the last digit.
  const Case cases[] = {{250, 14.805}, {433.92, 11.860}, {868.3, 8.154}};
  for (const Case& row : cases) {
    CAPTURE(row.frequency_mhz);
    CHECK(std::abs(business_noise_db(row.frequency_mhz * 1e6) - row.noise_db) <= 0.0005);
  }
  CHECK(kBusinessNoiseHz.min == 200e6);
  CHECK(kBusinessNoiseHz.max == 900e6);
  testing::check_edges(kBusinessNoiseHz, [](double value) { return business_noise_db(value); });
}

TEST_CASE("the total noise factor f = fa + fr - 1") {
  struct Case {
    double frequency_mhz;
    double receiver_db;
    double total_db;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {433.92, 7, 12.87, 0.005, "ITU-R P.372-8, business area, noise figure 7 dB; computed"},
      {868.3, 7, 10.23, 0.005, "ITU-R P.372-8, business area, noise figure 7 dB; computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double external_db = business_noise_db(row.frequency_mhz * 1e6);
    const double apart_db = std::abs(total_noise_figure_db(external_db, row.receiver_db) - row.total_db);
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= row.tolerance_db);
  }
  MESSAGE("total noise figure, worst deviation in dB: " << largest);
  // Surroundings at 290 K add nothing to what a noise figure counts from, and a perfect receiver has theirs.
  for (const double receiver_db : {0.0, 3.0, 7.0, 20.0}) {
    CHECK(std::abs(total_noise_figure_db(0, receiver_db) - receiver_db) <= 1e-12);
    CHECK(std::abs(total_noise_figure_db(receiver_db, 0) - receiver_db) <= 1e-12);
  }
}

TEST_CASE("total noise factor: edges of the ranges") {
  testing::check_edges(kExternalNoiseDb, [](double value) { return total_noise_figure_db(value, 7); });
  testing::check_edges(kReceiverNoiseDb, [](double value) { return total_noise_figure_db(8, value); });
  CHECK(std::isfinite(total_noise_figure_db(kExternalNoiseDb.min, kReceiverNoiseDb.min)));
}

#include "linkmargin/propagation/receiver/noise.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

TEST_CASE("thermal noise") {
  struct Case {
    double bandwidth_hz;
    double level_dbm;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {1, -173.9752, 0.0001, "k T B at 290 K with exact k; computed"},
      {25e3, -129.996, 0.001, "k T B at 290 K with exact k; computed"},
      {100e3, -123.975, 0.001, "k T B at 290 K with exact k; computed"},
      {125e3, -123.006, 0.001, "k T B at 290 K with exact k; computed"},
      {1e6, -113.975, 0.001, "k T B at 290 K with exact k; computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double apart_db = std::abs(thermal_noise_dbm(row.bandwidth_hz) - row.level_dbm);
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= row.tolerance_db);
  }
  MESSAGE("thermal noise, worst deviation in dB: " << largest);
  CHECK(std::abs(thermal_noise_dbm(25e3, 580) - thermal_noise_dbm(25e3) - 10 * std::log10(2)) <= 1e-12);
}

TEST_CASE("sensitivity in thermal noise") {
  struct Case {
    double bandwidth_hz;
    double noise_figure_db;
    double required_snr_db;
    double level_dbm;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {25e3, 7, 10, -112.996, 0.001, "definition; computed"},
      {50e3, 8, 10, -108.985, 0.001, "definition; computed"},
      {100e3, 7, 12, -104.975, 0.001, "definition; computed"},
      {125e3, 6, -20, -137.006, 0.001, "definition; computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double level_dbm = sensitivity_dbm(row.bandwidth_hz, row.noise_figure_db, row.required_snr_db);
    largest = std::max(largest, std::abs(level_dbm - row.level_dbm));
    CHECK(std::abs(level_dbm - row.level_dbm) <= row.tolerance_db);
  }
  MESSAGE("sensitivity, worst deviation in dB: " << largest);
}

TEST_CASE("noise: edges of the ranges") {
  using testing::check_edges;
  check_edges(kBandwidthHz, [](double value) { return thermal_noise_dbm(value); });
  check_edges(kTemperatureK, [](double value) { return thermal_noise_dbm(25e3, value); });
  check_edges(kBandwidthHz, [](double value) { return sensitivity_dbm(value, 7, 10); });
  check_edges(kNoiseFigureDb, [](double value) { return sensitivity_dbm(25e3, value, 10); });
  check_edges(kRequiredSnrDb, [](double value) { return sensitivity_dbm(25e3, 7, value); });
}

#include "linkmargin/propagation/fading/level_crossing.hpp"

#include "fixtures/range_edges.hpp"
#include "fixtures/published_table.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

TEST_CASE("level crossings of Rayleigh fading") {
  const auto table = PublishedTable::read("level_crossing.csv", 4);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const LevelCrossing crossing = rayleigh_level_crossing(row.number("level_db"));
    CHECK(std::abs(crossing.per_wavelength - row.number("per_wavelength")) <= row.number("tolerance"));
    CHECK(std::abs(crossing.mean_wavelengths - row.number("mean_wavelengths")) <= row.number("tolerance"));
    // rate times length is the share of the way that lies under the threshold
    const double share = -std::expm1(-std::pow(10, row.number("level_db") / 10));
    CHECK(crossing.per_wavelength * crossing.mean_wavelengths == doctest::Approx(share).epsilon(1e-12));
  }
  // Rappaport's examples, printed values from memory: 20 Hz at the rms level, 18.44 crossings/s; 200 Hz, 3.43
  // ms
  CHECK(std::abs(20 * rayleigh_level_crossing(0).per_wavelength - 18.44) <= 0.006);
  CHECK(std::abs(1000 * rayleigh_level_crossing(0).mean_wavelengths / 200 - 3.43) <= 0.006);
}

TEST_CASE("level crossing: edges of the range") {
  testing::check_edges(kCrossingLevelDb,
                       [](double value) { return rayleigh_level_crossing(value).per_wavelength; });
}

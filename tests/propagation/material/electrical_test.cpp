#include "linkmargin/propagation/material/electrical.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/electrical_table.hpp"
#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>

using namespace linkmargin;
using linkmargin::testing::ElectricalTable;
using linkmargin::testing::PublishedTable;

namespace {

/// eta'' = 17.9751 sigma / f(GHz): ITU-R P.2040 with the exact constant; recomputed, printed 17.98.
constexpr double kLossConstant = 17.9751036;

}  // namespace

TEST_CASE("permittivity and conductivity of 51 tabulated cases") {
  const ElectricalTable materials;
  const auto table = PublishedTable::read("permittivity.csv", 51);
  testing::Worst worst_permittivity;
  testing::Worst worst_relative;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double frequency_ghz = row.number("frequency_ghz");
    const auto eta = materials.permittivity(row.text("edition"), row.text("material"), frequency_ghz * 1e9);
    const double published = row.number("conductivity_s_per_m");
    const double conductivity = -eta.imag() * frequency_ghz / kLossConstant;
    CHECK(worst_permittivity.add(eta.real(), row.number("relative_permittivity")) <=
          row.number("relative_permittivity_tolerance"));
    CHECK(std::abs(conductivity - published) <= row.number("conductivity_tolerance_s_per_m"));
    worst_relative.add(conductivity / published, 1);
  }
  MESSAGE("permittivity, worst deviation: " << worst_permittivity.largest()
                                            << "; conductivity, of the value: " << worst_relative.largest());
}

TEST_CASE("the loss constant of the permittivity") {
  // ITU-R P.2040 prints 17.98; recomputed exactly as 17.9751
  const double constant = -relative_permittivity(1, 0, 1, 0, 1e9).imag();
  CHECK(std::abs(constant - 17.9751) <= 0.00005);
  CHECK(std::abs(constant - 17.98) <= 0.005);
}

TEST_CASE("electrical properties: edges of the ranges") {
  testing::check_edges(kFrequencyHz,
                       [](double value) { return relative_permittivity(5, 0, 0.04, 0.8, value).imag(); });
  testing::check_edges(kRelativePermittivity,
                       [](double value) { return relative_permittivity(value, 0, 0.04, 0, 1e9).real(); });
  testing::check_edges(kConductivity,
                       [](double value) { return relative_permittivity(5, 0, value, 0, 1e9).imag(); });
}

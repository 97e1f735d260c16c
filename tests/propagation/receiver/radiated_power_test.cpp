#include "linkmargin/propagation/receiver/radiated_power.hpp"

#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

TEST_CASE("e.i.r.p. of the usual e.r.p. limits") {
  struct Case {
    double erp_mw;
    double eirp_dbm;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {5, 9.140, 0.001, "CEPT ERC/REC 70-03 annex 1, power in one copy; e.r.p. + 2.15 dB computed"},
      {10, 12.150, 0.001, "CEPT ERC/REC 70-03 annex 7, read on its data page; e.r.p. + 2.15 dB computed"},
      {25, 16.129, 0.001, "CEPT ERC/REC 70-03 annex 7, read on its data page; e.r.p. + 2.15 dB computed"},
      {500, 29.140, 0.001, "CEPT ERC/REC 70-03 annex 1, power in two copies; e.r.p. + 2.15 dB computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double eirp_dbm = eirp_from_erp_dbm(dbm_from_mw(row.erp_mw));
    largest = std::max(largest, std::abs(eirp_dbm - row.eirp_dbm));
    CHECK(std::abs(eirp_dbm - row.eirp_dbm) <= row.tolerance_db);
    CHECK(std::abs(erp_from_eirp_dbm(eirp_dbm) - dbm_from_mw(row.erp_mw)) <= 1e-12);
  }
  MESSAGE("e.r.p. to e.i.r.p., worst deviation in dB: " << largest);
  // a half-wave dipole has gain 1.64092, computed: the rounded 2.15 dB is within 0.001 of it
  CHECK(std::abs(10 * std::log10(1.64092) - kEirpOverErpDb) <= 0.001);
}

TEST_CASE("e.i.r.p. of a limit on the field strength") {
  struct Case {
    double field_v_per_m;
    double distance_m;
    double eirp_dbm;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {0.05, 3, -1.249, 0.001,
       "47 CFR 15.249, 902 to 928 MHz; one copy agrees with memory; E^2 d^2 / 30 computed"},
      {10996.7e-6, 3, -14.40, 0.005, "47 CFR 15.231 at 433.92 MHz; limit from memory; E^2 d^2 / 30 computed"},
  };
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double eirp_dbm = eirp_from_field_strength_dbm(row.field_v_per_m, row.distance_m);
    CHECK(std::abs(eirp_dbm - row.eirp_dbm) <= row.tolerance_db);
    MESSAGE("field strength, deviation in dB: " << eirp_dbm - row.eirp_dbm);
  }
}

TEST_CASE("radiated power: edges of the ranges") {
  using testing::check_edges;
  check_edges(kPowerMw, [](double value) { return dbm_from_mw(value); });
  check_edges(kRadiatedPowerDbm, [](double value) { return eirp_from_erp_dbm(value); });
  check_edges(kRadiatedPowerDbm, [](double value) { return erp_from_eirp_dbm(value); });
  check_edges(kFieldStrength, [](double value) { return eirp_from_field_strength_dbm(value, 3); });
  check_edges(kDistanceM, [](double value) { return eirp_from_field_strength_dbm(0.05, value); });
}

#include "linkmargin/propagation/material/slab_loss.hpp"

#include "fixtures/electrical_table.hpp"
#include "fixtures/published_table.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace linkmargin;
using linkmargin::testing::ElectricalTable;
using linkmargin::testing::PublishedTable;
using linkmargin::testing::Worst;

namespace {

double cos_of_deg(double angle_deg) {
  return std::cos(angle_deg * 3.14159265358979323846 / 180);
}

/// At normal incidence both polarisations are the same wave; the te one stands for it.
Polarisation polarisation_of(const std::string& text) {
  REQUIRE((text == "te" || text == "tm" || text == "normal"));
  return text == "tm" ? Polarisation::tm : Polarisation::te;
}

void check_full_wave(const std::string& file_name, std::size_t rows) {
  const ElectricalTable materials;
  Worst matrix;
  Worst fdtd;
  Worst reflection;
  const double frequency_hz = 868e6;
  const auto table = PublishedTable::read(file_name, rows);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const auto layers = materials.layers("P.2040-3", row.text("layers_mm"), frequency_hz);
    const auto polarisation = polarisation_of(row.text("polarisation"));
    const double cos = cos_of_deg(row.number("angle_deg"));
    const double gain_db = -slab_loss_db(layers, frequency_hz, cos, polarisation);
    CHECK(matrix.add(gain_db, row.number("matrix_gain_db")) <= row.number("matrix_tolerance_db"));
    CHECK(fdtd.add(gain_db, row.number("fdtd_gain_db")) <= row.number("fdtd_tolerance_db"));
    const double reflected_db =
        10 * std::log10(slab_power(layers, frequency_hz, cos, polarisation).reflected);
    CHECK(reflection.add(reflected_db, row.number("matrix_reflection_db")) <=
          row.number("matrix_tolerance_db"));
  }
  MESSAGE(file_name << ", worst deviation in dB: transfer matrix " << matrix.largest() << ", FDTD "
                    << fdtd.largest() << ", reflection by the matrix " << reflection.largest());
}

}  // namespace

TEST_CASE("206 tabulated losses of slabs and layered walls") {
  const ElectricalTable materials;
  const auto table = PublishedTable::read("slab_loss.csv", 206);
  Worst worst;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double frequency_hz = row.number("frequency_ghz") * 1e9;
    const auto layers = materials.layers(row.text("edition"), row.text("layers_mm"), frequency_hz);
    const double cos = cos_of_deg(row.number("angle_deg"));
    const double loss_db = slab_loss_db(layers, frequency_hz, cos, polarisation_of(row.text("polarisation")));
    CHECK(worst.add(loss_db, row.number("loss_db")) <= row.number("tolerance_db"));
  }
  MESSAGE("slab table, worst deviation in dB: " << worst.largest());
}

TEST_CASE("concrete of 200 mm at 868.3 MHz: where the power goes") {
  // ITU-R P.2040-2/-3 constants; computed from the stated formula
  const ElectricalTable materials;
  const auto layers = materials.layers("P.2040-3", "concrete:200", 868.3e6);
  const SlabPower power = slab_power(layers, 868.3e6, 1, Polarisation::te);
  CHECK(std::abs(power.transmitted - 0.178191) <= 0.0000006);
  CHECK(std::abs(power.reflected - 0.204312) <= 0.0000006);
  CHECK(std::abs(power.absorbed - 0.617497) <= 0.0000006);
}

TEST_CASE("200 slabs against a full-wave solver") {
  check_full_wave("fullwave_slab_868.csv", 200);
}

TEST_CASE("25 layered walls against a full-wave solver") {
  check_full_wave("fullwave_layers_868.csv", 25);
}

TEST_CASE("a thin conductive film") {
  // 20 log10(1 + Z0 / (2 Rs)) for a sheet in air at normal incidence, Z0 = 376.7303 ohm; computed, the
  // formula of a textbook. A film of 1 um stands for the sheet: its conductivity is 1 / (Rs t).
  struct Case {
    double ohm_per_square;
    double loss_db;
    double tolerance_db;
  };
  const Case cases[] = {{4, 33.641, 0.005}, {6, 30.209, 0.005}, {10, 25.949, 0.005}, {15, 22.644, 0.005}};
  const double thickness_m = 1e-6;
  Worst worst;
  for (const Case& row : cases) {
    CAPTURE(row.ohm_per_square);
    const double conductivity = 1 / (row.ohm_per_square * thickness_m);
    const SlabLayer film{relative_permittivity(1, 0, conductivity, 0, 868.3e6), thickness_m};
    const double loss_db = slab_loss_db({&film, 1}, 868.3e6, 1, Polarisation::te);
    CHECK(worst.add(loss_db, row.loss_db) <= row.tolerance_db);
  }
  MESSAGE("conductive film, worst deviation in dB: " << worst.largest());
}

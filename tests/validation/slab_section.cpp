#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/slab_loss.hpp"

#include "fixtures/electrical_table.hpp"
#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <array>
#include <cmath>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::ElectricalTable;
using linkmargin::testing::PublishedTable;

double cos_deg(double angle_deg) {
  return std::cos(angle_deg * kPi / 180);
}

Polarisation polarisation(const std::string& text) {
  return text == "tm" ? Polarisation::tm : Polarisation::te;  // at normal incidence both are one wave
}

/// One column of a table of slabs, by angle and polarisation.
struct Direction {
  const char* name;
  double angle_deg;
  const char* polarisation;
};

Deviations slabs(const Direction* only) {
  Deviations deviations;
  const ElectricalTable materials;
  const auto values = PublishedTable::read("slab_loss.csv", 206);
  for (const auto& row : values.rows()) {
    if (only != nullptr &&
        (row.number("angle_deg") != only->angle_deg || row.text("polarisation") != only->polarisation)) {
      continue;
    }
    const double frequency_hz = row.number("frequency_ghz") * 1e9;
    const auto layers = materials.layers(row.text("edition"), row.text("layers_mm"), frequency_hz);
    deviations.add(slab_loss_db(layers, frequency_hz, cos_deg(row.number("angle_deg")),
                                polarisation(row.text("polarisation"))),
                   row.number("loss_db"));
  }
  return deviations;
}

std::string by_direction() {
  const std::array<Direction, 5> directions{{{"normal", 0, "normal"},
                                             {"45 degrees, TE", 45, "te"},
                                             {"45 degrees, TM", 45, "tm"},
                                             {"60 degrees, TE", 60, "te"},
                                             {"60 degrees, TM", 60, "tm"}}};
  std::vector<std::vector<std::string>> rows;
  for (const Direction& direction : directions) {
    const auto numbers = cells(slabs(&direction), 4);
    rows.push_back({direction.name, numbers[0], numbers[1], numbers[2]});
  }
  return table({"incidence", "rows", "worst dB", "rms dB"}, rows);
}

/// Transmitted and reflected power of slabs without loss must add up to one.
Outcome energy_balance() {
  Outcome outcome{"energy balance of slabs without loss, 0 to 85 degrees", {}, "of the power", 1e-9, 9};
  for (const double permittivity : {1.5, 2.73, 4.0, 6.31, 12.0}) {
    for (const double thickness_m : {0.004, 0.0125, 0.1, 0.24}) {
      const SlabLayer layer{{permittivity, 0}, thickness_m};
      for (int angle_deg = 0; angle_deg <= 85; angle_deg += 5) {
        for (const auto way : {Polarisation::te, Polarisation::tm}) {
          const double cos = cos_deg(angle_deg);
          const double transmitted = std::pow(10, -slab_loss_db({&layer, 1}, 868.3e6, cos, way) / 10);
          outcome.deviations.add(transmitted + slab_power({&layer, 1}, 868.3e6, cos, way).reflected, 1);
        }
      }
    }
  }
  return outcome;
}

/// A half wave of a lossless dielectric is a window; a quarter wave of permittivity 4 passes 0.64.
Outcome window() {
  Outcome outcome{"half-wave window and quarter-wave slab, closed form", {}, "dB", 1e-9, 9};
  const double in_slab_m = wavelength_m(868.3e6) / 2;  // wavelength where the permittivity is 4
  const SlabLayer half{{4, 0}, in_slab_m / 2};
  const SlabLayer quarter{{4, 0}, in_slab_m / 4};
  outcome.deviations.add(slab_loss_db({&half, 1}, 868.3e6, 1, Polarisation::te), 0);
  outcome.deviations.add(slab_loss_db({&quarter, 1}, 868.3e6, 1, Polarisation::te), -10 * std::log10(0.64));
  return outcome;
}

}  // namespace

Section slab_section() {
  Section section;
  Outcome published{"ITU-R P.2040, slabs and layered walls, 0, 45 and 60 degrees, both polarisations",
                    slabs(nullptr), "dB", 0.001};
  section.outcomes = {published, energy_balance(), window()};
  section.text = "## Slabs and layered walls: published constants\n\n" + paragraph(R"(
      `slab_loss.csv`, computed elsewhere by two independent formulas from the constants of ITU-R P.2040 (editions -1
      and -3). TE: the electric field is parallel to the faces.)") +
                 by_direction() +
                 "![Loss of five walls against the angle of incidence](../figures/loss_against_angle.svg)\n\n";
  return section;
}

}  // namespace linkmargin::validation

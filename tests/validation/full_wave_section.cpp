#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/slab_loss.hpp"

#include "fixtures/electrical_table.hpp"
#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <cmath>
#include <map>
#include <set>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::ElectricalTable;
using linkmargin::testing::PublishedTable;

/// What is aimed at against the field solver.
constexpr double kAimDb = 0.1;

/// The deviations of one solver, by direction and over all.
struct Solver {
  Deviations all;
  std::map<std::string, Deviations> by_direction;

  void add(const std::string& direction, double computed, double reference) {
    all.add(computed, reference);
    by_direction[direction].add(computed, reference);
  }
};

struct Comparison {
  Solver matrix;
  Solver field;
  std::set<std::string> over_names;  ///< of those rows: material and direction
  std::string farthest;              ///< the row with the largest deviation from the field solver
  std::size_t over = 0;              ///< rows more than kAimDb from the field solver
};

Comparison compare(const std::string& file_name, std::size_t expected_rows) {
  Comparison comparison;
  const ElectricalTable materials;
  const double frequency_hz = 868e6;
  double largest = 0;
  const auto values = PublishedTable::read(file_name, expected_rows);
  for (const auto& row : values.rows()) {
    const std::string way = row.text("polarisation");
    const auto layers = materials.layers("P.2040-3", row.text("layers_mm"), frequency_hz);
    const double gain_db = -slab_loss_db(layers, frequency_hz, std::cos(row.number("angle_deg") * kPi / 180),
                                         way == "tm" ? Polarisation::tm : Polarisation::te);
    const std::string direction =
        way == "normal" ? "normal" : row.text("angle_deg") + " degrees, " + (way == "te" ? "TE" : "TM");
    comparison.matrix.add(direction, gain_db, row.number("matrix_gain_db"));
    comparison.field.add(direction, gain_db, row.number("fdtd_gain_db"));
    const double apart_db = std::abs(gain_db - row.number("fdtd_gain_db"));
    if (apart_db > kAimDb) {
      ++comparison.over;
      const std::string& stack = row.text("layers_mm");
      comparison.over_names.insert(stack.substr(0, stack.find(':')) + " at " + direction);
    }
    if (apart_db > largest) {
      largest = apart_db;
      comparison.farthest = row.text("layers_mm") + " mm, " + direction;
    }
  }
  return comparison;
}

std::string by_direction(const Comparison& comparison) {
  std::vector<std::vector<std::string>> rows;
  for (const char* direction :
       {"normal", "30 degrees, TE", "30 degrees, TM", "60 degrees, TE", "60 degrees, TM"}) {
    const Deviations& matrix = comparison.matrix.by_direction.at(direction);
    const Deviations& field = comparison.field.by_direction.at(direction);
    rows.push_back({direction, std::to_string(field.count()), apart(matrix.worst(), 4),
                    decimals(field.worst(), 3), decimals(field.rms(), 3)});
  }
  return table(
      {"incidence", "rows", "worst against the matrix, dB", "worst against FDTD, dB", "rms against FDTD, dB"},
      rows);
}

std::string over_text(const Comparison& comparison) {
  std::string names;
  for (const std::string& name : comparison.over_names) names += (names.empty() ? "" : "; ") + name;
  return std::to_string(comparison.over) + " of the rows lie more than 0.1 dB from FDTD (" + names +
         "), the farthest is " + comparison.farthest + ".";
}

}  // namespace

Section full_wave_section() {
  const Comparison slabs = compare("fullwave_slab_868.csv", 200);
  const Comparison layers = compare("fullwave_layers_868.csv", 25);
  Section section;
  section.outcomes = {{"slabs, transfer matrix", slabs.matrix.all, "dB", 0.001},
                      {"slabs, FDTD", slabs.field.all, "dB", 0.2, 3},
                      {"layered walls, transfer matrix", layers.matrix.all, "dB", 0.001},
                      {"layered walls, FDTD", layers.field.all, "dB", 0.1, 3}};
  section.text = "## Slabs and layered walls: a field solver\n\n" + paragraph(R"(
      `fullwave_slab_868.csv` and `fullwave_layers_868.csv`: finite differences in the time domain (FDTD, Meep 1.25 of
      Debian, 200 to 800 pixels a metre) and a transfer matrix, both at 868 MHz. Five materials of ITU-R P.2040-3, 10 to
      300 mm:)") +
                 by_direction(slabs) + paragraph(over_text(slabs) + R"(
      Against the matrix they agree to the last digit printed, so the distance is the solver's: it is of first order in
      the size of a pixel, and the fresh run of `tests/fullwave/slabs.py` shows it shrink with finer ones.)") +
                 paragraph("Board, air and board; cavity wall; double glazing; two layers in contact:") +
                 by_direction(layers);
  return section;
}

}  // namespace linkmargin::validation

#include "linkmargin/propagation/material/metal_proximity.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <cmath>
#include <string>
#include <vector>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::PublishedTable;

/// One curve of the program and the column of the solver's table that it stands for.
struct SheetComparison {
  const char* name;
  const char* orientation;
  const char* sheet;
  const char* column;
  MetalCurve curve;
};

constexpr SheetComparison kComparisons[] = {
    {"parallel to an endless sheet, in front", "parallel", "endless", "front_73_dbi",
     MetalCurve::front_of_sheet},
    {"parallel to a plate of 0.36 m, in front", "parallel", "plate", "front_73_dbi",
     MetalCurve::front_of_plate},
    {"parallel to a plate of 0.36 m, behind", "parallel", "plate", "behind_73_dbi", MetalCurve::behind_plate},
    {"upright on an endless sheet, in front", "upright", "endless", "front_73_dbi",
     MetalCurve::front_of_sheet_upright},
};

/// Before an endless sheet all the power of a dipole without loss goes to one side, twice its mean in free
/// space; what is left is the mismatch to 73 ohm of the impedance Z11 - Z21(2 gap) of a thin dipole and its
/// image.
Outcome image_theory() {
  Outcome outcome{"dipole before an endless sheet, image theory of a thin wire", {}, "dB", 1, 3};
  const auto values = PublishedTable::read("dipole_image_theory.csv", 8);
  for (const auto& row : values.rows()) {
    outcome.deviations.add(metal_proximity_loss_db(MetalCurve::front_of_sheet, row.number("gap_wavelengths")),
                           -10 * std::log10(2.0) - row.number("theory_mismatch_73_db"));
  }
  return outcome;
}

}  // namespace

Section metal_section() {
  Section section;
  const auto values = PublishedTable::read("dipole_near_metal.csv", 22);
  double free_dbi = 0;
  for (const auto& row : values.rows()) {
    if (row.text("orientation") == "free") free_dbi = row.number("front_73_dbi");
  }
  std::vector<std::vector<std::string>> shown;
  Outcome outcome{"dipole near metal, curve against its own solver", {}, "dB", 0.02, 3};
  for (const SheetComparison& comparison : kComparisons) {
    Deviations deviations;
    for (const auto& row : values.rows()) {
      if (row.text("orientation") != comparison.orientation || row.text("sheet") != comparison.sheet)
        continue;
      const double loss_db = metal_proximity_loss_db(comparison.curve, row.number("gap_wavelengths"));
      deviations.add(loss_db, free_dbi - row.number(comparison.column));
      outcome.deviations.add(loss_db, free_dbi - row.number(comparison.column));
    }
    const auto numbers = cells(deviations, 3);
    shown.push_back({comparison.name, numbers[0], numbers[1], numbers[2]});
  }
  section.outcomes = {outcome, image_theory()};
  section.text = "## Metal beside an antenna\n\n" + paragraph(R"(
      A resonant half-wave dipole by the method of moments (nec2c 1.3 of Debian, `dipole_near_metal.csv`). The program's
      curves were drawn through these points, so that the distance to them only shows that the curve keeps to its
      source. Image theory is a check from outside, to be kept within 1 dB: it leaves out the copper (0.24 dB at 1 cm by
      the solver) and takes the wire as endlessly thin, where the solver's is 1 mm in radius.)") +
                 table({"case", "rows", "worst dB", "rms dB"}, shown) +
                 "![Loss against the gap from metal](../figures/metal_gap.svg)\n\n";
  return section;
}

}  // namespace linkmargin::validation

#include "linkmargin/propagation/material/metal_proximity.hpp"

#include "linkmargin/base/units.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

constexpr MetalCurve kCurves[] = {MetalCurve::front_of_sheet, MetalCurve::front_of_plate,
                                  MetalCurve::behind_plate, MetalCurve::front_of_sheet_upright};

MetalCurve curve_of(const std::string& name) {
  if (name == "front_of_sheet") return MetalCurve::front_of_sheet;
  if (name == "front_of_plate") return MetalCurve::front_of_plate;
  if (name == "behind_plate") return MetalCurve::behind_plate;
  REQUIRE(name == "front_of_sheet_upright");
  return MetalCurve::front_of_sheet_upright;
}

/// The published rows: free space first, then each orientation and sheet.
const PublishedTable& published() {
  static const PublishedTable table = PublishedTable::read("dipole_near_metal.csv", 22);
  return table;
}

MetalCurve front_curve_of(const PublishedTable::Row& row) {
  if (row.text("sheet") == "plate") return MetalCurve::front_of_plate;
  return row.text("orientation") == "upright" ? MetalCurve::front_of_sheet_upright
                                              : MetalCurve::front_of_sheet;
}

/// Power that a 73 ohm source loses at an antenna, in decibels.
double mismatch_73_db(double resistance_ohm, double reactance_ohm) {
  const double minus = std::pow(resistance_ohm - 73, 2) + std::pow(reactance_ohm, 2);
  const double plus = std::pow(resistance_ohm + 73, 2) + std::pow(reactance_ohm, 2);
  return 10 * std::log10(1 - minus / plus);
}

}  // namespace

TEST_CASE("every published row of a dipole before metal, against the same dipole in free space") {
  const auto rows = published().rows();
  REQUIRE(rows.front().text("orientation") == "free");
  const double free_dbi = rows.front().number("front_73_dbi");
  double largest = 0;
  int compared = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto& row = rows[i];
    CAPTURE(row.where());
    const double gap_wavelengths = row.number("gap_wavelengths");
    const double front_db = metal_proximity_loss_db(front_curve_of(row), gap_wavelengths);
    const double apart_db = std::abs(front_db - (free_dbi - row.number("front_73_dbi")));
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= 0.1);
    // That column is the mean gain of the half space and the mismatch, each from its own.
    CHECK(std::abs(row.number("mean_gain_front_dbi") + row.number("mismatch_73_db") -
                   row.number("front_73_dbi")) <= 0.011);
    CHECK(std::abs(mismatch_73_db(row.number("resistance_ohm"), row.number("reactance_ohm")) -
                   row.number("mismatch_73_db")) <= 0.05);
    ++compared;
    if (row.text("sheet") != "plate") continue;  // nothing reaches the other side of an endless sheet
    const double behind_db = metal_proximity_loss_db(MetalCurve::behind_plate, gap_wavelengths);
    const double behind_apart_db = std::abs(behind_db - (free_dbi - row.number("behind_73_dbi")));
    largest = std::max(largest, behind_apart_db);
    CHECK(behind_apart_db <= 0.1);
    ++compared;
  }
  CHECK(compared == 26);
  MESSAGE("published rows, worst deviation in dB: " << largest);
}

TEST_CASE("a 50 ohm source would lose less beside metal, by up to 1.7 dB") {
  const auto rows = published().rows();
  const double free_50_dbi = rows.front().number("front_50_dbi");
  for (std::size_t i = 1; i < rows.size(); ++i) {
    CAPTURE(rows[i].where());
    const double by_50_db = free_50_dbi - rows[i].number("front_50_dbi");
    const double less_db =
        metal_proximity_loss_db(front_curve_of(rows[i]), rows[i].number("gap_wavelengths")) - by_50_db;
    CHECK(less_db <= 1.7);
    CHECK(less_db >= -0.4);
  }
}

TEST_CASE("between the points: 30 further runs of the same solver, and the 18 that are points themselves") {
  const auto table = PublishedTable::read("dipole_near_metal_between.csv", 48);
  double largest_check = 0;
  double largest_point = 0;
  int checks = 0;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double loss_db =
        metal_proximity_loss_db(curve_of(row.text("curve")), row.number("gap_wavelengths"));
    const double apart_db = std::abs(loss_db - row.number("loss_db"));
    const bool point = row.text("role") == "table";
    CHECK(apart_db <= (point ? 0.02 : 0.1));
    double& largest = point ? largest_point : largest_check;
    largest = std::max(largest, apart_db);
    checks += point ? 0 : 1;
  }
  CHECK(checks == 30);
  MESSAGE("worst deviation in dB: between the points " << largest_check << ", at them " << largest_point);
}

TEST_CASE("image theory: what a lossless dipole with its reactance tuned out would lose") {
  // The table holds the detuning and the copper loss as well, and gives half of the sphere all the power.
  const auto table = PublishedTable::read("dipole_image_theory.csv", 8);
  const double half_space_db = 10 * std::log10(2.0);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double loss_db =
        metal_proximity_loss_db(MetalCurve::front_of_sheet, row.number("gap_wavelengths")) + half_space_db;
    const double closed_db = -row.number("theory_mismatch_73_db");
    CHECK(loss_db - closed_db >= -0.03);  // detuning and copper never help
    CHECK(loss_db - closed_db <= 0.6);
    // The gain over the mirror that the closed form gives straight ahead: 4 sin^2(2 pi gap) R0 / R(gap).
    const double sine = std::sin(2 * kPi * row.number("gap_wavelengths"));
    const double normal_dbi =
        10 * std::log10(1.6409 * 4 * sine * sine * 73.13 / row.number("theory_resistance_ohm"));
    CHECK(std::abs(normal_dbi - row.number("theory_normal_dbi")) <= 0.1);
  }
}

TEST_CASE("the curves are smooth and rise towards the metal") {
  for (const MetalCurve curve : kCurves) {
    double before_db = metal_proximity_loss_db(curve, 0.001);
    for (int step = 1; step <= 4000; ++step) {
      const double gap_wavelengths = 0.001 * std::pow(10, step / 1000.0);  // to 10 wavelengths
      const double loss_db = metal_proximity_loss_db(curve, gap_wavelengths);
      CHECK(std::abs(loss_db - before_db) <= 0.05);  // in steps of 0.23 %
      if (gap_wavelengths < 0.2 && curve != MetalCurve::front_of_sheet_upright) CHECK(loss_db <= before_db);
      CHECK(loss_db >= -3.02);  // all the power in one half space
      before_db = loss_db;
    }
  }
  for (double gap_wavelengths = 0.0145; gap_wavelengths < 1; gap_wavelengths *= 1.05) {
    CAPTURE(gap_wavelengths);
    CHECK(metal_proximity_loss_db(MetalCurve::behind_plate, gap_wavelengths) >
          metal_proximity_loss_db(MetalCurve::front_of_plate, gap_wavelengths));
  }
}

TEST_CASE("outside the table the nearest point holds") {
  CHECK(metal_proximity_loss_db(MetalCurve::front_of_sheet, 0.001) == 13.41);
  CHECK(metal_proximity_loss_db(MetalCurve::behind_plate, 0.001) == 27.93);
  CHECK(metal_proximity_loss_db(MetalCurve::front_of_sheet, 5) == -2.98);
  CHECK(metal_proximity_loss_db(MetalCurve::behind_plate, 5) == 0.89);
  for (const MetalCurve curve : kCurves) {
    testing::check_edges(kMetalGapWavelengths,
                         [&](double value) { return metal_proximity_loss_db(curve, value); });
  }
}

TEST_CASE("the blend about the sheet's plane is smooth, and whole on either side") {
  CHECK(metal_blend_db(2, 16, 90) == 2);
  CHECK(metal_blend_db(2, 16, 15) == 2);
  CHECK(metal_blend_db(2, 16, 0) == 9);
  CHECK(metal_blend_db(2, 16, -15) == 16);
  CHECK(metal_blend_db(2, 16, -90) == 16);
  double before_db = metal_blend_db(2, 16, -90);
  for (double angle_deg = -90; angle_deg <= 90; angle_deg += 0.125) {
    const double loss_db = metal_blend_db(2, 16, angle_deg);
    CHECK(loss_db <= before_db);
    CHECK(before_db - loss_db <= 14 * 1.5 / 30 * 0.125 + 1e-12);  // its steepest slope, in the plane
    before_db = loss_db;
  }
  testing::check_edges(kPlaneAngleDeg, [](double value) { return metal_blend_db(2, 16, value); });
}

TEST_CASE("half of each loss is near the loss in the plane of the plate that the solver gives") {
  const auto rows = published().rows();
  const double free_along_dbi = rows.front().number("along_73_dbi");
  double largest = 0;
  for (const auto& row : rows) {
    if (row.text("sheet") != "plate" || row.number("gap_wavelengths") > 0.26) continue;
    CAPTURE(row.where());
    const double front_db = metal_proximity_loss_db(front_curve_of(row), row.number("gap_wavelengths"));
    const double behind_db = metal_proximity_loss_db(MetalCurve::behind_plate, row.number("gap_wavelengths"));
    const double apart_db =
        std::abs(metal_blend_db(front_db, behind_db, 0) - (free_along_dbi - row.number("along_73_dbi")));
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= 2.1);
  }
  CHECK(largest > 1);  // it is a rule of thumb
  MESSAGE("in the plane of the plate, worst deviation in dB: " << largest);
}

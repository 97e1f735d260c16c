#include "linkmargin/propagation/material/metal_proximity.hpp"

// clang-format off
#include <math.h>  // first: pchip of Boost 1.74 calls isnan without its namespace
#include <boost/math/interpolators/pchip.hpp>
// clang-format on

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

namespace linkmargin {
namespace {

// Source of every number: nec2c 1.3 (method of moments), dipole of 0.1607 m (resonant), wire 1 mm in radius,
// copper, 41 segments, at 868 MHz, lambda 0.3454 m. The endless sheet is an image plane, the plate a grid of
// 30 x 30 meshes. How a loss follows from its columns:
//
//   loss = realised mean gain in free space - (mean gain over the half space + mismatch to 73 ohm)
//
// Mean gain over all directions and polarisations, because neither is known indoors; it holds the copper
// loss. Mismatch against 73 ohm, the dipole's resistance in free space (72.4 ohm): the source is taken to be
// matched there, as a product's is, so that the whole mismatch is the metal's doing. A 50 ohm source without
// a matching network would lose less beside metal, by up to 1.7 dB. Realised mean gain in free space: -0.01
// dBi. The published tables are in tests/published/dipole_near_metal.csv; points marked "own" are further
// runs of the same solver and geometry (dipole_near_metal_between.csv), where those tables leave too wide a
// gap.
struct Point {
  double gap_wavelengths;
  double loss_db;
};

constexpr Point kFrontOfSheet[] = {
    {0.0145, 13.41},  // -0.01 - (2.14 - 15.56): the radiation resistance is down to 0.5 ohm
    {0.0290, 7.31},   // -0.01 + 7.32
    {0.0579, 1.70},   // -0.01 + 1.71
    {0.0869, -0.70},  // -0.01 - 0.69
    {0.1158, -1.78},  // -0.01 - 1.77
    {0.1737, -2.57},  // -0.01 - 2.56
    {0.2499, -2.84},  // -0.01 - 2.83
    {0.3474, -2.93},  // -0.01 - 2.92
    {0.4922, -2.94},  // -0.01 - 2.93
    {0.7238, -2.98},  // -0.01 - 2.97
};

constexpr Point kFrontOfPlate[] = {
    {0.0145, 13.32},  // own
    {0.0290, 7.34},   // -0.01 + 7.35
    {0.0579, 1.81},   // -0.01 + 1.82
    {0.0811, -0.22},  // own
    {0.1158, -1.63},  // -0.01 - 1.62
    {0.2499, -2.60},  // -0.01 - 2.59
    {0.3474, -2.53},  // own
    {0.4922, -1.89},  // -0.01 - 1.88
    {0.5212, -1.65},  // own
    {0.6080, -0.91},  // own
    {0.6659, -0.82},  // own
    {0.7238, -1.01},  // own
    {0.8686, -1.27},  // own
    {1.0134, -0.69},  // own
};

constexpr Point kBehindPlate[] = {
    {0.0145, 27.93},  // own
    {0.0290, 21.97},  // -0.01 + 21.98
    {0.0579, 16.28},  // -0.01 + 16.29
    {0.0811, 14.11},  // own
    {0.1158, 12.47},  // -0.01 + 12.48
    {0.2499, 9.88},   // -0.01 + 9.89
    {0.3474, 7.88},   // own
    {0.4922, 3.91},   // -0.01 + 3.92
    {0.5212, 3.11},   // own
    {0.6080, 1.45},   // own
    {0.6659, 1.23},   // own
    {0.7238, 1.47},   // own
    {0.8686, 1.89},   // own
    {1.0134, 0.89},   // own
};

constexpr Point kFrontOfSheetUpright[] = {
    {0.0145, -2.84},  // -0.01 - 2.83
    {0.0290, -2.92},  // -0.01 - 2.91
    {0.0579, -2.96},  // -0.01 - 2.95
    {0.1158, -3.00},  // -0.01 - 2.99
    {0.2499, -3.01},  // -0.01 - 3.00
    {0.4922, -3.01},  // -0.01 - 3.00
};

/// A table as a curve over the logarithm of the gap that never overshoots its points.
class Curve {
 public:
  explicit Curve(std::span<const Point> points)
      : first_(points.front()), last_(points.back()), between_(logarithms(points), losses(points)) {}

  double at(double gap_wavelengths) const {
    if (gap_wavelengths <= first_.gap_wavelengths) return first_.loss_db;
    if (gap_wavelengths >= last_.gap_wavelengths) return last_.loss_db;
    return between_(std::log(gap_wavelengths));
  }

 private:
  static std::vector<double> logarithms(std::span<const Point> points) {
    std::vector<double> values;
    for (const Point& point : points) values.push_back(std::log(point.gap_wavelengths));
    return values;
  }
  static std::vector<double> losses(std::span<const Point> points) {
    std::vector<double> values;
    for (const Point& point : points) values.push_back(point.loss_db);
    return values;
  }

  Point first_;
  Point last_;
  boost::math::interpolators::pchip<std::vector<double>> between_;
};

const Curve& curve_of(MetalCurve which) {
  static const Curve front_of_sheet(kFrontOfSheet);
  static const Curve front_of_plate(kFrontOfPlate);
  static const Curve behind_plate(kBehindPlate);
  static const Curve upright(kFrontOfSheetUpright);
  switch (which) {
    case MetalCurve::front_of_sheet:
      return front_of_sheet;
    case MetalCurve::front_of_plate:
      return front_of_plate;
    case MetalCurve::behind_plate:
      return behind_plate;
    case MetalCurve::front_of_sheet_upright:
      return upright;
  }
  return front_of_sheet;
}

}  // namespace

double metal_proximity_loss_db(MetalCurve curve, double gap_wavelengths) {
  require_in(kMetalGapWavelengths, gap_wavelengths);
  return curve_of(curve).at(gap_wavelengths);
}

double metal_blend_db(double front_db, double behind_db, double plane_angle_deg) {
  require_in(kPlaneAngleDeg, plane_angle_deg);
  const double t = std::clamp((plane_angle_deg + kMetalBlendDeg) / (2 * kMetalBlendDeg), 0.0, 1.0);
  const double front_share = t * t * (3 - 2 * t);
  return behind_db + front_share * (front_db - behind_db);
}

}  // namespace linkmargin

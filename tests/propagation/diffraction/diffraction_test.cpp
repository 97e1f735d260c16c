#include "linkmargin/propagation/diffraction/diffraction.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"

#include "fixtures/near.hpp"
#include "fixtures/published_table.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

using namespace linkmargin;

namespace {
constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr OpeningEdge kNoEdge{kNever, 1};

/// An edge far from both ends.
OpeningEdge far_edge(double v) {
  return {.v = v, .spreading_ratio = 1, .lag = v * v / 4};
}

double share(double one, double other) {
  return slit_power_fraction(far_edge(one), far_edge(other));
}

}  // namespace

TEST_CASE("half planes: what is lost over a knife edge") {
  struct Row {
    double v, formula_db, exact_db;
  };
  // published.md 4.1 (formula: three code copies, one of a reference function; exact: computed there): last
  // digit printed.
  const Row rows[] = {{-0.78, 0, -0.0111},     {-0.5, 1.9592, 1.8586},  {0, 6.0329, 6.0206},
                      {0.5, 10.2878, 10.2338}, {1, 13.9257, 13.8641},   {1.5, 16.7844, 16.7773},
                      {2, 19.0429, 19.0910},   {2.4, 20.5393, 20.6182}, {3, 22.4160, 22.5218},
                      {5, 26.8136, 26.9362}};
  for (const Row& row : rows) {
    CAPTURE(row.v);
    const double loss_db = -20 * std::log10(std::abs(half_plane_coefficient(row.v)));
    CHECK(near(loss_db, row.exact_db, 0.00006));
    CHECK(near(loss_db, row.formula_db, 0.13));  // what ITU-R P.526 says of its formula
  }
}

TEST_CASE("half planes: complements, and no seam between series and continued fraction") {
  CHECK(half_plane_coefficient(0) == std::complex<double>(0.5, 0));
  CHECK(half_plane_coefficient(kNever) == std::complex<double>(0, 0));
  CHECK(half_plane_coefficient(-kNever) == std::complex<double>(1, 0));
  CHECK(exact_half_plane_coefficient(kNever) == std::complex<double>(0, 0));
  CHECK(exact_half_plane_coefficient(-kNever) == std::complex<double>(1, 0));
  for (double v = -6; v <= 6; v += 0.37) {
    CHECK(std::abs(half_plane_coefficient(v) + half_plane_coefficient(-v) - 1.0) <= 1e-12);
  }
  // scipy.special.fresnel (scipy 1.10), integrals of 2.5 and 1.
  CHECK(std::abs(half_plane_coefficient(2.5) -
                 std::complex<double>(-0.038297382730684976, 0.08088437308890792)) <= 1e-12);
  CHECK(std::abs(half_plane_coefficient(1) -
                 std::complex<double>(-0.10907627388358884, -0.17081712649323413)) <= 1e-12);
  CHECK(std::abs(half_plane_coefficient(2.5 - 1e-13) - half_plane_coefficient(2.5 + 1e-13)) <= 1e-12);
  CHECK_THROWS_AS(half_plane_coefficient(std::nan("")), DomainError);
}

TEST_CASE("half planes by table are those by series and continued fraction, far out in proportion") {
  double worst = 0;
  for (double v = 0; v <= 40; v += 0.00037) {
    const std::complex<double> exact = exact_half_plane_coefficient(v);
    worst = std::max(worst, std::abs(half_plane_coefficient(v) - exact) / std::abs(exact));
  }
  for (double v = 40; v < 1e6; v *= 1.00037) {
    const std::complex<double> exact = exact_half_plane_coefficient(v);
    worst = std::max(worst, std::abs(half_plane_coefficient(v) - exact) / std::abs(exact));
  }
  CAPTURE(worst);
  CHECK(worst <= 2e-12);  // where they are a tenth: within the 1e-13 of the exact ones at their seam
  CHECK(std::abs(half_plane_coefficient(1e-300) - 0.5) <= 1e-15);
  CHECK(std::abs(half_plane_coefficient(1e100)) <= 1e-100);
  CHECK_THROWS_AS(exact_half_plane_coefficient(std::nan("")), DomainError);
}

TEST_CASE("the parameter is that of ITU-R P.526 for small bends") {
  // published.md 4.1: 868.3 MHz, d1 = d2 = 5 m, h = 0.3 m: v = 0.4567.
  const double way = 2 * std::sqrt(25 + 0.09);
  CHECK(near(fresnel_parameter(way, 10, wavelength_m(868.3e6)), 0.4567, 0.0005));
  CHECK(fresnel_parameter(10, 10, 0.345) == 0);
  CHECK_THROWS_AS(fresnel_parameter(9, 10, 0.345), DomainError);
  CHECK_THROWS_AS(fresnel_parameter(10, 10, 0), DomainError);
}

TEST_CASE("the wave round an edge is that of the exact series, however sharp the bend and near the ends") {
  // Of a line source by a metal half plane, mean of both polarisations.
  const auto table = testing::PublishedTable::read("half_plane_line_source.csv", 36);
  const double wavelength = wavelength_m(868.3e6);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double source_m = row.number("source_m"), receiver_m = row.number("receiver_m");
    const double bend = row.number("bend_deg") * kPi / 180;
    const double straight_m =
        std::sqrt(source_m * source_m + receiver_m * receiver_m + 2 * source_m * receiver_m * std::cos(bend));
    const OpeningEdge edge = opening_edge(source_m + receiver_m, straight_m, wavelength, false);
    CHECK(edge.v < 0);
    const std::complex<double> wave = edge_wave(edge);
    CHECK(near(20 * std::log10(std::abs(wave)), row.number("level_db"), 0.03));
    const std::complex<double> turn = wave * std::polar(1.0, -row.number("phase_deg") * kPi / 180);
    CHECK(std::abs(std::arg(turn)) <= 0.7 * kPi / 180);
  }
  CHECK(edge_wave(kNoEdge) == 0.0);
  CHECK(edge_wave({.v = 0}) == 0.5);
  CHECK(edge_wave({.v = 0, .spreading_ratio = 0.25}) == 0.25);  // a quarter of the power, half the amplitude
  CHECK_THROWS_AS(edge_wave({.v = std::nan("")}), DomainError);
}

TEST_CASE("an aperture bends what its wall does not let through: Babinet's principle in amplitudes") {
  CHECK(aperture_contrast(12, 12) == 0);
  CHECK(aperture_contrast(0, 0) == 0);
  // Closed form: half the amplitude through the wall, a quarter of the power; all of it from metal.
  CHECK(near(aperture_contrast(20 * std::log10(2), 0), 0.25, 1e-12));
  CHECK(near(aperture_contrast(30 + 20 * std::log10(2), 30), 0.25, 1e-12));
  CHECK(-10 * std::log10(aperture_contrast(60, 0)) <= 0.01);
  // A door of wood in a partition of boards: 0.6 and 0.4 dB.
  CHECK(near(10 * std::log10(aperture_contrast(0.6, 0.4)), -32.86, 0.01));
  CHECK(aperture_contrast(1, 30) == 1);  // it is its shadow that bends
}

TEST_CASE("an opening: all, half, and less and less") {
  CHECK(slit_power_fraction(kNoEdge, kNoEdge) == 1);
  CHECK(slit_power_fraction({0, 1}, kNoEdge) == 0.25);  // 6.02 dB on the shadow boundary of a half-plane
  CHECK(near(share(0.05, 0.05), 2 * 0.1 * 0.1 / 4, 0.0005));  // a narrow slit: |width|^2 / 2
  CHECK(share(-1, 3) == share(3, -1));
  double last = 0.5;
  for (double v = 0; v > -8; v -= 0.5) {
    const double now = share(v, 4 - v);  // a line moving away from an opening 4 zones wide
    CHECK(now < last);
    last = now;
  }
  CHECK_THROWS_AS(share(-1, -2), DomainError);
}

TEST_CASE("a way round spreads more: half as short, half the power") {
  CHECK(near(slit_power_fraction({-3, 0.5}, kNoEdge), slit_power_fraction({-3, 1}, kNoEdge) / 2, 1e-15));
}

TEST_CASE("the share has no step") {
  for (const double width : {0.3, 1.0, 3.0}) {
    double before = share(-3, width + 3);
    for (double v = -3; v < width + 3; v += 0.001) {
      const double now = share(v, width - v);
      CHECK(std::abs(now - before) < 0.006);
      before = now;
    }
  }
}

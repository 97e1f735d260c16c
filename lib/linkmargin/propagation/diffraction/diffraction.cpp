#include "linkmargin/propagation/diffraction/diffraction.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::complex<double> kHalf{0.5, 0.5};  // (1 + j) / 2

/// Integral of exp(-j pi t^2 / 2) from 0 to v, by its power series: fast and exact for small v. The terms are
/// v (-j x)^n / (n! (2 n + 1)) with x = pi v^2 / 2: by turns real and imaginary.
std::complex<double> series(double v) {
  const double x = kPi / 2 * v * v;
  double sums[2] = {v, 0};
  double term = v;
  for (int n = 1; n < 200; ++n) {
    term *= x / n;
    const double part = term / (2 * n + 1);
    sums[n % 2] += (n % 4 == 1 || n % 4 == 2) ? -part : part;
    if (part < 1e-17 * v) break;
  }
  return {sums[0], sums[1]};
}

/// exp(-2 pi j turns).
std::complex<double> turned_by(double turns) {
  const double angle = -2 * kPi * (turns - std::floor(turns + 0.5));
  return {std::cos(angle), std::sin(angle)};
}

/// exp(-j pi v^2 / 2).
std::complex<double> turned(double v) {
  return turned_by(v * v / 4);
}

/// Steps of the continued fraction that give 1e-13 of its value: diffraction_test.cpp compares with many
/// more.
int steps_for(double v) {
  return 6 + static_cast<int>(150 / (v * v));
}

/// Integral of exp(-j pi t^2 / 2) from v to infinity for v > 0, by the continued fraction of the
/// complementary error function, from the inside out: erfc(z) sqrt(pi) exp(z^2) = 1 / (z + (1/2) / (z + 1 /
/// (z + (3/2) / (z + ...)))). Real and imaginary parts apart: none of the numbers is near overflow, against
/// which a complex division guards.
std::complex<double> tail(double v) {
  const double root = std::sqrt(kPi) / 2;  // sqrt(j pi / 2) = (1 + j) root
  const double z = root * v;
  double re = z;
  double im = z;
  for (int n = steps_for(v); n >= 1; --n) {
    const double scale = n / 2.0 / (re * re + im * im);
    re = z + scale * re;
    im = z - scale * im;
  }
  const double below = 2 * root * (re * re + im * im);
  // 1 / ((1 + j) (re + j im)) = (1 - j) (re - j im) / (2 |re + j im|^2)
  return turned(v) * std::complex<double>{(re - im) / (2 * below), -(re + im) / (2 * below)};
}

constexpr double kSeriesLimit = 2.5;

/// half_plane_coefficient(v) exp(j pi v^2 / 2) (1 + v) for v >= 0: nothing of it turns or fades, so that
/// polynomials in 1 / (1 + v) follow it closely, from 0 to 1 in pieces of equal length. In each it meets the
/// exact values at the zeros of Chebyshev's polynomial; Newton's divided differences. Error: 1e-13 of the
/// value.
class ShareTable {
 public:
  ShareTable() {
    for (std::size_t i = 0; i < kTerms; ++i)
      nodes_[i] = std::cos(kPi * (static_cast<double>(i) + 0.5) / kTerms);
    for (std::size_t piece = 0; piece < kPieces; ++piece) {
      std::array<std::complex<double>, kTerms>& terms = pieces_[piece];
      for (std::size_t i = 0; i < kTerms; ++i) {
        const double v = kPieces / (static_cast<double>(piece) + (1 + nodes_[i]) / 2) - 1;
        terms[i] = exact_half_plane_coefficient(v) * std::conj(turned(v)) * (1 + v);
      }
      for (std::size_t order = 1; order < kTerms; ++order) {
        for (std::size_t i = kTerms - 1; i >= order; --i)
          terms[i] = (terms[i] - terms[i - 1]) / (nodes_[i] - nodes_[i - order]);
      }
    }
  }

  /// @param v     >= 0
  /// @param turns of the wave's phase, v^2 / 4 for a half plane far from both ends
  std::complex<double> share(double v, double turns) const {
    const std::complex<double> still = unturned(v);
    const std::complex<double> turn = turned_by(turns);
    return {still.real() * turn.real() - still.imag() * turn.imag(),
            still.real() * turn.imag() + still.imag() * turn.real()};
  }

  /// The same before its phase has turned.
  std::complex<double> unturned(double v) const {
    const double inverse = 1 / (1 + v);
    const double at = kPieces * inverse;
    const std::size_t piece = std::min(static_cast<std::size_t>(at), kPieces - 1);
    const double offset = 2 * (at - static_cast<double>(piece)) - 1;
    const std::array<std::complex<double>, kTerms>& terms = pieces_[piece];
    double re = terms[kTerms - 1].real();
    double im = terms[kTerms - 1].imag();
    for (std::size_t i = kTerms - 1; i-- > 0;) {
      re = re * (offset - nodes_[i]) + terms[i].real();
      im = im * (offset - nodes_[i]) + terms[i].imag();
    }
    return {inverse * re, inverse * im};
  }

 private:
  static constexpr std::size_t kPieces = 32;
  static constexpr std::size_t kTerms = 8;
  std::array<double, kTerms> nodes_{};
  std::array<std::array<std::complex<double>, kTerms>, kPieces> pieces_{};
};

const ShareTable& share_table() {
  static const ShareTable table;
  return table;
}

}  // namespace

std::complex<double> half_plane_coefficient(double v) {
  if (std::isnan(v)) throw DomainError("v is not a number");
  if (std::isinf(v)) return v > 0 ? 0.0 : 1.0;
  if (v == 0) return 0.5;
  return v > 0 ? share_table().share(v, v * v / 4) : 1.0 - share_table().share(-v, v * v / 4);
}

double half_plane_power(double v) {
  const bool turns = !(v > 0) || std::isinf(v);
  return std::norm(turns ? half_plane_coefficient(v) : share_table().unturned(v));
}

std::complex<double> exact_half_plane_coefficient(double v) {
  if (std::isnan(v)) throw DomainError("v is not a number");
  if (std::isinf(v)) return v > 0 ? 0.0 : 1.0;
  if (v < 0) return 1.0 - exact_half_plane_coefficient(-v);
  // The whole integral from 0 to infinity is (1 - j) / 2, and (1 + j) / 2 times that is 1 / 2.
  return v < kSeriesLimit ? 0.5 - kHalf * series(v) : kHalf * tail(v);
}

double fresnel_parameter(double way_m, double straight_m, double wavelength_m) {
  if (!(way_m > 0 && straight_m > 0 && wavelength_m > 0) || way_m < straight_m * (1 - 1e-9)) {
    throw DomainError("a way round must be at least as long as the straight line, and lengths positive");
  }
  const double over = std::max(0.0, (way_m - straight_m) * (way_m + straight_m));
  return std::sqrt(2 * over / (wavelength_m * way_m));
}

OpeningEdge opening_edge(double way_m, double straight_m, double wavelength_m, bool passes_open_side) {
  const double v = fresnel_parameter(way_m, straight_m, wavelength_m);
  return {.v = passes_open_side ? v : -v,
          .spreading_ratio = std::min(1.0, straight_m / way_m),
          .lag = std::max(0.0, (way_m - straight_m) / wavelength_m)};
}

std::complex<double> edge_wave(const OpeningEdge& edge) {
  const double v = std::abs(edge.v);
  if (std::isnan(v)) throw DomainError("v is not a number");
  if (std::isinf(v)) return 0;
  if (v == 0) return 0.5 * std::sqrt(edge.spreading_ratio);
  return std::sqrt(edge.spreading_ratio) * share_table().share(v, edge.lag);
}

double aperture_contrast(double wall_db, double aperture_db) {
  const double difference = 1 - std::pow(10, -(wall_db - aperture_db) / 20);
  return std::min(1.0, difference * difference);
}

double slit_power_fraction(OpeningEdge one, OpeningEdge other) {
  if (other.v < one.v) std::swap(one, other);  // `one` is the nearer edge, or the one that stands in the way
  if (other.v < 0) throw DomainError("a line cannot pass on the closed side of both edges");
  const std::complex<double> beyond = edge_wave(other);
  // Past the nearer edge: what is left of the free wave, which in its shadow has come round by the edge.
  const std::complex<double> past = one.v >= 0 ? 1.0 - edge_wave(one) : edge_wave(one);
  const double coherence = one.v >= 0 ? 1.0 : 0.5 + 0.5 * std::exp(-one.v * one.v);
  const double cross = 2 * coherence * (past * std::conj(beyond)).real();
  return std::max(0.0, std::norm(past) + std::norm(beyond) - cross);
}

}  // namespace linkmargin

#include "linkmargin/propagation/material/slab_loss.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/material/electrical.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using namespace linkmargin;

namespace {

using Complex = std::complex<double>;
constexpr Polarisation kBoth[] = {Polarisation::te, Polarisation::tm};
constexpr double kSlabFrequency = 868.3e6;

/// The oracle: the closed form of one slab, T = (1 - R^2) e^{-jq} / (1 - R^2 e^{-2jq}) (ITU-R P.2040).
double closed_form_db(const SlabLayer& slab, double frequency_hz, double cos, Polarisation polarisation) {
  const Complex eta = slab.permittivity;
  const Complex r = std::sqrt(eta - (1 - cos * cos));
  const Complex reflection =
      polarisation == Polarisation::te ? (cos - r) / (cos + r) : (eta * cos - r) / (eta * cos + r);
  const Complex q = 2 * kPi * slab.thickness_m / wavelength_m(frequency_hz) * r;
  const Complex j{0, 1};
  const Complex square = reflection * reflection;
  const Complex transmission = (1.0 - square) * std::exp(-j * q) / (1.0 - square * std::exp(-2.0 * j * q));
  return -20 * std::log10(std::abs(transmission));
}

/// The second oracle: the transfer matrix [cos q, j Z sin q; j sin q / Z, cos q], impedances relative to Z0.
double matrix_db(const std::vector<SlabLayer>& layers, double frequency_hz, double cos,
                 Polarisation polarisation) {
  const bool te = polarisation == Polarisation::te;
  const Complex j{0, 1};
  Complex a = 1;
  Complex b = 0;
  Complex c = 0;
  Complex d = 1;
  for (const SlabLayer& layer : layers) {
    const Complex r = std::sqrt(layer.permittivity - (1 - cos * cos));
    const Complex z = te ? 1.0 / r : r / layer.permittivity;
    const Complex q = 2 * kPi * layer.thickness_m / wavelength_m(frequency_hz) * r;
    const Complex m[] = {std::cos(q), j * z * std::sin(q), j * std::sin(q) / z, std::cos(q)};
    const Complex next[] = {a * m[0] + b * m[2], a * m[1] + b * m[3], c * m[0] + d * m[2],
                            c * m[1] + d * m[3]};
    a = next[0], b = next[1], c = next[2], d = next[3];
  }
  const double outer = te ? 1 / cos : cos;
  return 20 * std::log10(std::abs(a + b / outer + c * outer + d) / 2);
}

SlabLayer random_layer(const RandomStream& random, std::uint64_t index) {
  const double permittivity = 1 + 9 * random.uniform(3 * index);
  const double loss = std::pow(10, -4 + 5 * random.uniform(3 * index + 1));
  return {{permittivity, -loss}, 0.001 + 0.15 * random.uniform(3 * index + 2)};
}

std::vector<SlabLayer> random_stack(std::uint64_t stream) {
  const RandomStream random(7, stream);
  std::vector<SlabLayer> layers;
  const auto count = 1 + static_cast<std::uint64_t>(6 * random.uniform(1000));
  for (std::uint64_t index = 0; index < count; ++index) layers.push_back(random_layer(random, index));
  return layers;
}

double random_cos(std::uint64_t stream) {
  return 0.09 + 0.91 * RandomStream(8, stream).uniform(0);
}

SlabLayer lossless(double permittivity, double wavelengths_inside) {
  return {{permittivity, 0}, wavelengths_inside * wavelength_m(kSlabFrequency) / std::sqrt(permittivity)};
}

}  // namespace

TEST_CASE("lossless slabs of a quarter and a half wave") {
  // textbook optics: a quarter wave of permittivity 4 passes 0.64 of the power, 1.938200 dB; a half wave all
  // of it
  for (const Polarisation polarisation : kBoth) {
    const SlabLayer quarter = lossless(4, 0.25);
    const SlabLayer half = lossless(4, 0.5);
    CHECK(std::abs(slab_loss_db({&quarter, 1}, kSlabFrequency, 1, polarisation) + 10 * std::log10(0.64)) <=
          1e-9);
    CHECK(std::abs(slab_loss_db({&quarter, 1}, kSlabFrequency, 1, polarisation) - 1.938200) <= 5e-7);
    CHECK(slab_loss_db({&half, 1}, kSlabFrequency, 1, polarisation) <= 1e-9);
  }
}

TEST_CASE("one layer is the closed form, several are the transfer matrix") {
  double closed = 0;
  double matrix = 0;
  for (std::uint64_t stream = 0; stream < 2000; ++stream) {
    const auto layers = random_stack(stream);
    const double cos = random_cos(stream);
    for (const Polarisation polarisation : kBoth) {
      const double one_db = slab_loss_db({layers.data(), 1}, kSlabFrequency, cos, polarisation);
      closed =
          std::max(closed, std::abs(one_db - closed_form_db(layers[0], kSlabFrequency, cos, polarisation)));
      const double all_db = slab_loss_db(layers, kSlabFrequency, cos, polarisation);
      matrix = std::max(matrix, std::abs(all_db - matrix_db(layers, kSlabFrequency, cos, polarisation)));
    }
  }
  CHECK(closed <= 1e-9);
  CHECK(matrix <= 1e-9);
  MESSAGE("2000 random stacks, worst deviation in dB: closed form " << closed << ", transfer matrix "
                                                                    << matrix);
}

TEST_CASE("lossless stacks keep the power") {
  double largest = 0;
  for (std::uint64_t stream = 0; stream < 1000; ++stream) {
    auto layers = random_stack(stream);
    for (SlabLayer& layer : layers) layer.permittivity = layer.permittivity.real();
    for (const Polarisation polarisation : kBoth) {
      const SlabPower power = slab_power(layers, kSlabFrequency, random_cos(stream), polarisation);
      largest = std::max(largest, std::abs(power.transmitted + power.reflected - 1));
    }
  }
  CHECK(largest <= 1e-9);
  MESSAGE("1000 lossless stacks, worst unbalanced share of power: " << largest);
}

TEST_CASE("lossy stacks absorb, and never give") {
  for (std::uint64_t stream = 0; stream < 200; ++stream) {
    for (const Polarisation polarisation : kBoth) {
      const SlabPower power =
          slab_power(random_stack(stream), kSlabFrequency, random_cos(stream), polarisation);
      CHECK(power.absorbed > 0);
      CHECK(std::abs(power.transmitted + power.reflected + power.absorbed - 1) <= 1e-12);
    }
  }
}

TEST_CASE("a stack turned round loses the same") {
  double largest = 0;
  for (std::uint64_t stream = 0; stream < 1000; ++stream) {
    auto layers = random_stack(stream);
    const double cos = random_cos(stream);
    for (const Polarisation polarisation : kBoth) {
      const double there_db = slab_loss_db(layers, kSlabFrequency, cos, polarisation);
      std::ranges::reverse(layers);
      largest =
          std::max(largest, std::abs(there_db - slab_loss_db(layers, kSlabFrequency, cos, polarisation)));
    }
  }
  CHECK(largest <= 1e-9);
  MESSAGE("1000 stacks turned round, worst difference in dB: " << largest);
}

TEST_CASE("the mean of both polarisations is taken in power") {
  for (std::uint64_t stream = 0; stream < 200; ++stream) {
    const auto layers = random_stack(stream);
    const double cos = random_cos(stream);
    const double te = slab_power(layers, kSlabFrequency, cos, Polarisation::te).transmitted;
    const double tm = slab_power(layers, kSlabFrequency, cos, Polarisation::tm).transmitted;
    CHECK(std::abs(mean_slab_loss_db(layers, kSlabFrequency, cos) + 10 * std::log10((te + tm) / 2)) <= 1e-9);
    CHECK(std::abs(mean_slab_loss_db(layers, kSlabFrequency, 1) -
                   slab_loss_db(layers, kSlabFrequency, 1, Polarisation::te)) <= 1e-9);
  }
}

TEST_CASE("thick metal has a finite loss") {
  const SlabLayer metal{relative_permittivity(1, 0, 1e7, 0, kSlabFrequency), 0.01};
  const SlabLayer thickest{relative_permittivity(1, 0, 1e7, 0, kFrequencyHz.max), kLayerThicknessM.max};
  const SlabLayer worst{{1, -kDielectricLoss.max}, kLayerThicknessM.max};
  // Of an endless body, 20 log10(e) 2 pi / lambda of the refractive index's imaginary part (ITU-R P.2040).
  const double rate_db_per_m = -20 * std::numbers::log10e * 2 * kPi / wavelength_m(kSlabFrequency) *
                               std::sqrt(metal.permittivity).imag();
  for (const double cos : {0.0, 0.5, 1.0}) {
    for (const Polarisation polarisation : kBoth) {
      const double loss_db = slab_loss_db({&metal, 1}, kSlabFrequency, cos, polarisation);
      CHECK(loss_db > rate_db_per_m * metal.thickness_m);  // the faces reflect on top of it
      CHECK(loss_db < rate_db_per_m * metal.thickness_m + 250);
      CHECK(std::isfinite(slab_loss_db({&thickest, 1}, kFrequencyHz.max, cos, polarisation)));
      CHECK(std::isfinite(slab_loss_db({&worst, 1}, kFrequencyHz.max, cos, polarisation)));
    }
    CHECK(std::isfinite(mean_slab_loss_db({&metal, 1}, kSlabFrequency, cos)));
    CHECK(std::isfinite(mean_slab_loss_db({&worst, 1}, kFrequencyHz.max, cos)));
    const SlabPower power = slab_power({&metal, 1}, kSlabFrequency, cos, Polarisation::te);
    CHECK(power.transmitted == 0);
    CHECK(power.reflected > 0.999);
  }
  const std::vector<SlabLayer> cabinet{metal, {{1, 0}, 0.5}, metal};
  CHECK(std::isfinite(mean_slab_loss_db(cabinet, kSlabFrequency, 0.7)));
}

TEST_CASE("thin aluminium") {
  // an ideal sheet of 7 um at 868 MHz shields over 90 dB; computed with the constants of ITU-R P.2040 for
  // metal
  const SlabLayer foil{relative_permittivity(1, 0, 3.5e7, 0, 868e6), 7e-6};
  CHECK(slab_loss_db({&foil, 1}, 868e6, 1, Polarisation::te) > 90);
  CHECK(std::abs(slab_loss_db({&foil, 1}, 868e6, 1, Polarisation::te) -
                 closed_form_db(foil, 868e6, 1, Polarisation::te)) <= 1e-6);
}

TEST_CASE("nothing loses nothing") {
  const SlabLayer air{{1, 0}, 0.3};
  const SlabLayer no_thickness{{5, -2}, 0};
  for (const double cos : {0.0, 0.3, 1.0}) {
    for (const Polarisation polarisation : kBoth) {
      CHECK(slab_loss_db({}, kSlabFrequency, cos, polarisation) == 0);
      CHECK(slab_loss_db({&air, 1}, kSlabFrequency, cos, polarisation) <= 1e-9);
      CHECK(slab_loss_db({&no_thickness, 1}, kSlabFrequency, cos, polarisation) <= 1e-9);
    }
    CHECK(mean_slab_loss_db({}, kSlabFrequency, cos) == 0);
  }
}

TEST_CASE("beyond 85 degrees the loss at 85 degrees holds; a cosine rounded over 1 is 1") {
  const SlabLayer brick{{3.91, -0.48}, 0.1};
  const double edge_cos = std::cos(kMaxIncidenceDeg * kPi / 180);
  const double edge_db = mean_slab_loss_db({&brick, 1}, kSlabFrequency, edge_cos);
  CHECK(mean_slab_loss_db({&brick, 1}, kSlabFrequency, 0) == edge_db);
  CHECK(mean_slab_loss_db({&brick, 1}, kSlabFrequency, edge_cos / 2) == edge_db);
  CHECK(slab_loss_db({&brick, 1}, kSlabFrequency, 0, Polarisation::te) ==
        slab_loss_db({&brick, 1}, kSlabFrequency, edge_cos, Polarisation::te));
  CHECK(mean_slab_loss_db({&brick, 1}, kSlabFrequency, std::cos(1.4)) != edge_db);
  CHECK(mean_slab_loss_db({&brick, 1}, kSlabFrequency, 1 + 4e-16) ==
        mean_slab_loss_db({&brick, 1}, kSlabFrequency, 1));
}

TEST_CASE("slab loss: edges of the ranges") {
  const auto all = [](SlabLayer layer, double frequency_hz, double cos) {
    const SlabPower power = slab_power({&layer, 1}, frequency_hz, cos, Polarisation::tm);
    return slab_loss_db({&layer, 1}, frequency_hz, cos, Polarisation::te) +
           mean_slab_loss_db({&layer, 1}, frequency_hz, cos) + power.transmitted + power.reflected;
  };
  using testing::check_edges;
  check_edges(kFrequencyHz, [&](double value) { return all({{5, -1}, 0.1}, value, 0.5); });
  check_edges(kIncidenceCos, [&](double value) { return all({{5, -1}, 0.1}, 1e9, value); });
  check_edges(kLayerThicknessM, [&](double value) { return all({{5, -1}, value}, 1e9, 0.5); });
  check_edges(kRelativePermittivity, [&](double value) { return all({{value, -1}, 0.1}, 1e9, 0.5); });
  check_edges(kDielectricLoss, [&](double value) { return all({{5, -value}, 0.1}, 1e9, 0.5); });

  // each function checks for itself
  const SlabLayer gaining{{5, 1}, 0.1};
  CHECK_THROWS_AS(slab_loss_db({&gaining, 1}, 1e9, 1, Polarisation::tm), DomainError);
  CHECK_THROWS_AS(mean_slab_loss_db({&gaining, 1}, 1e9, 1), DomainError);
  CHECK_THROWS_AS(slab_power({&gaining, 1}, 1e9, 1, Polarisation::te), DomainError);
  CHECK_THROWS_AS(slab_loss_db({}, 1e9, -0.1, Polarisation::tm), DomainError);
  CHECK_THROWS_AS(mean_slab_loss_db({}, 1, 1), DomainError);
}

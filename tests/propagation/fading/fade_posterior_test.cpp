#include "linkmargin/propagation/fading/fade_posterior.hpp"

#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/infinity.hpp"
#include "fixtures/range_edges.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace linkmargin;

namespace {

constexpr double kPosteriorRatios[] = {-kInfinity, 0, 3, 10, 20};
constexpr double kPosteriorSigmas[] = {0.3, 2, 6, 15};
constexpr double kReadings[] = {-40, -20, -8, 0, 6, 15};

using Moments = FadePosterior::Moments;

/// Mean and deviation for a density given up to a factor, by adaptive quadrature in pieces.
template <typename Density>
Moments by_quadrature(Density density, double low_db, double high_db, double piece_db) {
  double sums[3] = {};
  for (double from_db = low_db; from_db < high_db; from_db += piece_db) {
    for (int power = 0; power < 3; ++power) {
      const auto integrand = [&](double value_db) { return std::pow(value_db, power) * density(value_db); };
      sums[power] += boost::math::quadrature::gauss_kronrod<double, 21>::integrate(
          integrand, from_db, std::min(from_db + piece_db, high_db), 6, 1e-10);
    }
  }
  const double mean_db = sums[1] / sums[0];
  return {mean_db, std::sqrt(std::max(0.0, sums[2] / sums[0] - mean_db * mean_db))};
}

double apart(Moments one, Moments other) {
  return std::max(std::abs(one.mean_db - other.mean_db), std::abs(one.deviation_db - other.deviation_db));
}

double prior(double shadow_db, double sigma_db) {
  return std::exp(-shadow_db * shadow_db / (2 * sigma_db * sigma_db));
}

double piece_db(double k_db, double sigma_db) {
  return std::min(sigma_db, rician_deviation_db(k_db));
}

/// Chance of a reading on that side of the bound once the local mean is known.
double beyond(ReadingKind kind, double k_db, double fade_db) {
  const double under = rician_cdf(k_db, fade_db);
  return kind == ReadingKind::at_most ? under : 1 - under;
}

}  // namespace

TEST_CASE("posterior of an exact reading against adaptive quadrature") {
  double worst = 0;
  for (const double k_db : kPosteriorRatios) {
    for (const double sigma_db : kPosteriorSigmas) {
      for (const double reading_db : kReadings) {
        CAPTURE(k_db);
        CAPTURE(sigma_db);
        CAPTURE(reading_db);
        const FadePosterior posterior(k_db, sigma_db, reading_db);
        const double centre_db = posterior.shadow().mean_db;  // moments about it, for their digits
        const auto density = [&](double off_db) {
          const double shadow_db = centre_db + off_db;
          return prior(shadow_db, sigma_db) / prior(centre_db, sigma_db) *
                 rician_density_per_db(k_db, reading_db - shadow_db);
        };
        const double width_db = 12 * posterior.shadow().deviation_db;
        const double deep_db =
            std::max(width_db, std::min(130.0, 12 * sigma_db));  // the long tail of deep fades
        Moments expected = by_quadrature(density, -width_db, deep_db, piece_db(k_db, sigma_db));
        expected.mean_db += centre_db;
        const double off = apart(posterior.shadow(), expected);
        if (!(off <= worst)) worst = off;
        CHECK(std::abs(posterior.shadow().mean_db + posterior.fade().mean_db - reading_db) <= 1e-9);
        CHECK(std::abs(posterior.shadow().deviation_db - posterior.fade().deviation_db) <= 1e-9);
      }
    }
  }
  MESSAGE("posterior of exact readings, worst in dB: " << worst);
  CHECK(worst <= 1e-5);
}

TEST_CASE("posterior of a bound against adaptive quadrature") {
  double worst = 0;
  for (const ReadingKind kind : {ReadingKind::at_most, ReadingKind::at_least}) {
    for (const double k_db : {-kInfinity, 3.0, 10.0}) {
      for (const double sigma_db : kPosteriorSigmas) {
        for (const double bound_db : {-20.0, -8.0, 0.0, 6.0}) {
          CAPTURE(k_db);
          CAPTURE(sigma_db);
          CAPTURE(bound_db);
          const FadePosterior posterior(k_db, sigma_db, bound_db, kind);
          const double sign = kind == ReadingKind::at_most ? 1 : -1;
          const auto shadow = [&](double shadow_db) {
            return prior(shadow_db, sigma_db) * beyond(kind, k_db, bound_db - shadow_db);
          };
          const auto fade = [&](double fade_db) {
            return rician_density_per_db(k_db, fade_db) * normal_cdf(sign * (bound_db - fade_db) / sigma_db);
          };
          const double piece = piece_db(k_db, sigma_db);
          const double shadow_off =
              apart(posterior.shadow(), by_quadrature(shadow, -10 * sigma_db, 10 * sigma_db, piece));
          const double fade_off = apart(posterior.fade(), by_quadrature(fade, -130, 20, piece));
          if (!(shadow_off <= worst)) worst = shadow_off;
          if (!(fade_off <= worst)) worst = fade_off;
        }
      }
    }
  }
  MESSAGE("posterior of bounds, worst in dB: " << worst);
  CHECK(worst <= 1e-3);
}

TEST_CASE("nodes are a distribution and keep to the reading") {
  for (const ReadingKind kind : {ReadingKind::exact, ReadingKind::at_most, ReadingKind::at_least}) {
    for (const double sigma_db : {0.0, 5.0}) {
      for (const double reading_db : {-200.0, -60.0, -3.0, 60.0, 200.0}) {
        CAPTURE(sigma_db);
        CAPTURE(reading_db);
        const FadePosterior posterior(2, sigma_db, reading_db, kind);
        double sum = 0;
        for (const auto& node : posterior.nodes()) {
          const double level_db = node.shadow_db + node.fade_db;
          if (kind == ReadingKind::exact) CHECK(std::abs(level_db - reading_db) <= 1e-9);
          if (kind == ReadingKind::at_most) CHECK(level_db <= reading_db + 1e-9);
          if (kind == ReadingKind::at_least) CHECK(level_db >= reading_db - 1e-9);
          CHECK(node.chance >= 0);
          sum += node.chance;
        }
        CHECK(std::abs(sum - 1) <= 1e-7);
        CHECK(std::isfinite(posterior.fade().deviation_db));
      }
    }
  }
}

TEST_CASE("a bound that says nothing leaves the prior") {
  const FadePosterior posterior(3, 6, -150, ReadingKind::at_least);
  CHECK(std::abs(posterior.shadow().mean_db) <= 1e-4);
  CHECK(std::abs(posterior.shadow().deviation_db - 6) <= 1e-4);
  CHECK(std::abs(posterior.fade().mean_db - rician_mean_db(3)) <= 1e-4);
  CHECK(std::abs(posterior.fade().deviation_db - rician_deviation_db(3)) <= 1e-4);
}

TEST_CASE("a weak reading is blamed on both causes by their spreads") {
  const FadePosterior sure(0, 2, -15), unsure(0, 10, -15);
  CHECK(sure.fade().mean_db < -11);   // a well known local mean: it must be a fade
  CHECK(unsure.fade().mean_db > -7);  // a badly known one: mostly the walls
  CHECK(shadow_density_per_db(0, 10, -15, unsure.shadow().mean_db) >
        10 * shadow_density_per_db(0, 10, -15, 5));
  double sum = 0;
  for (double shadow_db = -60; shadow_db <= 40; shadow_db += 0.5)
    sum += 0.5 * shadow_density_per_db(0, 10, -15, shadow_db);
  CHECK(std::abs(sum - 1) <= 1e-6);
}

TEST_CASE("chance that the local mean reaches a level, against midpoint sums of the densities") {
  constexpr double step_db = 0.05;
  constexpr int steps = 2400;  // from 60 dB down to -60 dB
  double worst = 0;
  for (const double k_db : {-kInfinity, 2.0, 7.0}) {
    for (const double sigma_db : {2.0, 6.0, 10.0}) {
      for (const double reading_db : {-15.0, -6.0, 3.0}) {
        const FadePosterior exact(k_db, sigma_db, reading_db);
        const FadePosterior bound(k_db, sigma_db, reading_db, ReadingKind::at_most);
        std::vector<double> exact_over{0}, bound_over{0};  // over 60 dB less index steps, up to a factor
        for (int index = 0; index < steps; ++index) {
          const double shadow_db = 60 - step_db * (index + 0.5), fade_db = reading_db - shadow_db;
          const double weight = prior(shadow_db, sigma_db);
          exact_over.push_back(exact_over.back() + weight * rician_density_per_db(k_db, fade_db));
          bound_over.push_back(bound_over.back() + weight * rician_cdf(k_db, fade_db));
        }
        for (std::size_t index = 0; index <= steps; index += 7) {
          const double level_db = 60 - step_db * static_cast<double>(index);
          for (const double off : {exact.shadow_reaches(level_db) - exact_over[index] / exact_over.back(),
                                   bound.shadow_reaches(level_db) - bound_over[index] / bound_over.back()}) {
            if (!(std::abs(off) <= worst)) worst = std::abs(off);
          }
        }
      }
    }
  }
  MESSAGE("chance of the local mean, worst: " << worst);
  CHECK(worst <= 0.005);
}

TEST_CASE("without fading all is shadow, and a bound cuts a normal distribution") {
  const FadePosterior exact(kInfinity, 6, -9);
  CHECK(exact.shadow().mean_db == -9);
  CHECK(exact.shadow().deviation_db == 0);
  CHECK(exact.fade().mean_db == 0);
  CHECK(exact.shadow_reaches(-9) == 1);
  CHECK(exact.shadow_reaches(-8.9) == 0);
  for (const double bound_db : {-60.0, -9.0, 0.0, 6.0}) {
    CAPTURE(bound_db);
    const FadePosterior bound(kInfinity, 6, bound_db, ReadingKind::at_most);
    const auto cut = [&](double shadow_db) {
      return shadow_db <= bound_db ? std::exp((bound_db * bound_db - shadow_db * shadow_db) / 72) : 0;
    };
    const Moments expected = by_quadrature(cut, bound_db - 60, bound_db, 1);
    CHECK(apart(bound.shadow(), expected) <= 1e-3);
    CHECK(bound.fade().mean_db == 0);
    CHECK(bound.fade().deviation_db == 0);
  }
}

TEST_CASE("fade posterior: edges of the ranges") {
  testing::check_edges(kReadingDb, [](double value) { return FadePosterior(3, 6, value).fade().mean_db; });
  testing::check_edges(kLocalMeanSigmaDb,
                       [](double value) { return FadePosterior(3, value, -5).fade().mean_db; });
  CHECK_THROWS_AS(FadePosterior(std::numeric_limits<double>::quiet_NaN(), 6, 0), DomainError);
  CHECK_THROWS_AS(shadow_density_per_db(3, 0, -5, -2), DomainError);
}

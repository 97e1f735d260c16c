#include "linkmargin/propagation/fading/heavy_tail.hpp"

#include "linkmargin/propagation/fading/shadowing.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

/// Log of the chance that Student's t with 4 degrees of freedom lies above: closed form of its distribution,
/// F(x) = 1/2 + 3/8 u (1 - u^2 / 12), u = x / sqrt(1 + x^2 / 4) (integral of the density; textbook).
double log_chance_above(double bound) {
  const double u = -bound / std::sqrt(1 + bound * bound / 4);
  return std::log(0.5 + 0.375 * u * (1 - u * u / 12));
}

}  // namespace

TEST_CASE("a value near its prediction counts in full, one far off hardly pulls") {
  CHECK(value_term(0).weight == doctest::Approx(1.25));
  CHECK(value_term(1).weight == doctest::Approx(1.0));
  CHECK(value_term(2).pull == 2);
  const auto force = [](double x) { return value_term(x).weight * value_term(x).pull; };
  CHECK(force(2) > force(1));   // the farther the more ...
  CHECK(force(10) < force(2));  // ... up to twice the deviation; beyond, less and less
  CHECK(force(1000) < 0.01);
  CHECK_THROWS_AS(value_term(2e6), DomainError);
  CHECK_THROWS_AS(value_term(std::nan("")), DomainError);
}

TEST_CASE("a bound pulls by the slope of its log likelihood") {
  constexpr double step = 1e-4;
  for (const double x : {-8.0, -3.0, -1.0, 0.0, 0.5, 2.0, 6.0, 50.0}) {
    CAPTURE(x);
    // By the prediction, which moves the bound's deviations the other way.
    const double slope = (log_chance_above(x - step) - log_chance_above(x + step)) / (2 * step);
    const HeavyTailTerm term = lower_bound_term(x);
    CHECK(term.weight > 0);
    CHECK(std::abs(term.weight * term.pull - slope) < 1e-6);
    const double curve =
        (log_chance_above(x - step) - 2 * log_chance_above(x) + log_chance_above(x + step)) / (step * step);
    CHECK(std::abs(lower_bound_information(x) - std::max(0.0, -curve)) < 1e-5);
  }
}

TEST_CASE("a bound that is kept says nothing; one that is broken pulls like a value there") {
  CHECK(lower_bound_term(-20).weight * lower_bound_term(-20).pull < 1e-4);
  CHECK(lower_bound_information(-20) < 1e-4);
  const auto force = [](const HeavyTailTerm& term) { return term.weight * term.pull; };
  CHECK(force(lower_bound_term(100)) == doctest::Approx(force(value_term(100))).epsilon(0.25));
  CHECK_THROWS_AS(lower_bound_term(std::nan("")), DomainError);
  CHECK_THROWS_AS(lower_bound_information(-2e6), DomainError);
}

TEST_CASE("good readings' weighted squares come to the mean that the scale is held to") {
  // Integral of 5 x^2 / (4 + x^2) over the normal density: 5 - 20 sqrt(pi / 8) exp(2) erfc(sqrt 2).
  const double exact = 5 - 20 * std::sqrt(std::acos(-1.0) / 8) * std::exp(2.0) * std::erfc(std::sqrt(2.0));
  CHECK(std::abs(mean_weighted_square() - exact) < 1e-10);
}

TEST_CASE(
    "the robust scale is the deviation of normal values, and a quarter of outliers cannot carry it off") {
  std::vector<double> deviations;
  for (int i = 0; i < 999; ++i) deviations.push_back(2.5 * normal_quantile((i + 0.5) / 999));
  CHECK(std::abs(robust_scale(deviations) - 2.5) < 0.01);
  CHECK(robust_scale(deviations, 0.8) > 2.5);  // what a fit followed shows less than there is
  std::vector<double> few{-0.5, 0.4, 0.7, -9};
  CHECK(robust_scale(few) < 2);
  few.back() = -9000;
  CHECK(robust_scale(few) < 2.1);
}

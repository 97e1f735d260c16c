#include "linkmargin/propagation/fading/spot_sequence.hpp"

#include "linkmargin/propagation/fading/composite_fading.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace linkmargin;

TEST_CASE("a spot far from those that were read is faded as any, about the mean that they tell of") {
  constexpr double sigma_db = 0.2;  // the local mean is known: the spots read tell nothing more
  const std::vector<SpotLevel> read{{.at = {0, 0, 0}, .over_predicted_db = -3},
                                    {.at = {40.25, 0, 0}, .over_predicted_db = 1}};
  const std::vector<SpotOffset> left{{-60.5, 0, 0}};
  for (const Scattering scattering : {Scattering::plane, Scattering::space}) {
    for (const double k_db : {-10.0, 0.0, 4.0, 9.0}) {
      const SpotSequence sequence(scattering, k_db, sigma_db, read, left, 2000);
      for (const double level_db : {-8.0, -3.0, 0.0, 2.0}) {
        CAPTURE(k_db);
        CAPTURE(level_db);
        const double wanted = 1 - CompositeFading(k_db).cdf(level_db, sigma_db);
        CHECK(std::abs(sequence.first_to_reach(level_db).front() - wanted) <= 0.02);
      }
    }
  }
}

TEST_CASE("where nothing was read the local mean is as it was predicted") {
  const std::vector<SpotOffset> left{{0, 0, 0}};
  for (const double sigma_db : {2.0, 8.0}) {
    const SpotSequence sequence(Scattering::plane, 0, sigma_db, {}, left);
    CHECK(std::abs(sequence.shadow().mean_db) <= 1e-9);
    CHECK(std::abs(sequence.shadow().deviation_db - sigma_db) <= 1e-6);
    // A normal law, on nodes a quarter of its deviation apart: half of one node may go either way.
    for (const double score : {-2.125, -0.625, 0.375, 1.125, 2.625})
      CHECK(std::abs(sequence.shadow_reaches(score * sigma_db) - std::erfc(score / std::sqrt(2.0)) / 2) <=
            0.002);
  }
}

TEST_CASE("with an infinite K every spot is as the local mean") {
  const std::vector<SpotLevel> read{{.at = {0, 0, 0}, .over_predicted_db = -15}};
  const std::vector<SpotOffset> left{{0.25, 0, 0}};
  const SpotSequence sequence(Scattering::space, std::numeric_limits<double>::infinity(), 6, read, left);
  CHECK(std::abs(sequence.shadow().mean_db + 15) <= 0.75);  // half the distance of two nodes
  CHECK(sequence.first_to_reach(-20).front() >= 0.99);
  CHECK(sequence.first_to_reach(-10).front() <= 0.01);
}

TEST_CASE("spots are worth reading as long as one more gains more than it costs") {
  CHECK(spots_worth_reading(std::vector<double>{0.5, 0.25, 0.1}, 0.05) == 3);
  // The third is read with a chance of 0.25 and finds something with 0.01.
  CHECK(spots_worth_reading(std::vector<double>{0.5, 0.25, 0.01}, 0.05) == 2);
  CHECK(spots_worth_reading(std::vector<double>{0.04, 0.03}, 0.05) == 0);
  // The first alone is not worth it, both together are.
  CHECK(spots_worth_reading(std::vector<double>{0.04, 0.5}, 0.05) == 2);
  CHECK(spots_worth_reading({}, 0.05) == 0);
}

#include "linkmargin/propagation/fading/best_spot.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/fading.hpp"
#include "linkmargin/propagation/fading/packed_numbers.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/best_spot_writing.hpp"
#include "fixtures/infinity.hpp"
#include "fixtures/published_table.hpp"
#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <limits>
#include <optional>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

constexpr SpotShape kAllShapes[] = {SpotShape::line, SpotShape::disc, SpotShape::four, SpotShape::step};
constexpr double kSpotRatios[] = {-kInfinity, -3, 0, 1.5, 3, 5, 8, 12, 17};
constexpr double kDistances[] = {0, 0.02, 0.0625, 0.1, 0.2, 0.25, 0.45, 0.7, 1.1, 1.5, 3};

}  // namespace

TEST_CASE("the table is the file that the generator wrote, number by number") {
  using namespace best_spot_table;
  std::vector<int> values;
  std::uint64_t sum = 0xcbf29ce484222325;  // FNV-1a over the numbers
  for (const float amplitude : amplitudes()) {
    const int value = static_cast<int>(std::lround(static_cast<double>(amplitude) * kScale));
    CHECK(static_cast<float>(value / kScale) == amplitude);
    sum = (sum ^ static_cast<std::uint64_t>(value)) * 0x100000001b3;
    values.push_back(value);
  }
  CHECK(sum == 0x95be2a6b3494e0b3);  // of the table generated on 65536 samples, seed 20260868
  std::ifstream in(LINKMARGIN_DATA "/best-spot-table.csv", std::ios::binary);
  std::ostringstream file, written;
  file << in.rdbuf();
  write_table(values, 65536, 20260868, written);
  CHECK(written.str() == file.str());
}

TEST_CASE("numbers come out as they were packed") {
  using namespace packed_numbers;
  std::vector<int> values;
  for (int i = 0; i < 3000; ++i) values.push_back(i % 7 == 0 ? 2000 - i / 2 : i % 5 == 0 ? -i / 3 : i / 50);
  for (const Strides strides : {best_spot_table::kStrides, Strides{1, 10}}) {
    for (const std::vector<int>& numbers : {values, {}, {4049}, {-4050}, {44, -44, 45, -45}}) {
      const std::string text = packed(numbers, strides);
      const std::string_view whole[] = {text};
      CHECK(unpacked(whole, strides) == numbers);
      const std::string_view cut[] = {whole[0].substr(0, text.size() / 3), whole[0].substr(text.size() / 3)};
      CHECK(unpacked(cut, strides) == numbers);
    }
    for (const int far : {4050, -4051})
      CHECK_THROWS_AS(packed(std::vector{far}, strides), std::invalid_argument);
  }
}

TEST_CASE("correlation of the diffuse field") {
  const auto table = PublishedTable::read("field_correlation.csv", 9);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    const double correlation = field_correlation(Scattering::plane, row.number("r_over_lambda"));
    CHECK(std::abs(correlation - row.number("correlation")) <= row.number("tolerance"));
  }
  // first zero at 868.3 MHz, computed: 132.1 mm
  CHECK(std::abs(0.382740 * wavelength_m(868.3e6) - 0.1321) <= 0.00006);
  CHECK(field_correlation(Scattering::space, 0) == 1);
  CHECK(std::abs(field_correlation(Scattering::space, 0.5)) <= 1e-15);
  CHECK(std::abs(field_correlation(Scattering::space, 0.25) - 2 / kPi) <= 1e-15);
}

TEST_CASE("a blind step in Rayleigh fading is Rician about what is left of the present field") {
  // E1 = rho E0 + rest: steady power rho^2 p0, diffuse 1 - rho^2. Exact.
  double worst = 0, worst_within = 0;  // anywhere; a sixteenth to one wavelength, from no more than 3 dB
  for (const Scattering scattering : {Scattering::plane, Scattering::space}) {
    for (const double distance : {0.03, 0.0625, 0.1, 0.15, 0.25, 0.4, 0.5, 0.7, 0.9, 1.2, 1.5}) {
      const double rho = field_correlation(scattering, distance);
      for (const double present_db : {-30.0, -14.0, -10.0, -5.0, -2.0, 0.0, 3.0, 6.0}) {
        const double steady = rho * rho * std::pow(10, present_db / 10), diffuse = 1 - rho * rho;
        const double k_db = 10 * std::log10(steady / diffuse);
        for (double needed_db = -20; needed_db <= 8; needed_db += 1) {
          const double expected = 1 - rician_cdf(k_db, needed_db - 10 * std::log10(steady + diffuse));
          const double chance =
              best_spot_reaches(SpotShape::step, scattering, -kInfinity, distance, present_db, needed_db);
          const double apart = std::abs(chance - expected);
          if (!(apart <= worst)) worst = apart;
          const bool within = distance >= 0.0625 && distance <= 1 && present_db <= 3;
          if (within && !(apart <= worst_within)) worst_within = apart;
        }
      }
    }
  }
  MESSAGE("blind step in Rayleigh fading, worst in probability: " << worst << ", " << worst_within);
  CHECK(worst <= 0.03);
  CHECK(worst_within <= 0.01);
}

TEST_CASE("without a move and without knowledge the best spot has the law of fading") {
  double worst = 0;
  for (const double k_db : kSpotRatios) {
    if (k_db > 12) continue;  // scaled levels: only near the law
    for (const SpotShape shape : kAllShapes) {
      for (double level_db = -20; level_db <= 8; level_db += 0.5) {
        const double chance = best_spot_reaches(shape, Scattering::plane, k_db, 0, {}, level_db);
        worst = std::max(worst, std::abs(chance - 1 + rician_cdf(k_db, level_db)));
      }
    }
  }
  MESSAGE("best spot at distance 0, worst in probability: " << worst);
  CHECK(worst <= 0.01);
}

TEST_CASE("the mean over present levels is the chance without one") {
  double worst = 0;
  for (const double k_db : kSpotRatios) {
    if (k_db > 12) continue;
    for (const SpotShape shape : kAllShapes) {
      for (const double distance : {0.0625, 0.15, 0.25, 0.5, 1.0, 1.5}) {
        const BestSpot best(shape, Scattering::space, k_db, distance);
        for (double needed_db = -10; needed_db <= 6; needed_db += 2) {
          double mean = 0;
          for (int index = 0; index < 400; ++index)
            mean += best.reaches(rician_quantile_db(k_db, (index + 0.5) / 400), needed_db) / 400;
          worst = std::max(worst, std::abs(mean - best.reaches({}, needed_db)));
        }
      }
    }
  }
  MESSAGE("known against unknown present level, worst in probability: " << worst);
  CHECK(worst <= 0.015);
}

TEST_CASE("more is never likelier, staying is sure, moving nothing changes nothing") {
  for (const SpotShape shape : kAllShapes) {
    for (const double k_db : kSpotRatios) {
      for (const double distance : kDistances) {
        const BestSpot best(shape, Scattering::plane, k_db, distance);
        for (const double present_db : {-kInfinity, -40.0, -10.0, -1.0, 4.0, 11.0, 30.0}) {
          CAPTURE(static_cast<int>(shape));
          CAPTURE(k_db);
          CAPTURE(distance);
          CAPTURE(present_db);
          double before = 1;
          for (double needed_db = -60; needed_db <= 35; needed_db += 0.5) {
            const double chance = best.reaches(present_db, needed_db);
            CHECK(chance <= before);
            CHECK(chance >= 0);
            if (shape != SpotShape::step && needed_db <= present_db) CHECK(chance == 1);
            before = chance;
          }
          CHECK(before <= 1e-6);
        }
        CHECK(best.reaches({}, -200) > 1 - 1e-6);
      }
    }
    for (const double present_db : {-12.0, -3.0, 2.0}) {
      CHECK(best_spot_reaches(shape, Scattering::plane, 3, 0, present_db, present_db - 0.05) > 0.99);
      CHECK(best_spot_reaches(shape, Scattering::plane, 3, 0, present_db, present_db + 0.05) < 0.001);
    }
  }
}

TEST_CASE("a wider search is better, and a disc better than a line") {
  double worst = 0;
  for (const Scattering scattering : {Scattering::plane, Scattering::space}) {
    for (const double k_db : kSpotRatios) {
      for (const std::optional<double> present_db :
           {std::optional<double>{}, {-15.0}, {-6.0}, {0.0}, {4.0}}) {
        for (double needed_db = -9; needed_db <= 8; needed_db += 1) {
          double line_before = 0, disc_before = 0;
          for (double distance = 0.01; distance <= 1.5; distance += 0.01) {
            const double line =
                best_spot_reaches(SpotShape::line, scattering, k_db, distance, present_db, needed_db);
            const double disc =
                best_spot_reaches(SpotShape::disc, scattering, k_db, distance, present_db, needed_db);
            worst = std::max({worst, line_before - line, disc_before - disc, line - disc});
            line_before = line;
            disc_before = disc;
          }
        }
      }
    }
  }
  MESSAGE("best spot, largest loss of chance where there should be none: " << worst);
  CHECK(worst <= 0.01);
}

TEST_CASE("past the last node of the table the score goes on in amplitude as between the last two") {
  const double last = best_spot_table::kScores.back();
  const double before = best_spot_table::kScores[best_spot_table::kScores.size() - 2];
  for (const SpotShape shape : kAllShapes) {
    const BestSpot best(shape, Scattering::plane, 2, 0.25);
    for (const std::optional<double> present_db : {std::optional<double>{}, {-12.0}}) {
      const auto amplitude = [&](double score) {
        return std::pow(10, best.quantile_db(present_db, normal_cdf(score)) / 20);
      };
      const double at_last = amplitude(last), step = at_last - amplitude(before);
      for (const double steps : {0.5, 1.0, 2.0}) {
        const double chance = best.reaches(present_db, 20 * std::log10(at_last + steps * step));
        const double wanted = normal_cdf(-(last + steps * (last - before)));
        CHECK(std::abs(chance / wanted - 1) <= 1e-4);
      }
    }
  }
}

TEST_CASE("quantiles turn the chance round") {
  const BestSpot best(SpotShape::disc, Scattering::plane, 2, 0.25);
  for (const std::optional<double> present_db : {std::optional<double>{}, {-12.0}, {1.0}})
    for (const double chance : {0.02, 0.1, 0.5, 0.9, 0.99})
      CHECK(std::abs(1 - best.reaches(present_db, best.quantile_db(present_db, chance)) - chance) <= 1e-5);
  CHECK(best.quantile_db(5.0, 1e-6) >= 5 - 1e-6);
}

TEST_CASE("best spot: edges of the ranges") {
  constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  const auto reaches = [](double distance, double present_db, double needed_db) {
    return best_spot_reaches(SpotShape::line, Scattering::plane, 3, distance, present_db, needed_db);
  };
  testing::check_edges(kSpotRadius, [&](double value) { return reaches(value, -3, 0); });
  testing::check_edges(kSpotRadius, [](double value) { return field_correlation(Scattering::space, value); });
  testing::check_edges(kSpotLevelDb, [&](double value) { return reaches(0.2, -3, value); });
  testing::check_edges(kChance, [](double value) {
    return BestSpot(SpotShape::line, Scattering::plane, 3, 0.2).quantile_db({}, value);
  });
  CHECK_THROWS_AS(reaches(0.2, kNan, 0), DomainError);
  CHECK_THROWS_AS(reaches(0.2, 1001, 0), DomainError);
  CHECK_THROWS_AS(best_spot_reaches(SpotShape::line, Scattering::plane, kNan, 0.2, {}, 0), DomainError);
}

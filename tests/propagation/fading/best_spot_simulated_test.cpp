/// The table of best spots against simulations that it was not made from: stored ones, and one run afresh.
#include "linkmargin/base/random.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/best_spot.hpp"
#include "linkmargin/propagation/fading/fading.hpp"

#include "fixtures/infinity.hpp"
#include "fixtures/published_table.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>
#include <string>
#include <vector>

using namespace linkmargin;
using linkmargin::testing::PublishedTable;

namespace {

SpotShape shape_of(const std::string& name) {
  static const std::map<std::string, SpotShape> shapes{{"line", SpotShape::line},
                                                       {"disc", SpotShape::disc},
                                                       {"four", SpotShape::four},
                                                       {"step", SpotShape::step}};
  return shapes.at(name);
}

/// Starting levels, from and to, in decibels over the local mean.
std::pair<double, double> starts_of(const std::string& name) {
  static const std::map<std::string, std::pair<double, double>> starts{
      {"any", {-1000, 1000}}, {"<=-15", {-1000, -15}}, {"-15..-10", {-15, -10}}, {"-10..-5", {-10, -5}},
      {"-5..0", {-5, 0}},     {"0..3", {0, 3}},        {">=3", {3, 1000}}};
  return starts.at(name);
}

/// The gain over the start, for starts spread by the law of fading within an interval.
class Gain {
 public:
  explicit Gain(const PublishedTable::Row& row)
      : best_(shape_of(row.text("shape")),
              row.text("scattering") == "plane" ? Scattering::plane : Scattering::space, row.number("k_db"),
              row.number("r_over_lambda")) {
    const auto [from_db, to_db] = starts_of(row.text("start"));
    const double from = rician_cdf(row.number("k_db"), from_db), to = rician_cdf(row.number("k_db"), to_db);
    for (int index = 0; index < kStarts; ++index)
      starts_db_.push_back(
          rician_quantile_db(row.number("k_db"), from + (to - from) * (index + 0.5) / kStarts));
  }

  double under(double gain_db) const {
    double sum = 0;
    for (const double start_db : starts_db_) sum += 1 - best_.reaches(start_db, start_db + gain_db);
    return sum / kStarts;
  }
  double mean_db() const {
    double sum = 0;
    for (double gain_db = -44.875; gain_db < 45; gain_db += 0.25)
      sum += 0.25 * (gain_db > 0 ? 1 - under(gain_db) : -under(gain_db));
    return sum;
  }
  double quantile_db(double chance) const {
    double low_db = -45, high_db = 45;
    while (high_db - low_db > 0.002) {
      const double middle_db = (low_db + high_db) / 2;
      (under(middle_db) < chance ? low_db : high_db) = middle_db;
    }
    return high_db;
  }

 private:
  static constexpr int kStarts = 64;
  BestSpot best_;
  std::vector<double> starts_db_;
};

}  // namespace

TEST_CASE("gain of the best spot from any start") {
  // A blind step's gain is so flat at 10 and 90 % that the stored sample itself is off there: where the law
  // is known exactly (Rayleigh, best_spot_test.cpp) it lies nearer to the table.
  const auto table = PublishedTable::read("best_spot_gain.csv", 280);
  testing::Worst means, quantiles;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    CAPTURE(row.text("shape"));
    const Gain gain(row);
    CHECK(means.add(gain.mean_db(), row.number("mean_gain_db")) <= 0.3);
    const double outer_tolerance_db = row.text("shape") == "step" ? 0.4 : 0.3;
    CHECK(quantiles.add(gain.quantile_db(0.1), row.number("p10_gain_db")) <= outer_tolerance_db);
    CHECK(quantiles.add(gain.quantile_db(0.5), row.number("median_gain_db")) <= 0.3);
    CHECK(quantiles.add(gain.quantile_db(0.9), row.number("p90_gain_db")) <= outer_tolerance_db);
  }
  MESSAGE("gain of the best spot, worst in dB: means " << means.largest() << ", quantiles "
                                                       << quantiles.largest());
}

TEST_CASE("gain of the best spot by starting level") {
  // The stored samples are small for rare starts: 0.3 dB, and three standard errors for half as many
  // independent spots
  const auto table = PublishedTable::read("best_spot_gain_by_start.csv", 1008);
  testing::Worst all, common;
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    CAPTURE(row.text("shape"));
    const double deviation_db = (row.number("p90_gain_db") - row.number("p10_gain_db")) / 2.56;
    const double tolerance_db = 0.3 + 3 * deviation_db / std::sqrt(row.number("spots") / 2);
    const double mean_db = Gain(row).mean_db();
    CHECK(all.add(mean_db, row.number("mean_gain_db")) <= tolerance_db);
    if (row.number("spots") >= 2000) CHECK(common.add(mean_db, row.number("mean_gain_db")) <= 0.3);
  }
  MESSAGE("gain of the best spot by starting level, worst mean in dB: "
          << all.largest() << ", of 2000 spots or more: " << common.largest());
}

TEST_CASE("independent spots in closed form") {
  // At 1.5 wavelengths in space the four spots are independent of the start (sin x / x = 0) and nearly so of
  // each other (0.03 in power). Mean gain of the best of the start and four independent Rayleigh spots:
  // computed elsewhere from the exponential law, 2 000 000 draws; not seen in print.
  struct Case {
    double start_db, gain_db;
  };
  const BestSpot best(SpotShape::four, Scattering::space, -kInfinity, 1.5);
  testing::Worst worst;
  for (const auto& [start_db, gain_db] : {Case{-5, 7.497}, {-10, 12.490}, {-15, 17.490}, {-20, 22.490}}) {
    double mean_db = 0;
    for (double step_db = 0.05; step_db < 45; step_db += 0.1)
      mean_db += 0.1 * best.reaches(start_db, start_db + step_db);
    CHECK(worst.add(mean_db, gain_db) <= 0.1);
  }
  double mean_db = 0;  // of the best of five, the Rayleigh mean taken off
  for (double level_db = -44.95; level_db < 45; level_db += 0.1)
    mean_db += 0.1 * (level_db > 0 ? best.reaches({}, level_db) : best.reaches({}, level_db) - 1);
  CHECK(worst.add(mean_db - rician_mean_db(-kInfinity), 5.504) <= 0.1);
  MESSAGE("best of independent spots, worst mean in dB: " << worst.largest());
}

namespace {

/// A random field as a plain sum of plane waves: nothing shared with the generator of the table.
class PlaneWaves {
 public:
  PlaneWaves(Scattering scattering, double k, std::uint64_t sample) : stream_(777, sample) {
    const double diffuse = std::sqrt(1 / (1 + k) / kWaves);
    for (int wave = 0; wave < kWaves; ++wave) add(scattering, diffuse);
    add(scattering, std::sqrt(k / (1 + k)));
  }
  double amplitude(double x, double y) const {
    std::complex<double> sum;
    for (const Wave& wave : waves_) sum += std::polar(wave.amplitude, wave.phase + wave.kx * x + wave.ky * y);
    return std::abs(sum);
  }

 private:
  static constexpr int kWaves = 40;
  struct Wave {
    double amplitude, phase, kx, ky;
  };
  void add(Scattering scattering, double amplitude) {
    const double height = 2 * stream_.uniform(next_) - 1;
    const double slant = scattering == Scattering::plane ? 1 : std::sqrt(1 - height * height);
    const double azimuth = 2 * kPi * stream_.uniform(next_ + 1);
    waves_.push_back({amplitude, 2 * kPi * stream_.uniform(next_ + 2), 2 * kPi * slant * std::cos(azimuth),
                      2 * kPi * slant * std::sin(azimuth)});
    next_ += 3;
  }

  RandomStream stream_;
  std::uint64_t next_ = 0;
  std::vector<Wave> waves_;
};

/// Levels of the best spots within r of the origin, by shape. Spots on rings, under lambda / 16 apart.
std::vector<double> best_levels_db(const PlaneWaves& field, double r) {
  const int rings = static_cast<int>(std::ceil(r * 16)) + 1;
  const int spots = 4 * static_cast<int>(std::ceil(r * 25) + 2);
  const double start = field.amplitude(0, 0);
  double line = start, disc = start, four = start, step = start;
  for (int ring = 1; ring <= rings; ++ring) {
    for (int spot = 0; spot < spots; ++spot) {
      const double angle = 2 * kPi * spot / spots;
      const double amplitude =
          field.amplitude(r * ring / rings * std::cos(angle), r * ring / rings * std::sin(angle));
      disc = std::max(disc, amplitude);
      if (spot % (spots / 2) == 0) line = std::max(line, amplitude);
      if (ring == rings && spot % (spots / 4) == 0) four = std::max(four, amplitude);
      if (ring == rings && spot == 0) step = amplitude;
    }
  }
  std::vector<double> levels_db;
  for (const double amplitude : {line, disc, four, step}) levels_db.push_back(20 * std::log10(amplitude));
  return levels_db;
}

}  // namespace

TEST_CASE("the table against plane waves summed afresh") {
  constexpr int kSamples = 3000;
  constexpr SpotShape kShapesInOrder[] = {SpotShape::line, SpotShape::disc, SpotShape::four, SpotShape::step};
  double worst = 0;
  for (const Scattering scattering : {Scattering::plane, Scattering::space}) {
    for (const double k_db : {-kInfinity, 2.0, 16.0}) {
      for (const double r : {0.1, 0.28}) {
        std::vector<std::vector<double>> levels_db(4);
        for (std::uint64_t sample = 0; sample < kSamples; ++sample) {
          const auto best_db = best_levels_db(PlaneWaves(scattering, rician_k_ratio(k_db), sample), r);
          for (std::size_t shape = 0; shape < 4; ++shape) levels_db[shape].push_back(best_db[shape]);
        }
        for (std::size_t shape = 0; shape < 4; ++shape) {
          for (double needed_db = -12; needed_db <= 6; needed_db += 1) {
            const auto reached =
                std::ranges::count_if(levels_db[shape], [&](double l) { return l >= needed_db; });
            const double chance =
                best_spot_reaches(kShapesInOrder[shape], scattering, k_db, r, {}, needed_db);
            worst = std::max(worst, std::abs(chance - static_cast<double>(reached) / kSamples));
          }
        }
      }
    }
  }
  MESSAGE("best spot against fresh plane waves, worst in probability: " << worst);
  CHECK(worst <= 0.04);  // 0.0365 is four standard errors of 3000 samples
}

#include "linkmargin/propagation/path_loss/two_ray.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <string>

using namespace linkmargin;

namespace {

/// The oracle: the direct ray and the one that a perfect mirror turns round (reflection -1), summed in phase,
/// at the exact lengths of both. Loss between isotropic antennas over a ground distance.
double two_rays_db(double ground_m, double height_1_m, double height_2_m, double frequency_hz) {
  const double wave = 2 * kPi / wavelength_m(frequency_hz);
  const double direct_m = std::hypot(ground_m, height_1_m - height_2_m);
  const double reflected_m = std::hypot(ground_m, height_1_m + height_2_m);
  const std::complex<double> field =
      std::polar(1 / direct_m, -wave * direct_m) - std::polar(1 / reflected_m, -wave * reflected_m);
  return 20 * std::log10(2 * wave / std::abs(field));  // 4 pi / lambda over the field
}

/// The law of the textbooks far away: 40 log10 d - 20 log10(h1 h2), whatever the frequency.
double fourth_power_db(double distance_m, double height_1_m, double height_2_m) {
  return 40 * std::log10(distance_m) - 20 * std::log10(height_1_m * height_2_m);
}

struct Place {
  double frequency_mhz;
  double height_1_m;
  double height_2_m;
};

constexpr Place kPlaces[] = {{433.92, 1.5, 2}, {868.3, 1, 2.2}, {868.3, 3, 6}, {2440, 1.2, 4}, {5800, 2, 2}};

}  // namespace

TEST_CASE("the breakpoint distance 4 h1 h2 / lambda") {
  struct Case {
    double height_1_m;
    double height_2_m;
    double frequency_mhz;
    double distance_m;
    double tolerance_m;
    std::string source;
  };
  const Case cases[] = {
      {1, 1, 299.792458, 4, 1e-12, "definition; a wavelength of exactly 1 m"},
      {1.5, 2, 868.3, 34.756, 0.001, "definition, wavelength 0.345264 m; computed"},
      {1.5, 2, 433.92, 17.369, 0.001, "definition, wavelength 0.690893 m; computed"},
  };
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double distance_m = breakpoint_distance_m(row.height_1_m, row.height_2_m, row.frequency_mhz * 1e6);
    CHECK(std::abs(distance_m - row.distance_m) <= row.tolerance_m);
    CHECK(distance_m == breakpoint_distance_m(row.height_2_m, row.height_1_m, row.frequency_mhz * 1e6));
  }
}

TEST_CASE("nothing before the breakpoint, 20 dB a decade beyond, without a step") {
  for (const Place& place : kPlaces) {
    CAPTURE(place.frequency_mhz);
    const double f = place.frequency_mhz * 1e6;
    const double db_m = breakpoint_distance_m(place.height_1_m, place.height_2_m, f);
    const auto excess_db = [&](double distance_m) {
      return ground_reflection_db(distance_m, place.height_1_m, place.height_2_m, f);
    };
    CHECK(excess_db(0.5 * db_m) == 0);
    CHECK(excess_db(db_m) == 0);
    CHECK(excess_db(db_m * (1 + 1e-9)) > 0);
    CHECK(excess_db(db_m * (1 + 1e-9)) <= 1e-7);
    CHECK(std::abs(excess_db(10 * db_m) - 20) <= 1e-9);
    CHECK(std::abs(excess_db(100 * db_m) - 40) <= 1e-9);
    // With free space: 40 dB a decade.
    const double total_db = free_space_loss_db(50 * db_m, f) + excess_db(50 * db_m);
    const double nearer_db = free_space_loss_db(5 * db_m, f) + excess_db(5 * db_m);
    CHECK(std::abs(total_db - nearer_db - 40) <= 1e-9);
    CHECK(excess_db(7 * db_m) == ground_reflection_db(7 * db_m, place.height_2_m, place.height_1_m, f));
  }
}

TEST_CASE("two rays over a perfect mirror: 40 log d within 0.1 dB far beyond the breakpoint") {
  double largest = 0;
  for (const Place& place : kPlaces) {
    CAPTURE(place.frequency_mhz);
    const double f = place.frequency_mhz * 1e6;
    const double db_m = breakpoint_distance_m(place.height_1_m, place.height_2_m, f);
    for (const double times : {7.0, 10.0, 20.0, 50.0, 100.0}) {
      const double d = times * db_m;
      const double exact_db = two_rays_db(d, place.height_1_m, place.height_2_m, f);
      const double apart_db = exact_db - fourth_power_db(d, place.height_1_m, place.height_2_m);
      largest = std::max(largest, std::abs(apart_db));
      CAPTURE(times);
      CHECK(std::abs(apart_db) <= 0.1);
      // This program's law runs parallel, 20 log10(pi) dB above: it begins at the breakpoint, where two rays
      // still add, and not where their far law meets free space.
      const double law_db =
          free_space_loss_db(d, f) + ground_reflection_db(d, place.height_1_m, place.height_2_m, f);
      CHECK(std::abs(law_db - exact_db - 20 * std::log10(kPi)) <= 0.1);
    }
  }
  MESSAGE("two rays against 40 log d, from 7 breakpoint distances on, worst deviation in dB: " << largest);
}

TEST_CASE("two rays over a perfect mirror before the breakpoint: about free space, 6.02 dB better at most") {
  for (const Place& place : kPlaces) {
    CAPTURE(place.frequency_mhz);
    const double f = place.frequency_mhz * 1e6;
    const double db_m = breakpoint_distance_m(place.height_1_m, place.height_2_m, f);
    double best_db = 0, power = 0;
    int count = 0;
    for (double d = std::max(4 * (place.height_1_m + place.height_2_m), 0.1 * db_m); d <= db_m; d *= 1.0005) {
      const double direct_m = std::hypot(d, place.height_1_m - place.height_2_m);
      const double gain_db =
          free_space_loss_db(direct_m, f) - two_rays_db(d, place.height_1_m, place.height_2_m, f);
      best_db = std::max(best_db, gain_db);
      power += std::pow(10, gain_db / 10);
      ++count;
    }
    CHECK(best_db <= 6.0206);
    CHECK(best_db >= 5.5);
    const double mean_db = 10 * std::log10(power / count);
    CHECK(mean_db > 0);  // the law's free space is on the safe side
    CHECK(mean_db < 6.03);
  }
}

TEST_CASE("ground reflection: edges of the ranges") {
  using testing::check_edges;
  check_edges(kGroundHeightM, [](double value) { return breakpoint_distance_m(value, 2, 868.3e6); });
  check_edges(kGroundHeightM, [](double value) { return breakpoint_distance_m(2, value, 868.3e6); });
  check_edges(kFrequencyHz, [](double value) { return breakpoint_distance_m(1, 2, value); });
  check_edges(kDistanceM, [](double value) { return ground_reflection_db(value, 1, 2, 868.3e6); });
  check_edges(kGroundHeightM, [](double value) { return ground_reflection_db(50, value, 2, 868.3e6); });
  check_edges(kGroundHeightM, [](double value) { return ground_reflection_db(50, 2, value, 868.3e6); });
  check_edges(kFrequencyHz, [](double value) { return ground_reflection_db(50, 1, 2, value); });
}

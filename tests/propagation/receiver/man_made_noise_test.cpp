#include "linkmargin/propagation/receiver/man_made_noise.hpp"

#include "fixtures/range_edges.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

const ManMadeNoise& line(const std::string& environment) {
  const ManMadeNoise* found = find_man_made_noise(environment);
  REQUIRE(found != nullptr);
  return *found;
}

}  // namespace

TEST_CASE("the lines of ITU-R P.372") {
  struct Case {
    std::string environment;
    double frequency_mhz;
    double noise_db;
    double tolerance_db;  // half of the last digit seen
    std::string source;
  };
  const Case cases[] = {
      {"city", 250, 10.377, 0.0005, "ITU-R P.372, two copies agree on c and d; value computed"},
      {"residential", 250, 6.077, 0.0005, "ITU-R P.372, two copies agree on c and d; value computed"},
      {"rural", 250, 0.78, 0.005, "ITU-R P.372, two copies agree on c and d; value computed"},
      {"business", 250, 14.805, 0.0005, "ITU-R P.372-8, one copy and memory; value computed"},
      {"business", 433.92, 11.860, 0.0005, "ITU-R P.372-8, one copy and memory; value computed"},
      {"business", 868.3, 8.154, 0.0005, "ITU-R P.372-8, one copy and memory; value computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.environment);
    CAPTURE(row.frequency_mhz);
    CAPTURE(row.source);
    const double noise_db = man_made_noise_db(line(row.environment), row.frequency_mhz * 1e6);
    largest = std::max(largest, std::abs(noise_db - row.noise_db));
    CHECK(std::abs(noise_db - row.noise_db) <= row.tolerance_db);
  }
  MESSAGE("man-made noise, worst deviation in dB: " << largest);
}

TEST_CASE("each line holds in its own range and nowhere else") {
  struct Case {
    std::string environment;
    double from_mhz;
    double to_mhz;
  };
  const Case cases[] = {
      {"city", 0.3, 250}, {"residential", 0.3, 250}, {"rural", 0.3, 250}, {"business", 200, 900}};
  REQUIRE(man_made_noise_lines().size() == std::size(cases));
  for (const Case& row : cases) {
    CAPTURE(row.environment);
    const ManMadeNoise& one = line(row.environment);
    CHECK(one.frequency_hz.min == row.from_mhz * 1e6);
    CHECK(one.frequency_hz.max == row.to_mhz * 1e6);
    CHECK_FALSE(one.source.empty());
    CHECK_FALSE(one.verified.empty());
    testing::check_edges(one.frequency_hz, [&](double value) { return man_made_noise_db(one, value); });
  }
  CHECK(find_man_made_noise("submarine") == nullptr);
  // The city line at 868 MHz would give -4.6 dB, which means nothing.
  CHECK_THROWS_AS(man_made_noise_db(line("city"), 868.3e6), DomainError);
}

TEST_CASE("the total noise factor f = fa + fr - 1") {
  struct Case {
    double frequency_mhz;
    double receiver_db;
    double total_db;
    double tolerance_db;
    std::string source;
  };
  const Case cases[] = {
      {433.92, 7, 12.87, 0.005, "ITU-R P.372-8, business area, noise figure 7 dB; computed"},
      {868.3, 7, 10.23, 0.005, "ITU-R P.372-8, business area, noise figure 7 dB; computed"},
  };
  double largest = 0;
  for (const Case& row : cases) {
    CAPTURE(row.source);
    const double external_db = man_made_noise_db(line("business"), row.frequency_mhz * 1e6);
    const double apart_db = std::abs(total_noise_figure_db(external_db, row.receiver_db) - row.total_db);
    largest = std::max(largest, apart_db);
    CHECK(apart_db <= row.tolerance_db);
  }
  MESSAGE("total noise figure, worst deviation in dB: " << largest);
  // Surroundings at 290 K add nothing to what a noise figure counts from, and a perfect receiver has theirs.
  for (const double receiver_db : {0.0, 3.0, 7.0, 20.0}) {
    CHECK(std::abs(total_noise_figure_db(0, receiver_db) - receiver_db) <= 1e-12);
    CHECK(std::abs(total_noise_figure_db(receiver_db, 0) - receiver_db) <= 1e-12);
  }
}

TEST_CASE("total noise factor: edges of the ranges") {
  testing::check_edges(kExternalNoiseDb, [](double value) { return total_noise_figure_db(value, 7); });
  testing::check_edges(kReceiverNoiseDb, [](double value) { return total_noise_figure_db(8, value); });
  CHECK(std::isfinite(total_noise_figure_db(kExternalNoiseDb.min, kReceiverNoiseDb.min)));
}

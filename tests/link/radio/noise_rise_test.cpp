#include "linkmargin/link/radio/noise_rise.hpp"

#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;

namespace {

PropagationSettings radio(double frequency_mhz, NoiseArea noise, double rise_db = 0) {
  PropagationSettings made;
  made.frequency_hz = frequency_mhz * 1e6;
  made.noise = noise;
  made.noise_rise_db = rise_db;
  return made;
}

}  // namespace

TEST_CASE("the business area raises a receiver of 7 dB by its total noise factor over 7 dB") {
  // ITU-R P.372-8, business area, noise figure 7 dB: 12.87 dB at 433.92 MHz, 10.23 dB at 868.3 MHz (one copy
  // and memory for the line, totals computed), within the last digit.
  CHECK(std::abs(noise_rise_db(radio(433.92, NoiseArea::business), 7) - (12.87 - 7)) <= 0.005);
  CHECK(std::abs(noise_rise_db(radio(868.3, NoiseArea::business), 7) - (10.23 - 7)) <= 0.005);
  CHECK(noise_rise_db(radio(868.3, NoiseArea::none), 7) == 0);
  CHECK(noise_rise_db(radio(868.3, NoiseArea::none, 4.5), 7) == 4.5);
  // The site's own rise lies on top, and a better receiver loses more.
  const double business_db = noise_rise_db(radio(868.3, NoiseArea::business), 7);
  CHECK(std::abs(noise_rise_db(radio(868.3, NoiseArea::business, 3), 7) - business_db - 3) <= 1e-12);
  CHECK(noise_rise_db(radio(868.3, NoiseArea::business), 3) > business_db);
}

TEST_CASE("outside the line's range there is a caution and no number") {
  for (const double frequency_mhz : {200.0, 433.92, 868.3, 900.0}) {
    CAPTURE(frequency_mhz);
    CHECK(noise_warnings(radio(frequency_mhz, NoiseArea::business)).empty());
    CHECK(noise_rise_db(radio(frequency_mhz, NoiseArea::business), 7) > 0);
  }
  const double beyond_mhz = std::nextafter(900.0, 1000.0);
  for (const double frequency_mhz : {beyond_mhz, 915.0, 2440.0, 6000.0}) {
    CAPTURE(frequency_mhz);
    CHECK(noise_warnings(radio(frequency_mhz, NoiseArea::business)).size() == 1);
    CHECK(noise_rise_db(radio(frequency_mhz, NoiseArea::business), 7) == 0);
    CHECK(noise_rise_db(radio(frequency_mhz, NoiseArea::business, 2), 7) == 2);
    CHECK(noise_warnings(radio(frequency_mhz, NoiseArea::none, 2)).empty());
  }
  CHECK(noise_warnings(radio(2440, NoiseArea::business)) ==
        std::vector<Warning>{
            {.code = WarningCode::noise_not_stated, .arguments = {{"frequency", Figure{2440}}}}});
}

TEST_CASE("the receiver's own noise figure is taken where its profile states one, else 7 dB") {
  Profile profile = fixture::profiles().at("hub");
  const PropagationSettings business = radio(868.3, NoiseArea::business);
  CHECK(in_noise(radio_end(profile), business).noise_rise_db == noise_rise_db(business, 7));
  profile.sensitivity = ReceiverNoise{25e3, 3, 10};
  CHECK(in_noise(radio_end(profile), business).noise_rise_db == noise_rise_db(business, 3));
  CHECK(radio_end(profile).noise_rise_db == 0);
}

TEST_CASE("noise lowers the margin of both directions, and neither level nor reading nor chance") {
  const Site quiet = fixture::two_rooms();
  Site noisy = quiet;
  noisy.radio.noise = NoiseArea::business;
  noisy.radio.noise_rise_db = 2;
  const Link before = link_table(quiet).links.at(0);
  const Link after = link_table(noisy).links.at(0);
  const double rise_db = noise_rise_db(noisy.radio, kUsualNoiseFigureDb);
  CHECK(rise_db > 5);
  REQUIRE(before.downlink);
  for (const auto& [was, is] :
       {std::pair(before.uplink, after.uplink), std::pair(*before.downlink, *after.downlink)}) {
    CHECK(is.level == was.level);
    CHECK(is.reading_percent == was.reading_percent);
    CHECK(is.sensitivity == was.sensitivity);
    CHECK(was.noise_rise == Db{0});
    CHECK(is.noise_rise == Db{rise_db});
    CHECK(std::abs(was.margin.value - is.margin.value - rise_db) <= 1e-9);
    CHECK(std::abs(is.level.value - is.sensitivity.value - is.noise_rise.value - is.margin.value) <= 1e-9);
  }
  CHECK(after.pass_probability == before.pass_probability);
  CHECK(after.weak == before.weak);
}

TEST_CASE("noise that drowns a link is cautioned, and an area is not covered by presses that nobody hears") {
  Site site = fixture::two_rooms();
  Area yard;
  yard.name = "yard";
  yard.profile = "fob";
  yard.corners = rectangle({1, 1}, 2, 2);
  site.areas = {yard};
  const LinkTable quiet = link_table(site);
  CHECK_FALSE(fixture::has(quiet.warnings, WarningCode::hub_hears_nothing));
  CHECK(quiet.areas.at(0).share_percent > 99);
  site.radio.noise_rise_db = 60;
  site.profiles.at("hub").sensitivity = Dbm{-85};
  const LinkTable table = link_table(site);
  CHECK(table.links.at(0).weaker().margin < Db{0});
  CHECK(fixture::has(table.warnings, WarningCode::hub_hears_nothing));
  CHECK(table.areas.at(0).share_percent < 50);
}

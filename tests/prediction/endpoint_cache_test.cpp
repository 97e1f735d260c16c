#include "linkmargin/prediction/serving/endpoint_cache.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace linkmargin;

TEST_CASE("a link to an end that stays is the link that it was") {
  const Site site = fixture::random_block(11, 2, 5, 4);
  SceneCache plain(site, Doors::armed), with(site, Doors::armed);
  const RandomStream random(11, 3);
  std::array<Point3, 6> devices;
  for (std::size_t i = 0; i < devices.size(); ++i) devices[i] = fixture::random_point(random, i, 2, 5, 4);
  with.let_stay(devices);
  for (std::uint64_t place = 0; place < 40; ++place) {
    const Point3 hub = fixture::random_point(random, 100 + place, 2, 5, 4);
    for (const Point3 device : devices) {
      const LossBreakdown one = plain.end(hub)->path_loss(device), other = with.end(hub)->path_loss(device);
      CHECK(std::abs(one.path_loss_db - other.path_loss_db) <= 1e-9);
      CHECK(std::abs(one.sigma_db - other.sigma_db) <= 1e-9);
      CHECK(one.items.size() == other.items.size());
    }
    const Point3 elsewhere = fixture::random_point(random, 500 + place, 2, 5, 4);
    CHECK(plain.end(hub)->path_loss(elsewhere).path_loss_db ==
          with.end(hub)->path_loss(elsewhere).path_loss_db);
  }
  const auto held = with.end(devices[0]);
  with.let_stay({});
  CHECK(held->path_loss(devices[1]).path_loss_db > 0);  // who holds an end keeps it
}

TEST_CASE("a scene serves the sites that differ in what it does not hold, and no others") {
  const Site site = fixture::two_rooms();
  const SceneCache scene(site, Doors::armed);
  const auto fits_with = [&](auto change) {
    Site changed = site;
    change(changed);
    return scene.fits(changed, Doors::armed);
  };
  CHECK(scene.fits(site, Doors::armed));
  CHECK(fits_with([](Site& of) { of.devices[0].place.at = {6, 1}; }));
  CHECK(fits_with([](Site& of) { of.reading.weak_below_percent = 50; }));
  CHECK(fits_with([](Site& of) { of.fading.k_behind_walls_db = 3; }));
  CHECK(fits_with([](Site& of) { of.radio.noise_rise_db = 4; }));

  CHECK_FALSE(scene.fits(site, Doors::open));
  CHECK_FALSE(fits_with([](Site& of) { of.storeys[0].inner_wall = Construction{"heavy", {}}; }));
  CHECK_FALSE(fits_with([](Site& of) { of.materials["board"] = fixture::measured("board", 4, 1); }));
  CHECK_FALSE(fits_with([](Site& of) { of.radio.frequency_hz = 433.9e6; }));
  CHECK_FALSE(fits_with([](Site& of) { of.calibration.emplace().offset_db = 1; }));
  CHECK_FALSE(fits_with([](Site& of) { of.profiles["contact"].sigma_db = 2; }));  // the equipment's spread
}

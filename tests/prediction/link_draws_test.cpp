#include "linkmargin/prediction/link_draws.hpp"

#include "linkmargin/analysis/what_if/what_if_setting.hpp"
#include "linkmargin/prediction/link_table.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace linkmargin;

namespace {

constexpr std::uint64_t kDrawn = 20'000;
const double kGap = 1.949 / std::sqrt(static_cast<double>(kDrawn));  // Kolmogorov: a chance of 0.001

/// Devices all over a block of rooms, two of them side by side.
Site block(std::uint64_t number) {
  Site site = fixture::random_block(number, 1, 3, 2);
  const RandomStream random(number, 77);
  const Device pattern = site.devices.front();
  site.devices.clear();
  for (std::uint64_t i = 0; i < 6; ++i) {
    const Point3 at = fixture::random_point(random, i, 1, 3, 2);
    Device device = pattern;
    device.name = "device " + std::to_string(i);
    device.place = {0, {at.x, at.y}, at.z};
    site.devices.push_back(device);
  }
  site.devices[5].place = site.devices[4].place;
  site.devices[5].place.at.x = snapped(site.devices[4].place.at.x + 0.05);
  return site;
}

double largest_gap(std::vector<double> values, double sigma) {
  std::ranges::sort(values);
  const auto count = static_cast<double>(values.size());
  double gap = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double below = std::erfc(-values[i] / sigma / std::sqrt(2.0)) / 2;
    gap = std::max({gap, below - static_cast<double>(i) / count, static_cast<double>(i + 1) / count - below});
  }
  return gap;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  double ab = 0, aa = 0, bb = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    ab += a[i] * b[i];
    aa += a[i] * a[i];
    bb += b[i] * b[i];
  }
  return ab / std::sqrt(aa * bb);
}

std::vector<std::vector<double>> drawn(const LinkDraws& draws) {
  std::vector<std::vector<double>> by_link(draws.size());
  std::vector<double> shifts(draws.size());
  for (std::uint64_t draw = 1; draw <= kDrawn; ++draw) {
    draws.draw(draw, shifts);
    for (std::size_t i = 0; i < shifts.size(); ++i) by_link[i].push_back(shifts[i]);
  }
  return by_link;
}

}  // namespace

TEST_CASE("each link's local mean is spread as stated: Kolmogorov-Smirnov, fading off") {
  for (std::uint64_t number = 1; number <= 6; ++number) {
    Site site = block(number);
    site.fading.on = false;
    const LinkTable table = link_table(site);
    const auto by_link = drawn(LinkDraws(site, table.links, number));
    for (std::size_t i = 0; i < table.links.size(); ++i) {
      CAPTURE(number);
      CAPTURE(table.links[i].device);
      CHECK(largest_gap(by_link[i], table.links[i].sigma_db) < kGap);
      CHECK(largest_gap(by_link[i], 1.06 * table.links[i].sigma_db) >
            largest_gap(by_link[i], table.links[i].sigma_db));
    }
  }
}

TEST_CASE("the share of draws that pass agrees with the analytic chance, calibrated sites too") {
  int compared = 0;
  for (std::uint64_t number = 1; number <= 12; ++number) {
    Site site = block(number);
    if (number % 2 == 0) {
      site.calibration.emplace();
      site.calibration->offset_db = -2;
      site.calibration->offset_sigma_db = 2.5;
      site.calibration->materials["heavy"] = {.shift_db = 1, .sigma_db = 2};
    }
    const Dbm middle = link_table(site).links[number % 6].weaker().level;
    site.reading = {.zero = middle + Db{-40}, .full = middle + Db{60}, .weak_below_percent = 36};
    const LinkTable table = link_table(site);
    const WhatIfSetting setting(site, table, number);
    std::vector<double> shifts(table.links.size()), passed(table.links.size());
    std::vector<WhatIfDevice> devices(table.links.size());
    for (std::uint64_t draw = 1; draw <= kDrawn; ++draw) {
      setting.draws().draw(draw, shifts);
      setting.outcome(shifts, devices);
      for (std::size_t i = 0; i < devices.size(); ++i) passed[i] += devices[i].reading_percent >= 36 ? 1 : 0;
    }
    for (std::size_t i = 0; i < devices.size(); ++i) {
      const double told = table.links[i].pass_probability;
      const double error = std::sqrt(std::max(told * (1 - told), 1e-5) / static_cast<double>(kDrawn));
      CAPTURE(number);
      CAPTURE(i);
      CHECK(std::abs(passed[i] / static_cast<double>(kDrawn) - told) < 4 * error);
      compared += told > 0.02 && told < 0.98 ? 1 : 0;
    }
  }
  CHECK(compared >= 20);
}

TEST_CASE("side by side devices share what the model does not know, far ones do not") {
  Site site = block(3);
  site.fading.on = false;
  for (auto& [name, material] : site.materials) material.sigma_db = 0;
  const LinkTable table = link_table(site);
  const auto by_link = drawn(LinkDraws(site, table.links, 5));
  CHECK(std::abs(correlation(by_link[4], by_link[5]) - std::exp(-0.05 / 2)) < 0.01);
  const double apart_m = distance(site.point(site.devices[0].place), site.point(site.devices[1].place));
  CHECK(std::abs(correlation(by_link[0], by_link[1]) - std::exp(-apart_m / 2)) < 0.03);
}

TEST_CASE("links through one wall share its deviation in every draw") {
  Site site = fixture::two_rooms();
  site.fading.on = false;
  site.radio.reverberation = false;
  site.radio.model_sigma_db = 0;
  Device second = site.devices.front();
  second.name = "second";
  second.place.at.y = snapped(second.place.at.y + 0.5);
  site.devices.push_back(second);
  const LinkTable table = link_table(site);
  REQUIRE(table.links[0].sigma_db > 0);
  const LinkDraws draws(site, table.links, 1);
  CHECK(draws.causes().size() == 1);
  std::vector<double> shifts(2);
  for (std::uint64_t draw = 1; draw <= 50; ++draw) {
    draws.draw(draw, shifts);
    CHECK(shifts[0] != 0);
    CHECK(std::abs(shifts[0] - shifts[1]) < 1e-12);
  }
}

TEST_CASE("a draw is a function of seed, number and names: a variant of a site draws the same") {
  Site site = block(4);
  const LinkTable table = link_table(site);
  Site louder = site;
  louder.reading.weak_below_percent += 5;
  louder.profiles.at("hub").gain_dbi += 3;
  std::vector<double> one(table.links.size()), other(table.links.size());
  const LinkDraws of_site(site, table.links, 9), of_variant(louder, link_table(louder).links, 9);
  for (std::uint64_t draw = 1; draw <= 20; ++draw) {
    of_site.draw(draw, one);
    of_variant.draw(draw, other);
    CHECK(one == other);
    of_site.draw(draw + 1, other);
    CHECK(one != other);
  }
}

#include "linkmargin/link/path_loss.hpp"

#include "site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

double sum_of_items(const LossBreakdown& loss) {
  double sum = 0;
  for (const LossItem& item : loss.items) sum += item.loss_db;
  return sum;
}

bool same_bits(const LossBreakdown& a, const LossBreakdown& b) {
  if (a.path_loss_db != b.path_loss_db || a.sigma_db != b.sigma_db || a.distance_m != b.distance_m)
    return false;
  if (a.items.size() != b.items.size()) return false;
  for (std::size_t i = 0; i < a.items.size(); ++i) {
    if (a.items[i].name != b.items[i].name || a.items[i].loss_db != b.items[i].loss_db) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("distance and each wall are items that add up") {
  Site site = fixture::two_rooms();
  site.radio.echoes = false;
  const Scene scene(site, Doors::armed);
  const LossBreakdown loss = path_loss(scene, {1, 2, 1.5}, {7, 2, 1.5});
  REQUIRE(loss.items.size() == 2);
  CHECK(loss.items[0].cause == LossCause::distance);
  CHECK(loss.items[1].name == "wall between left and right");
  CHECK(loss.items[1].material == "board");
  // 31.2212 dB at 1 m (ITU-R P.525, 868.3 MHz), 20 log10(6) and 3 dB of board.
  CHECK(std::abs(loss.path_loss_db - (31.2212 + 15.5630 + 3)) <= 0.0002);
  CHECK(std::abs(loss.sigma_db - std::sqrt(4.0 * 4 + 1 * 1)) <= 1e-12);
}

TEST_CASE("for every model the items add up and swapping the ends changes no bit, on random links") {
  Site site = fixture::random_block(11, 3, 6, 5);
  for (const PathLossModel model :
       {PathLossModel::free_space, PathLossModel::log_distance, PathLossModel::walls,
        PathLossModel::multi_wall, PathLossModel::site_general}) {
    for (const SiteGeneralForm form : {SiteGeneralForm::coefficients, SiteGeneralForm::power_loss}) {
      site.radio.model = model;
      site.radio.form = form;
      const Scene scene(site, Doors::armed);
      const RandomStream random(12, static_cast<std::uint64_t>(model));
      bool add_up = true, same = true;
      std::size_t items = 0;
      for (std::uint64_t i = 0; i < 2000; ++i) {
        const Point3 a = fixture::random_point(random, 2 * i, 3, 6, 5);
        const Point3 b = fixture::random_point(random, 2 * i + 1, 3, 6, 5);
        const LossBreakdown loss = path_loss(scene, a, b);
        add_up &= std::abs(sum_of_items(loss) - loss.path_loss_db) <= 1e-9;
        same &= same_bits(loss, path_loss(scene, b, a));
        items += loss.items.size();
      }
      CAPTURE(static_cast<int>(model));
      CHECK(add_up);
      CHECK(same);
      CHECK(items >= 2000);
    }
  }
}

TEST_CASE("the whole multi-wall example of COST 231") {
  // published.md 5.1: 1800 MHz, 20 m, Lc = 0, two light (3.4) and one heavy (6.9) wall, one floor of 18.3
  // dB: 95.5738 dB.
  Site site = fixture::two_rooms();
  site.radio.model = PathLossModel::multi_wall;
  site.radio.frequency_hz = 1.8e9;
  site.materials["light"] = fixture::measured("light", 3.4);
  site.materials["heavy"] = fixture::measured("heavy", 6.9);
  site.materials["slab"] = fixture::measured("slab", 18.3);
  site.storeys[0].height_m = 10;
  site.storeys[0].inner_wall = {"light", {}};
  site.storeys[0].rooms = {{"a", rectangle({0, 0}, 4, 4)},
                           {"b", rectangle({4, 0}, 4, 4)},
                           {"c", rectangle({8, 0}, 4, 4)},
                           {"d", rectangle({12, 0}, 4, 4)}};
  site.storeys[0].boundaries = {{"c", "d", {"heavy", {}}}};
  site.storeys.push_back(fixture::storey("upper", 10, 3));
  site.storeys[1].rooms = {{"loft", rectangle({14, 0}, 2, 4)}};
  site.storeys[1].floor = Construction{"slab", {}};
  const Scene scene(site, Doors::armed);
  // 20 m long: 15 m along, 2 m across, the rest up; through the slab from below at the far end.
  const double rise = std::sqrt(400.0 - 15 * 15 - 1);
  const LossBreakdown loss = path_loss(scene, {0.5, 1.5, 10.5 - rise}, {15.5, 2.5, 10.5});
  CHECK(std::abs(loss.distance_m - 20) <= 1e-9);
  REQUIRE(loss.items.size() == 5);
  CHECK(std::abs(loss.path_loss_db - 95.5738) <= 0.0005);
}

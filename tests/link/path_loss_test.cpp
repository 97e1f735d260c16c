#include "linkmargin/link/path_loss.hpp"

#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include "fixtures/parts.hpp"
#include "fixtures/site_fixture.hpp"

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
    if (a.items[i].part != b.items[i].part || a.items[i].loss_db != b.items[i].loss_db) return false;
  }
  return true;
}

const LossItem* diffuse_item(const LossBreakdown& loss) {
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::reverberation) return &item;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("distance and each wall are items that add up") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  const Scene scene(site, Doors::armed);
  const LossBreakdown loss = path_loss(scene, {1, 2, 1.5}, {7, 2, 1.5});
  REQUIRE(loss.items.size() == 2);
  CHECK(loss.items[0].cause == LossCause::distance);
  CHECK(loss.items[1].part == fixture::wall_between("left", "right"));
  CHECK(loss.items[1].material == "board");
  // 31.2212 dB at 1 m (ITU-R P.525, 868.3 MHz), 20 log10(6) and 3 dB of board.
  CHECK(std::abs(loss.path_loss_db - (31.2212 + 15.5630 + 3)) <= 0.0002);
  CHECK(std::abs(loss.sigma_db - std::sqrt(4.0 * 4 + 1 * 1)) <= 1e-12);
}

TEST_CASE("a way by two doorways meets what stands beside them at the height at which it runs there") {
  // From 0.3 m up to 2.3 m: 3 m to a doorway, 4 m along the corridor to the next, and 3 m on. So it passes
  // the first 0.9 m up and the second 1.7 m.
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.materials["tin"] = fixture::measured("tin", 60);
  Storey& storey = site.storeys[0];
  storey.inner_wall = storey.outer_wall = {"tin", {}};
  storey.rooms = {{"left", rectangle({0, 2}, 4, 4)},
                  {"right", rectangle({4, 2}, 4, 4)},
                  {"corridor", rectangle({0, 0}, 8, 2)}};
  storey.openings = {fixture::door_between(3.5, 0.9, "leaf"), fixture::door_between(3.5, 0.9, "leaf")};
  storey.openings[0].second = storey.openings[1].second = "corridor";
  storey.openings[1].first = "right";
  storey.openings[1].name = "other door";
  storey.openings[0].at = {2, 2};
  storey.openings[1].at = {6, 2};
  const auto loss_db = [&](double x, double height_m) {
    Obstacle cabinet;
    cabinet.name = "cabinet";
    cabinet.corners = rectangle({x - 0.75, 2.25}, 1.5, 0.5);
    cabinet.height_m = height_m;
    cabinet.construction = {"steel", {}};
    storey.obstacles = {cabinet};
    const Scene scene(site, Doors::open);
    return path_loss(scene, {2, 5, 0.3}, {6, 5, 2.3}).path_loss_db;
  };
  const double free_db = loss_db(6, 0.1);
  CHECK(std::abs(loss_db(2, 0.6) - free_db) <= 1e-6);
  CHECK(loss_db(2, 1) > free_db + 5);
  CHECK(std::abs(loss_db(6, 1.6) - free_db) <= 1e-6);
  CHECK(loss_db(6, 2.1) > free_db + 5);
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
      std::size_t items = 0, echoed = 0;
      // A link by itself finds the ways from its end anew, which is dear.
      const std::uint64_t links = model == PathLossModel::walls ? 300 : 2000;
      for (std::uint64_t i = 0; i < links; ++i) {
        const Point3 a = fixture::random_point(random, 2 * i, 3, 6, 5);
        const Point3 b = fixture::random_point(random, 2 * i + 1, 3, 6, 5);
        const LossBreakdown loss = path_loss(scene, a, b);
        add_up &= std::abs(sum_of_items(loss) - loss.path_loss_db) <= 1e-9;
        same &= same_bits(loss, path_loss(scene, b, a));
        items += loss.items.size();
        echoed += diffuse_item(loss) != nullptr ? 1 : 0;
      }
      CAPTURE(static_cast<int>(model));
      CHECK(add_up);
      CHECK(same);
      CHECK(items >= 2000);
      if (model == PathLossModel::walls) {
        CHECK(echoed > links / 2);
      } else {
        CHECK(echoed == 0);
      }
    }
  }
}

TEST_CASE("echoes add their power to that of all ways, as the last item of the head") {
  Site site = fixture::random_block(13, 2, 4, 3);
  site.radio.ground_reflection = true;
  const Scene scene(site, Doors::armed);
  site.radio.reverberation = false;
  const Scene without(site, Doors::armed);
  const RandomStream random(14, 1);
  int found = 0, grounded = 0, left_out = 0;
  for (std::uint64_t i = 0; i < 500; ++i) {
    Point3 a = fixture::random_point(random, 2 * i, 2, 4, 3);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 4, 3);
    if (i % 4 == 0) a.x -= 60;
    const LossBreakdown with = path_loss(scene, a, b), plain = path_loss(without, a, b);
    double ways_db = plain.path_loss_db;  // the ground comes on top of all ways, echoes among them
    for (const LossItem& item : plain.items) ways_db -= item.cause == LossCause::ground ? item.loss_db : 0;
    double slabs_db = 0;  // waves by way of floor and ceiling come before the echoes
    for (const LossItem& item : with.items)
      slabs_db += item.cause == LossCause::slab_reflection ? item.loss_db : 0;
    const DiffuseEnd first = *scene.diffuse_field().end(scene, a),
                     second = *scene.diffuse_field().end(scene, b);
    const double in_rooms = scene.diffuse_field().power(first, second, with.distance_m);
    const double by_street = scene.diffuse_field().street_power(first, second);
    const double ratio = (in_rooms + by_street) * std::pow(10, (ways_db + slabs_db) / 10);
    const double echoed = ratio / (1 + ratio);
    // The middle of decibels under their mean power, for a spread of 3 dB of what is echoed.
    const double gain_db = 10 * std::log10(1 + ratio) - std::log(10.0) / 20 * std::pow(3 * echoed, 2);
    const LossItem* diffuse_field = diffuse_item(with);
    if (diffuse_field == nullptr) {
      REQUIRE(gain_db < 0.05);
      if (slabs_db == 0) REQUIRE(same_bits(with, plain));
      ++left_out;
      continue;
    }
    ++found;
    grounded += with.items[1].cause == LossCause::ground ? 1 : 0;
    REQUIRE(gain_db >= 0.05);
    REQUIRE(diffuse_field == &with.items[with.leading_terms - 1]);
    REQUIRE(diffuse_field->cause == LossCause::reverberation);
    REQUIRE(std::abs(diffuse_field->loss_db + gain_db) <= 1e-6);
    REQUIRE(std::abs(with.path_loss_db - plain.path_loss_db - slabs_db - diffuse_field->loss_db) <= 1e-9);
    // 3 dB of what the rooms bring, 6 of what the street does, of the walls the share that they still bring:
    // for the rest see the distance.
    const double share = echoed, echoes_db = 3 + 3 * by_street / std::max(1e-30, in_rooms + by_street);
    double variance = std::pow(plain.items[0].sigma_db, 2) + std::pow(echoes_db * share, 2);
    for (std::size_t k = 1; k < plain.items.size(); ++k) {
      variance += std::pow((1 - share) * plain.items[k].sigma_db, 2);
    }
    REQUIRE(std::abs(with.sigma_db - std::sqrt(variance)) <= 1e-6);
  }
  MESSAGE(found << " links with echoes, " << grounded << " of them with the ground, " << left_out
                << " without");
  CHECK(found > 250);
  CHECK(grounded > 20);
  CHECK(left_out > 50);
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

TEST_CASE("items say which row of the table they are of, and what readings taught of it") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  site.storeys[0].inner_wall = {"brick", 0.24};
  site.calibration = Calibration{};
  site.calibration->materials["brick"] = {2.5, 0, 0};
  const LossBreakdown loss = path_loss(Scene(site, Doors::armed), {1, 2, 1.5}, {7, 2, 1.5});
  REQUIRE(loss.items.size() == 2);
  CHECK(loss.items[0].table_row == "");
  CHECK(loss.items[1].table_row == "brick");
  CHECK(loss.items[1].material == "brick 0.24 m");
  CHECK(loss.items[1].shift_db == 2.5);
}

TEST_CASE("walls learned shift every loss by themselves, whoever taught them") {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  const auto loss_db = [](const Site& of) {
    return path_loss(Scene(of, Doors::armed), {1, 2, 1.5}, {7, 2, 1.5}).path_loss_db;
  };
  const double before_db = loss_db(site);
  site.materials["board"].learned = LearnedShift{4.25, 1, 0};
  CHECK(std::abs(loss_db(site) - before_db - 4.25) <= 1e-12);
  site.calibration = Calibration{};
  CHECK(std::abs(loss_db(site) - before_db - 4.25) <= 1e-12);  // the site's own readings say nothing of it
  site.calibration->materials["board"] = {-1.5, 1, 0};
  CHECK(std::abs(loss_db(site) - before_db + 1.5) <= 1e-12);
}

namespace {

/// How a path loss follows the shift of a material: by the shares of its items, and by finite differences.
struct Slopes {
  double by_shares = 0;
  double by_difference = 0;
};

Slopes slopes(Site site, const std::string& material, Point3 a, Point3 b) {
  constexpr double step_db = 1e-3;
  const auto at = [&](double shift_db) {
    site.calibration = Calibration{};
    site.calibration->materials[material] = {shift_db, 0, 0};
    return path_loss(Scene(site, Doors::armed), a, b);
  };
  Slopes found;
  for (const LossItem& item : at(0).items)
    found.by_shares += item.table_row == material ? item.power_fraction : 0;
  found.by_difference = (at(step_db).path_loss_db - at(-step_db).path_loss_db) / (2 * step_db);
  return found;
}

}  // namespace

TEST_CASE("the shares of a material's items are how the loss follows what it loses") {
  Site site = fixture::two_rooms();
  site.radio.reverberation = false;
  const Point3 hub{1, 2, 1.5}, contact{7, 2, 1.5};
  const auto close = [](Slopes found, double from, double to) {
    CAPTURE(found.by_shares);
    CAPTURE(found.by_difference);
    CHECK(std::abs(found.by_shares - found.by_difference) <= 1e-4);
    CHECK(found.by_shares >= from);
    CHECK(found.by_shares <= to);
  };
  close(slopes(site, "board", hub, contact), 1, 1);
  close(slopes(site, "steel", hub, contact), 0, 0);
  SUBCASE("a leaf in a heavy wall: what passes through the wall is not the leaf's") {
    site.storeys[0].openings = {fixture::door_between(2.6, 0.9, "leaf")};
    site.storeys[0].inner_wall = {"heavy", {}};
    site.storeys[0].rooms[0].corners = rectangle({0, -20}, 4, 44);  // the corners far away
    site.storeys[0].rooms[1].corners = rectangle({4, -20}, 4, 44);
    close(slopes(site, "leaf", hub, contact), 0.5, 0.98);
  }
  SUBCASE("an obstacle with ways round it") {
    Obstacle rack;
    rack.name = "rack";
    rack.corners = rectangle({5, 1.8}, 0.4, 0.4);
    rack.height_m = 2.2;
    rack.construction = {"board", {}};
    site.storeys[0].inner_wall = {"heavy", {}};
    site.storeys[0].obstacles = {rack};
    close(slopes(site, "board", hub, contact), 0.3, 0.97);
  }
  SUBCASE("two floors of the multi-wall model") {
    site.radio.model = PathLossModel::multi_wall;
    for (int above = 1; above < 3; ++above) {
      site.storeys.push_back(site.storeys[0]);
      site.storeys.back().name += std::to_string(above);
      site.storeys.back().level_m = 2.5 * above;
      site.storeys.back().floor = Construction{"slab", {}};
    }
    close(slopes(site, "slab", hub, {2, 2, 6.5}), 1.2, 1.9);
  }
  SUBCASE("a model of floors that knows no materials") {
    site.radio.model = PathLossModel::site_general;
    site.radio.form = SiteGeneralForm::power_loss;
    site.storeys.push_back(site.storeys[0]);
    site.storeys.back().name = "upper";
    site.storeys.back().level_m = 2.5;
    site.storeys.back().floor = Construction{"slab", {}};
    close(slopes(site, "slab", hub, {2, 2, 4}), 0, 0);
  }
}

TEST_CASE("what comes by echoes and other ways does not pass an item") {
  const Site site = fixture::random_block(11, 2, 4, 3);
  const Scene scene(site, Doors::armed);
  const RandomStream random(13, 1);
  std::size_t shared = 0, items = 0;
  for (std::uint64_t i = 0; i < 60; ++i) {
    const LossBreakdown loss = path_loss(scene, fixture::random_point(random, 2 * i, 2, 4, 3),
                                         fixture::random_point(random, 2 * i + 1, 2, 4, 3));
    double left = 1;
    const auto take = [&](double loss_db) { left *= std::pow(10, loss_db / 10); };  // of items under 0
    for (const LossItem& item : loss.items) {
      if (item.cause == LossCause::other_ways || item.cause == LossCause::reverberation) take(item.loss_db);
    }
    // Of the power in all, at most what comes by the strongest way: ways round bring less where the line
    // brings more.
    CHECK(loss.items.front().power_fraction <= left + 1e-9);
    for (const LossItem& item : loss.items) {
      ++items;
      shared += item.power_fraction < 1 ? 1U : 0U;
      CHECK(item.power_fraction >= 0);
      CHECK(item.power_fraction <= 1 + 1e-12);
    }
  }
  CHECK(items > 150);
  CHECK(shared > 50);
}

TEST_CASE("swapping the ends of a link changes no bit on a calibrated site") {
  Site site = fixture::random_block(11, 2, 4, 3);
  site.calibration = Calibration{};
  site.calibration->materials = {{"board", {1.7, 1, 0}}, {"leaf", {-0.6, 1, 0}}, {"brick", {3.1, 1, 0}}};
  const Scene scene(site, Doors::armed);
  const RandomStream random(14, 1);
  for (std::uint64_t i = 0; i < 60; ++i) {
    const Point3 a = fixture::random_point(random, 2 * i, 2, 4, 3);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 4, 3);
    const LossBreakdown there = path_loss(scene, a, b), back = path_loss(scene, b, a);
    CHECK(same_bits(there, back));
    for (std::size_t k = 0; k < std::min(there.items.size(), back.items.size()); ++k)
      CHECK(there.items[k].power_fraction == back.items[k].power_fraction);
  }
}

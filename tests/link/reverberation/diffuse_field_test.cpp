#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

using namespace linkmargin;

namespace {

struct Shares {
  double transmitted;
  double reflected;
};

Material face(const std::string& name, Shares of) {
  Material made = fixture::measured(name, -10 * std::log10(of.transmitted));
  made.reflects_percent = 100 * of.reflected;
  return made;
}

/// A storey of 2.5 m of rooms, its walls, floor and roof of "wall", "floor" and "roof".
Site house(std::vector<Room> rooms, Shares wall, Shares floor, Shares roof) {
  Site site = fixture::two_rooms();
  site.materials.insert_or_assign("wall", face("wall", wall));
  site.materials.insert_or_assign("floor", face("floor", floor));
  site.materials.insert_or_assign("roof", face("roof", roof));
  site.storeys[0].rooms = std::move(rooms);
  site.storeys[0].outer_wall = site.storeys[0].inner_wall = {"wall", {}};
  site.storeys[0].floor = Construction{"floor", {}};
  site.storeys[0].roof = Construction{"roof", {}};
  return site;
}

Site house(std::vector<Room> rooms, Shares all) {
  return house(std::move(rooms), all, all, all);
}

std::vector<Room> two_rooms() {
  return {{"left", rectangle({0, 0}, 4, 4)}, {"right", rectangle({4, 0}, 4, 4)}};
}

Opening door_between(const std::string& first, const std::string& second, Point2 at) {
  Opening door;
  door.name = "door";
  door.first = first;
  door.second = second;
  door.at = at;
  door.width_m = 0.9;
  door.height_m = 2;
  door.leaf = {"steel", {}};
  return door;
}

double power(const Scene& scene, const DiffuseField& diffuse_field, Point3 a, Point3 b) {
  return diffuse_field.power(diffuse_field.end(scene, a), diffuse_field.end(scene, b));
}

/// Echoes with the scene that they were made of.
struct Sounding {
  explicit Sounding(Scene of) : scene(std::move(of)), diffuse_field(scene) {}
  DiffuseEnd end(Point3 p) const { return diffuse_field.end(scene, p); }
  double power(const DiffuseEnd& a, const DiffuseEnd& b) const { return diffuse_field.power(a, b); }
  bool given_up() const { return diffuse_field.given_up(); }

  Scene scene;
  DiffuseField diffuse_field;
};

double power(const Sounding& diffuse_field, Point3 a, Point3 b) {
  return power(diffuse_field.scene, diffuse_field.diffuse_field, a, b);
}

/// lambda^2 / (2 pi), m2: of a power that hits one square metre of wall, what a radio beside it receives.
double aperture_m2(const Site& site) {
  return std::pow(wavelength_m(site.radio.frequency_hz), 2) / (2 * kPi);
}

/// What hits each square metre of a cell's faces for the power 1 sent in another.
double coupling(const Sounding& diffuse_field, const Site& site, std::uint32_t one, std::uint32_t other) {
  const DiffuseEnd a{.shares = {{one, 1}}, .indoors = true}, b{.shares = {{other, 1}}, .indoors = true};
  return diffuse_field.power(a, b) / aperture_m2(site);
}

double relative(double found, double expected) {
  return std::abs(found / expected - 1);
}

double db(double ratio) {
  return 10 * std::log10(ratio);
}

/// A seeded block of two storeys with doors, screens and obstacles, and windows nowhere.
Site block() {
  Site site = fixture::random_block(41, 2, 4, 3);
  site.storeys[1].floor_openings = {{"stairwell", rectangle({2, 3}, 3, 4)}};
  return site;
}

}  // namespace

TEST_CASE("one room of one kind of wall: the series of its reflections") {
  // 4 x 4 x 2.5 m, 72 m2 of wall, floor and roof. What a radio sends hits the walls, evenly spread: 1 / S a
  // m2. The share r of it is thrown back and hits them again, and so on: r / S + r^2 / S + ...; the first
  // hit, 1 / S, is what the straight line stands for.
  for (const Shares shares : {Shares{0.1, 0.3}, Shares{0.3, 0.6}, Shares{0.001, 0.02}, Shares{0.01, 0.95}}) {
    const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, shares);
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    double hits = 0, again = shares.reflected / 72;
    for (int k = 0; k < 2000; ++k, again *= shares.reflected) hits += again;
    CAPTURE(shares.reflected);
    const double expected = aperture_m2(site) * hits;
    CHECK(relative(expected, aperture_m2(site) * (1 / (72 * (1 - shares.reflected)) - 1.0 / 72)) <= 1e-9);
    for (const auto& [a, b] : {std::pair{Point3{1, 1, 1}, Point3{3, 2, 2}}, {{2, 2, 1}, {2, 2, 1}}}) {
      CHECK(relative(power(diffuse_field, a, b), expected) <= 1e-9);
    }
    // 0.345264 m: lambda^2 / (2 pi) is 0.0189725 m2. Reflecting 0.3, 0.0189725 x 0.3 / 0.7 / 72 = 1.12931e-4.
    if (shares.reflected == 0.3)
      CHECK(std::abs(power(diffuse_field, {1, 1, 1}, {3, 2, 2}) - 1.12931e-4) <= 1e-9);
  }
}

TEST_CASE("walls, floor and roof count by their areas, openings and lintels by theirs") {
  Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.1, 0.2}, {0.01, 0.5}, {0.05, 0.7});
  const auto expected = [&](double reflected_m2) {
    return aperture_m2(site) * (1 / (72 - reflected_m2) - 1.0 / 72);
  };
  const auto found = [&](Doors doors) { return power(Sounding{Scene(site, doors)}, {1, 1, 1}, {3, 2, 2}); };
  const double whole_m2 = 40 * 0.2 + 16 * 0.5 + 16 * 0.7;
  CHECK(relative(found(Doors::armed), expected(whole_m2)) <= 1e-9);
  // A window of 1.8 m2 over a sill: its leaf of steel reflects 0.2 (no figure of its own), open nothing.
  site.storeys[0].openings = {door_between("room", kOutside, {2, 0})};
  site.storeys[0].openings[0].sill_m = 0.4;
  CHECK(relative(found(Doors::armed), expected(whole_m2)) <= 1e-3);
  site.materials.insert_or_assign("steel", face("steel", {0.001, 0.9}));
  CHECK(relative(found(Doors::armed), expected(whole_m2 + 1.8 * 0.7)) <= 1e-3);
  CHECK(relative(found(Doors::open), expected(whole_m2 - 1.8 * 0.2)) <= 1e-3);
  // Floor and roof that the site does not describe reflect as the walls do.
  site.storeys[0].floor.reset();
  site.storeys[0].openings.clear();
  CHECK(relative(found(Doors::armed), expected(40 * 0.2 + 16 * 0.2 + 16 * 0.7)) <= 1e-9);
  // What stands open is no wall: the floor still reflects 0.2.
  site.storeys[0].openings = {door_between("room", kOutside, {2, 0})};
  CHECK(relative(found(Doors::open), expected(38.2 * 0.2 + 16 * 0.2 + 16 * 0.7)) <= 1e-3);
}

TEST_CASE("a room of any size, at any place and angle, to a fraction of a decibel") {
  const RandomStream random(44, 1);
  double worst_db = 0;
  std::uint64_t draw = 0;
  for (int i = 0; i < 200; ++i) {
    const auto uniform = [&](double from, double to) { return from + (to - from) * random.uniform(draw++); };
    const double width_m = uniform(2, 4), depth_m = uniform(2, 4),
                 angle = i % 2 == 0 ? 0 : uniform(0, kPi / 2);
    const Point2 corner{uniform(-50, 50), uniform(-50, 50)};
    const auto at = [&](double x, double y) {
      return snapped(corner + Point2{x * std::cos(angle) - y * std::sin(angle),
                                     x * std::sin(angle) + y * std::cos(angle)});
    };
    const Site site =
        house({{"room", {at(0, 0), at(width_m, 0), at(width_m, depth_m), at(0, depth_m)}}}, {0.1, 0.5});
    const Scene scene(site, Doors::armed);
    if (DiffuseFieldCells::of(scene, 800).cells.size() != 1) continue;
    const double whole_m2 = 2 * width_m * depth_m + 5 * (width_m + depth_m);
    const Point2 middle = at(width_m / 2, depth_m / 2);
    const double found = power(scene, DiffuseField{scene}, {middle.x, middle.y, 1}, {middle.x, middle.y, 2});
    worst_db = std::max(worst_db, std::abs(db(found / (aperture_m2(site) / whole_m2))));
  }
  MESSAGE("rooms of 2 to 4 m, worst " << worst_db << " dB");
  CHECK(worst_db > 0);
  CHECK(worst_db <= 0.5);
}

TEST_CASE("two equal rooms with a wall between: the 2 x 2 balance by hand") {
  // Each room has S = 72 m2, of which 10 m2 to the other. Hits x, y a m2 for the power 1 sent in the left:
  //   S x = 1 + r S x + t 10 y,  S y = r S y + t 10 x   =>   x = a / (a^2 - b^2), y = b / (a^2 - b^2)
  // with a = (1 - r) S and b = 10 t; less the same without reflection, which the straight line stands for.
  const Shares shares{0.25, 0.4};
  Site site = house(two_rooms(), shares);
  struct Hits {
    double own, other;
  };
  const auto by_hand = [&](double reflected_m2, double through_m2) {
    const double a = 72 - reflected_m2, b = through_m2;
    const double own = a / (a * a - b * b) - 72 / (72.0 * 72 - b * b);
    const double other = b / (a * a - b * b) - b / (72.0 * 72 - b * b);
    return Hits{aperture_m2(site) * own, aperture_m2(site) * other};
  };
  const auto check = [&](Doors doors, Hits expected, double tolerance) {
    const Sounding diffuse_field{Scene(site, doors)};
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 2, 2}), expected.own) <= tolerance);
    CHECK(relative(power(diffuse_field, {7, 1, 1}, {5, 2, 2}), expected.own) <= tolerance);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), expected.other) <= tolerance);
    CHECK(relative(power(diffuse_field, {7, 3, 1}, {2, 2, 2}), expected.other) <= tolerance);
  };
  check(Doors::armed, by_hand(72 * 0.4, 10 * 0.25), 1e-9);
  // A door of 1.8 m2 in it, of steel: passes 26 dB and reflects 0.2; open it passes all.
  site.storeys[0].openings = {door_between("left", "right", {4, 2})};
  const double steel = std::pow(10, -2.6);
  check(Doors::armed, by_hand(72 * 0.4 - 1.8 * 0.2, 8.2 * 0.25 + 1.8 * steel), 2e-3);
  check(Doors::open, by_hand(72 * 0.4 - 1.8 * 0.4, 8.2 * 0.25 + 1.8), 2e-3);
}

TEST_CASE("of two walls on each other passes what they throw back and forth between them") {
  // Exactly on each other, or as nearly as coordinates are typed.
  for (const double off_m : {0.0, 0.0005, -0.0012}) {
    Site site = house(two_rooms(), {0.25, 0.4});
    site.materials.insert_or_assign("lining", face("lining", {0.5, 0.45}));
    const double x = snapped(4 - off_m);
    site.storeys[0].walls = {
        {.name = "lining", .line = {{x, 0}, {4, 4}}, .construction = {"lining", {}}, .height_m = {}}};
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    const double kept = 1 - 0.45 * 0.4;
    const double back = (0.45 + 0.5 * 0.5 * 0.4 / kept + 0.4 + 0.25 * 0.25 * 0.45 / kept) / 2;
    const double a = 72 - 62 * 0.4 - 10 * back, b = 10 * 0.25 * 0.5 / kept;
    const double own = a / (a * a - b * b) - 72 / (72.0 * 72 - b * b);
    const double other = b / (a * a - b * b) - b / (72.0 * 72 - b * b);
    CAPTURE(off_m);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 2, 2}), aperture_m2(site) * own) <= 1e-3);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), aperture_m2(site) * other) <= 1e-3);
  }
}

TEST_CASE("the air between two leaves is a cell of its own, hit from both sides") {
  Site site = house(two_rooms(), {0.25, 0.4}, {0, 0.4}, {0, 0.4});
  site.materials.insert_or_assign("lining", face("lining", {0.5, 0.45}));
  site.storeys[0].walls = {
      {.name = "lining", .line = {{3.9, 0}, {3.9, 4}}, .construction = {"lining", {}}, .height_m = {}}};
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  const double lost = 2 - 0.45 - 0.4, b = 10 * 0.5 * 0.25 / lost;
  const double left = 0.6 * 62 + 10 * (1 - 0.45 - 0.5 * 0.5 / lost),
               right = 0.6 * 62 + 10 * (1 - 0.4 - 0.25 * 0.25 / lost);
  const double bare = 10 * 0.5 * 0.25 / 2, dead_left = 72 - 10 * 0.5 * 0.5 / 2,
               dead_right = 72 - 10 * 0.25 * 0.25 / 2;
  const double expected = b / (left * right - b * b) - bare / (dead_left * dead_right - bare * bare);
  // But for the cavity's own narrow floor, ceiling and ends.
  CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), aperture_m2(site) * expected) <= 0.1);
}

TEST_CASE("two rooms over each other pass each other power through the slab, and through a hole in it") {
  Site site = house({{"low", rectangle({0, 0}, 4, 4)}}, {0.05, 0.3});
  site.materials.insert_or_assign("between", face("between", {0.2, 0.3}));
  site.storeys[0].roof.reset();
  Storey upper = site.storeys[0];
  upper.name = "upper";
  upper.level_m = 2.75;
  upper.rooms = {{"high", rectangle({0, 0}, 4, 4)}};
  upper.floor = Construction{"between", 0.25};
  upper.roof = Construction{"roof", {}};
  site.storeys.push_back(upper);
  const auto check = [&](double reflected_m2, double through_m2) {
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    const double a = 72 - reflected_m2, b = through_m2;
    const double own = a / (a * a - b * b) - 72 / (72.0 * 72 - b * b);
    const double other = b / (a * a - b * b) - b / (72.0 * 72 - b * b);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 3, 2}), aperture_m2(site) * own) <= 1e-9);
    CHECK(relative(power(diffuse_field, {1, 1, 4}, {3, 3, 5}), aperture_m2(site) * own) <= 1e-9);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 3, 4}), aperture_m2(site) * other) <= 1e-9);
  };
  check(72 * 0.3, 16 * 0.2);
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 2, 1)}};
  check(72 * 0.3 - 2 * 0.3, 14 * 0.2 + 2);
  site.storeys[1].floor.reset();  // nothing described between them: nothing there
  check(72 * 0.3 - 16 * 0.3, 16);
}

TEST_CASE("nine rooms: hit after hit, followed until nothing is left; and the power is kept") {
  // 3 x 3 rooms of 4 x 4 m. The hits by hand: each room's walls throw back r and pass t to their neighbours.
  std::vector<Room> rooms;
  for (int j = 0; j < 3; ++j) {
    for (int i = 0; i < 3; ++i) {
      rooms.push_back({"room " + std::to_string(3 * j + i), rectangle({4.0 * i, 4.0 * j}, 4, 4)});
    }
  }
  const auto beside = [](int one, int other) {
    return std::abs(one % 3 - other % 3) + std::abs(one / 3 - other / 3) == 1;
  };
  for (const Shares shares : {Shares{0.2, 0.5}, Shares{0.5, 0.2}, Shares{0.05, 0.9}}) {
    const Site site = house(rooms, shares);
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    const DiffuseFieldCells cells = DiffuseFieldCells::of(Scene(site, Doors::armed), 800);
    REQUIRE(cells.cells.size() == 9);
    std::vector<std::uint32_t> cell(9);
    for (int i = 0; i < 9; ++i)
      cell[i] = cells.locate({4.0 * (i % 3) + 2, 4.0 * (i / 3) + 2, 1}).value().cell;
    double worst = 0;
    for (int from = 0; from < 9; ++from) {
      // sent[0]: never reflected so far; sent[1]: reflected. What is sent in a room hits its 72 m2.
      std::vector<double> sent[2] = {std::vector<double>(9), std::vector<double>(9)};
      std::vector<double> hits(9);
      sent[0][from] = 1;
      double thrown_back = 0, lost = 0;
      for (int k = 0; k < 3000; ++k) {
        std::vector<double> next[2] = {std::vector<double>(9), std::vector<double>(9)};
        for (int i = 0; i < 9; ++i) {
          hits[i] += sent[1][i] / 72;
          thrown_back += sent[0][i] * shares.reflected;
          next[1][i] += shares.reflected * (sent[0][i] + sent[1][i]);
          for (int j = 0; j < 9; ++j) {
            if (!beside(i, j)) continue;
            for (int s : {0, 1}) next[s][j] += 10 * shares.transmitted / 72 * sent[s][i];
          }
        }
        for (int s : {0, 1}) sent[s] = next[s];
      }
      for (int to = 0; to < 9; ++to) {
        const double found = coupling(diffuse_field, site, cell[from], cell[to]);
        worst = std::max(worst, relative(found, hits[to]));
        // Of what hits a room's faces, this is absorbed or passes out of doors, through the roof among them.
        const auto inner = std::count_if(&cell[0], &cell[9], [&](const std::uint32_t& other) {
          return beside(to, static_cast<int>(&other - cell.data()));
        });
        lost +=
            found * (72 * (1 - shares.reflected) - 10.0 * static_cast<double>(inner) * shares.transmitted);
      }
      CHECK(relative(lost, thrown_back) <= 1e-9);
      CHECK(lost <= 1);
    }
    CAPTURE(shares.reflected);
    CHECK(worst <= 1e-9);
  }
}

TEST_CASE(
    "a hall of several cells holds as much power as one cell would, nearly even where walls reflect well") {
  // Whatever is thrown back is lost to walls, floor and roof in the end: over the cells, hits times faces
  // times (1 - r) add up to r, wherever it was sent.
  for (const Shares shares : {Shares{0.05, 0.3}, Shares{0.05, 0.9}}) {
    const Site site = house({{"hall", rectangle({0, 0}, 10, 9)}}, shares);
    const Scene scene(site, Doors::armed);
    const Sounding diffuse_field{scene};
    const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, 800);
    REQUIRE(cells.cells.size() == 4);
    const double whole_m2 = 2 * 90 + 38 * 2.5;
    double least = 1e9, most = 0, kept = 0;
    for (const std::uint32_t to : {0U, 1U, 2U, 3U}) {
      // Its floor, its roof, and what its corner of the hall has of the walls.
      const DiffuseFieldCell& cell = cells.cells[to];
      const double own_m2 = 2 * cell.area_m2 + 2.5 * (5 + 4.5);
      const double hits = coupling(diffuse_field, site, 0, to);
      kept += hits * own_m2 * (1 - shares.reflected);
      least = std::min(least, hits);
      most = std::max(most, hits);
    }
    CHECK(relative(kept, shares.reflected) <= 1e-9);
    const double one_cell = shares.reflected / (whole_m2 * (1 - shares.reflected));
    MESSAGE("reflecting " << shares.reflected << ": from " << db(least / one_cell) << " to "
                          << db(most / one_cell) << " dB of one cell's");
    CHECK(least < one_cell);
    CHECK(one_cell < most);
    if (shares.reflected > 0.5) CHECK(db(most / least) <= 3);
  }
}

TEST_CASE("in the middle of its block a radio is in one cell, between two in both by its distance") {
  const Site site = house({{"hall", rectangle({0, 0}, 10, 9)}}, {0.05, 0.3});
  const Scene scene(site, Doors::armed);
  const Sounding diffuse_field{scene};
  const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, 800);
  const auto share_of = [&](Point2 p, std::uint32_t cell) {
    double share = 0;
    for (const DiffuseFieldCells::Share& one : diffuse_field.end({p.x, p.y, 1}).shares)
      share += one.cell == cell ? one.share : 0;
    return share;
  };
  for (std::uint32_t i = 0; i < cells.cells.size(); ++i) {
    const DiffuseFieldCell& cell = cells.cells[i];
    const Point2 middle = cells.storeys[0].plan.faces()[cell.face].middle;
    CHECK(std::abs(share_of(middle, i) - 1) <= 1e-9);
    for (const DiffuseFieldJoint& joint : cells.joints) {
      if (joint.one != i && joint.other != i) continue;
      const std::uint32_t other = joint.one == i ? joint.other : joint.one;
      const Point2 quarter =
          middle + 0.25 * (cells.storeys[0].plan.faces()[cells.cells[other].face].middle - middle);
      CHECK(std::abs(share_of(quarter, i) - 0.75) <= 1e-9);
      CHECK(std::abs(share_of(quarter, other) - 0.25) <= 1e-9);
    }
  }
}

TEST_CASE("swapping the ends changes the power by rounding only, indoors and out") {
  const Site site = block();
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  const RandomStream random(42, 1);
  double worst = 0, worst_of_all = 0;
  int pairs = 0, outdoors = 0;
  for (std::uint64_t i = 0; i < 1500; ++i) {
    Point3 a = fixture::random_point(random, 2 * i, 2, 4, 3);
    const Point3 b = fixture::random_point(random, 2 * i + 1, 2, 4, 3);
    if (i % 5 == 0) a.x -= 20;
    const DiffuseEnd here = diffuse_field.end(a), there = diffuse_field.end(b);
    const double forth = diffuse_field.power(here, there), back = diffuse_field.power(there, here);
    REQUIRE(std::isfinite(forth));
    REQUIRE(forth >= 0);
    const bool seen = !here.shares.empty() && !there.shares.empty();
    REQUIRE((forth > 0) == (seen && (here.indoors || there.indoors)));
    if (forth == 0) continue;
    ++pairs;
    outdoors += here.indoors && there.indoors ? 0 : 1;
    worst = std::max(worst, relative(forth, back));
    worst_of_all = std::max(worst_of_all, forth);
  }
  MESSAGE(pairs << " pairs, " << outdoors << " with an end out of doors, worst difference " << worst
                << ", most power " << db(worst_of_all) << " dB");
  CHECK(pairs > 1000);
  CHECK(outdoors > 200);
  CHECK(worst <= 1e-12);
  CHECK(worst_of_all < 0.01);
}

TEST_CASE("walls that reflect more give more power, everywhere; one that absorbs all gives none") {
  const RandomStream random(43, 1);
  std::vector<double> before(400, 0);
  for (const double reflected : {0.05, 0.2, 0.4, 0.6, 0.8}) {
    Site site = block();
    for (auto& [name, material] : site.materials) material.reflects_percent = 100 * reflected;
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    int more = 0;
    for (std::uint64_t i = 0; i < before.size(); ++i) {
      const double found = power(diffuse_field, fixture::random_point(random, 2 * i, 2, 4, 3),
                                 fixture::random_point(random, 2 * i + 1, 2, 4, 3));
      more += found >= before[i] ? 1 : 0;
      before[i] = found;
    }
    CHECK(more == static_cast<int>(before.size()));
  }
  const Site dead = house(two_rooms(), {0.25, 0});
  CHECK(power(Sounding{Scene(dead, Doors::armed)}, {1, 1, 1}, {3, 3, 1}) <= 1e-15);
}

TEST_CASE("an open door raises the power in the next room and out of doors, and lowers it in its own") {
  Site site = house({{"left", rectangle({0, 0}, 4, 4)}, {"right", rectangle({4, 0}, 4, 4)}}, {0.01, 0.6});
  site.storeys[0].openings = {door_between("left", "right", {4, 2}), door_between("right", kOutside, {8, 2})};
  const Sounding armed{Scene(site, Doors::armed)}, open{Scene(site, Doors::open)};
  const Point3 left{1, 2, 1}, right{7, 2, 1}, yard{12, 2, 1}, behind{-5, 2, 1};
  CHECK(power(open, left, right) > 3 * power(armed, left, right));
  CHECK(power(open, right, yard) > 3 * power(armed, right, yard));
  CHECK(power(open, left, left) < power(armed, left, left));
  CHECK(power(open, left, behind) < power(armed, left, behind));
}

TEST_CASE("close to an outer wall a radio is lit by half a sphere of it, whatever its distance") {
  // A wall that fills a half space, 2 pi of the sphere's 4 pi: half of what a radio in the room itself would
  // take, times what passes.
  const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.2, 0.4});
  const Scene scene(site, Doors::armed);
  const Sounding diffuse_field{scene};
  const double inside = power(diffuse_field, {2, 2, 1.25}, {1, 1, 1});
  for (const double off_m : {0.001, 0.01}) {
    for (const double along_m : {1.0, 2.0, 3.0}) {
      CAPTURE(off_m);
      CAPTURE(along_m);
      const double there = power(diffuse_field, {2, 2, 1.25}, {along_m, -off_m, 1.25});
      CHECK(std::abs(there / (0.5 * 0.2 * inside) - 1) <= 0.05);
    }
  }
}

TEST_CASE("out of doors: what passes a face, spread by its cosine; 0 between two ends out of doors") {
  // One room, seen from straight before one wall far off: this wall alone lies towards it. The wall's 10 m2
  // are hit with q a m2, of which t passes and fans out by Lambert's law: q t 10 m2 / (pi d^2) a m2 there. A
  // radio takes lambda^2 / (8 pi) of it, half of it lying in the other polarisation. From close by the wall's
  // ends are a little farther off: 2.7 m2 over d^2.
  const Shares shares{0.1, 0.5};
  const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, shares);
  const Scene scene(site, Doors::armed);
  const Sounding diffuse_field{scene};
  const double hits = 0.5 / (1 - 0.5) / 72;
  const double lambda_m = wavelength_m(site.radio.frequency_hz);
  for (const double d : {50.0, 200.0, 400.0}) {
    const double there = hits * 0.1 * 10 / (kPi * d * d) * lambda_m * lambda_m / (8 * kPi);
    CAPTURE(d);
    CHECK(relative(power(diffuse_field, {2, 2, 1.25}, {2, -d, 1.25}), there) <= 3 / (d * d) + 1e-4);
    CHECK(relative(power(diffuse_field, {2, 4 + d, 1.25}, {1, 2, 1}), there) <= 3 / (d * d) + 1e-4);
    // At 45 degrees two walls are seen, each from a slant: for one its middle is (2, 4).
    const double ahead = d / std::sqrt(2);
    const double away = std::hypot(ahead, 2 + ahead);
    CHECK(relative(power(diffuse_field, {2, 2, 1.25}, {4 + ahead, 4 + ahead, 1.25}),
                   2 * there * (ahead / away) * (d * d / (away * away))) <= 0.4 / d);
  }
  CHECK(power(diffuse_field, {-3, 2, 1}, {12, 2, 1}) == 0);
  CHECK(power(diffuse_field, {-3, 2, 1}, {-3, 2, 1}) == 0);
  CHECK(power(diffuse_field, {-1, 2, 1}, {2, 2, 6}) == 0);  // over the roof is out of doors
  // Near the wall no more than a half space: at most half of what the wall passes.
  CHECK(power(diffuse_field, {2, 2, 1.25}, {2, -0.01, 1.25}) <= aperture_m2(site) * hits * 0.1 * 0.5);
}

TEST_CASE("far from a house of many rooms its echoes fall as free space does") {
  const Site site = block();
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  const Point3 inside{4.5, 5, 1.2};
  for (const Point2 way : {Point2{-1, 0}, {0, -1}, {1, 0}, {0.6, 0.8}}) {
    const double x = way.x;
    const double y = way.y;
    // From the side that looks towards it: the faces' middles lie there.
    const Point2 side{x < 0 ? 0 : x == 1 ? 12.0 : x > 0 ? 9 : 6, y < 0 ? 0 : y > 0 ? 9.0 : 6};
    const auto at = [&](double d) {
      return power(diffuse_field, inside, Point3{side.x + d * x, side.y + d * y, 1.5});
    };
    CAPTURE(x);
    CHECK(relative(at(200) / at(400), 4) <= 0.02);
    CHECK(at(200) > 0);
  }
}

TEST_CASE(
    "within a room the power changes by less than 0.2 dB a centimetre, and not at all over its height") {
  Site site = house(
      {{"hall", {{0, 0}, {14, 0}, {14, 5}, {9, 5}, {9, 11}, {0, 11}}}, {"side", rectangle({9, 5}, 5, 6)}},
      {0.1, 0.3});
  site.storeys[0].openings = {door_between("hall", "side", {11, 5})};
  const Sounding diffuse_field{Scene(site, Doors::open)};
  double worst_db = 0;
  int steps = 0;
  const auto walk = [&](Point3 from, Point3 to) {
    const int count = static_cast<int>(std::ceil(100 * distance(from, to)));
    for (const Point3 other : {Point3{1, 1, 1}, Point3{8, 10, 1}, Point3{12, 9, 1}, Point3{30, 3, 1}}) {
      const DiffuseEnd end = diffuse_field.end(other);
      double before = 0;
      for (int i = 0; i <= count; ++i, ++steps) {
        const double f = static_cast<double>(i) / count;
        const DiffuseEnd here =
            diffuse_field.end({from.x + f * (to.x - from.x), from.y + f * (to.y - from.y), 1.2});
        REQUIRE(here.indoors);
        const double now = diffuse_field.power(here, end);
        if (i > 0) worst_db = std::max(worst_db, std::abs(db(now / before)));
        before = now;
      }
    }
  };
  walk({0.05, 0.05, 1}, {13.95, 4.95, 1});
  walk({0.05, 2, 1}, {13.95, 2, 1});
  walk({0.05, 10.95, 1}, {8.95, 4.8, 1});
  walk({4, 0.05, 1}, {4, 10.95, 1});
  walk({8.95, 10.95, 1}, {8.95, 0.05, 1});
  walk({2, 8, 1}, {8.9, 4.9, 1});
  walk({8.9, 4.9, 1}, {13.9, 4.9, 1});
  MESSAGE(steps << " steps of 1 cm, worst " << worst_db << " dB");
  CHECK(worst_db < 0.2);
  const DiffuseEnd low = diffuse_field.end({5, 5, 0.1}), high = diffuse_field.end({5, 5, 2.4});
  CHECK(diffuse_field.power(low, low) == diffuse_field.power(high, high));
}

TEST_CASE("only walls with routes and echoes on counts echoes") {
  Site site = fixture::two_rooms();
  CHECK(site.radio.reverberation);
  const auto counted = [&] {
    const Scene scene(site, Doors::armed);
    bool item = false;
    for (const LossItem& one : path_loss(scene, {1, 2, 1.5}, {7, 2, 1.5}).items)
      item |= one.cause == LossCause::reverberation;
    CHECK(item == counts_reverberation(site.radio));
    CHECK((power(scene, scene.diffuse_field(), {1, 2, 1.5}, {7, 2, 1.5}) > 0) == item);
    return item;
  };
  for (const PathLossModel model :
       {PathLossModel::free_space, PathLossModel::log_distance, PathLossModel::walls,
        PathLossModel::multi_wall, PathLossModel::site_general}) {
    CAPTURE(static_cast<int>(model));
    site.radio.model = model;
    CHECK(counted() == (model == PathLossModel::walls));
  }
  site.radio.model = PathLossModel::walls;
  site.radio.diffraction = false;
  CHECK_FALSE(counted());
  site.radio.diffraction = true;
  site.radio.reverberation = false;
  CHECK_FALSE(counted());
}

TEST_CASE("no walls, no echoes; and none default-made") {
  Site site = fixture::two_rooms();
  site.storeys[0].rooms.clear();
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  CHECK(power(diffuse_field, {1, 1, 1}, {2, 2, 1}) == 0);
  CHECK_FALSE(diffuse_field.given_up());
  CHECK(power(diffuse_field.scene, DiffuseField(), {1, 1, 1}, {2, 2, 1}) == 0);
}

TEST_CASE("with more rooms than are allowed there are no echoes, and it is said") {
  const auto rooms_of = [](int columns, int rows) {
    Site site = fixture::two_rooms();
    site.radio.reverberation = false;
    site.storeys[0].rooms.clear();
    for (int i = 0; i < columns; ++i) {
      for (int j = 0; j < rows; ++j) {
        site.storeys[0].rooms.push_back(
            {std::to_string(i) + "." + std::to_string(j), rectangle({1.0 * i, 1.0 * j}, 1, 1)});
      }
    }
    return site;
  };
  const Sounding many{Scene(rooms_of(29, 28), Doors::armed)};  // 812
  CHECK(power(many, {0.5, 0.5, 1}, {0.6, 0.6, 1}) == 0);
  CHECK(many.given_up());
  const Sounding few{Scene(rooms_of(12, 12), Doors::armed)};
  CHECK(power(few, {0.5, 0.5, 1}, {0.6, 0.6, 1}) > 0);
  CHECK_FALSE(few.given_up());
}

TEST_CASE("no closed box of metal is entered from out of doors, whatever walls stand open before it") {
  // Three long walls of metal, then a closed room: without echoes the straight line passes them all.
  Site site = fixture::two_rooms();
  site.storeys[0].rooms.clear();
  site.storeys[0].walls.clear();
  const auto add = [&](const std::string& name, Point2 from, Point2 to, const char* material) {
    site.storeys[0].walls.push_back(
        {.name = name, .line = {from, to}, .construction = {material, {}}, .height_m = {}});
  };
  site.materials.insert_or_assign("metal", fixture::measured("metal", 60));
  site.materials.insert_or_assign("brickwork", fixture::measured("brickwork", 6));
  add("a", {30, -3}, {36, -3}, "brickwork");
  add("b", {36, -3}, {36, 3}, "brickwork");
  add("c", {36, 3}, {30, 3}, "brickwork");
  add("d", {30, 3}, {30, -3}, "brickwork");
  for (const double x : {5.0, 10.0, 15.0}) add("metal " + std::to_string(x), {x, -60}, {x, 60}, "metal");
  const Point3 outside{0, 0, 1}, inside{33, 0, 1};
  const auto loss_db = [&](bool diffuse_field) {
    site.radio.reverberation = diffuse_field;
    return path_loss(Scene(site, Doors::armed), outside, inside).path_loss_db;
  };
  CHECK(std::abs(loss_db(true) - loss_db(false)) <= 3);
  CHECK(loss_db(true) > 190);
  // A house of brick behind a closed ring of metal: no end within hears more of one without than its walls
  // let by.
  site.storeys[0].walls.clear();
  site.storeys[0].rooms = {{"house", rectangle({0, 0}, 6, 5)}};
  site.storeys[0].outer_wall = {"brickwork", {}};
  add("south", {-4, -4}, {10, -4}, "metal");
  add("east", {10, -4}, {10, 9}, "metal");
  add("north", {10, 9}, {-4, 9}, "metal");
  add("west", {-4, 9}, {-4, -4}, "metal");
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  const double within = power(diffuse_field, {3, 2, 1}, {-2, 2, 1});
  for (const Point3 p : {Point3{-8, 2, 1}, Point3{3, -20, 1}, Point3{40, 40, 1}}) {
    CHECK(db(within / power(diffuse_field, {3, 2, 1}, p)) >= 55);
  }
}

TEST_CASE("a house of metal with a light roof is left and entered over its eaves") {
  Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {1e-8, 0.9}, {0, 0.4}, {0.7, 0.1});
  const auto outside = [&](Point3 p) { return power(Sounding{Scene(site, Doors::armed)}, {2, 2, 1.2}, p); };
  const Point3 low{2, -2, 0.3}, high{2, -2, 2.2}, over{2, -2, 4}, far{2, -40, 1.2};
  CHECK(outside(low) < outside(high));
  CHECK(outside(high) < outside(over));
  CHECK(outside(far) < outside(low));
  const double with = outside(high);
  CHECK(with > 1e-8);
  // Under a roof of metal nothing comes.
  site.materials.insert_or_assign("roof", face("roof", {1e-8, 0.9}));
  CHECK(outside(high) < 1e-4 * with);
  // Under another storey there are no eaves.
  site.materials.insert_or_assign("roof", face("roof", {0.7, 0.1}));
  site.storeys[0].roof.reset();
  site.storeys.push_back(fixture::storey("upper", 2.75, 2.5));
  site.storeys[1].rooms = {{"upper room", rectangle({0, 0}, 4, 4)}};
  site.storeys[1].outer_wall = {"wall", {}};
  site.storeys[1].floor = Construction{"roof", {}};
  CHECK(outside(high) < 1e-4 * with);
}

TEST_CASE("over the eaves the straight line too finds the way of less loss") {
  Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {1e-8, 0.9}, {0, 0.4}, {0.7, 0.1});
  site.radio.reverberation = false;
  const auto loss_db = [&](double height_m) {
    return path_loss(Scene(site, Doors::armed), {2, 2, 1.5}, {2, -2, height_m}).path_loss_db;
  };
  CHECK(loss_db(2.2) < loss_db(1.2));
  // 5 cm under the wall's top: half the amplitude and a little less (v = 0.12, 7.0 dB), and what the roof
  // takes.
  const double free_db = free_space_loss_db(std::hypot(4, 1.9), site.radio.frequency_hz);
  CHECK(std::abs(loss_db(3.4) - free_db - 7.0 + 10 * std::log10(0.7)) <= 0.2);
  const double with = loss_db(1.2);
  site.storeys[0].roof.reset();
  CHECK(loss_db(1.2) > with + 30);
}

TEST_CASE("echoes do not depend on how the sheet is turned") {
  double worst_db = 0;
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    const Site site = fixture::random_block(seed, 2, 3, 2);
    const RandomStream random(seed, 0x7021);
    std::uint64_t draw = 0;
    const auto uniform = [&](double from, double to) { return from + (to - from) * random.uniform(draw++); };
    const double turn = (1 + std::floor(uniform(0, 89))) * kPi / 180;
    const auto turned = [&](Point2 p) {
      return snapped(Point2{-p.x * std::cos(turn) - p.y * std::sin(turn) + 3,
                            -p.x * std::sin(turn) + p.y * std::cos(turn) - 5});
    };
    Site other = site;
    for (Storey& storey : other.storeys) {
      for (Room& room : storey.rooms) std::ranges::transform(room.corners, room.corners.begin(), turned);
      for (Opening& opening : storey.openings) opening.at = turned(opening.at);
      for (TracedWall& wall : storey.walls) wall.line = {turned(wall.line.a), turned(wall.line.b)};
      for (Obstacle& obstacle : storey.obstacles)
        std::ranges::transform(obstacle.corners, obstacle.corners.begin(), turned);
      for (FloorOpening& opening : storey.floor_openings)
        std::ranges::transform(opening.corners, opening.corners.begin(), turned);
      std::ranges::reverse(storey.rooms);
      std::ranges::reverse(storey.walls);
    }
    const Sounding one{Scene(site, Doors::armed)}, two{Scene(other, Doors::armed)};
    for (int i = 0; i < 40; ++i) {
      const Point3 a{uniform(-2, 11), uniform(-2, 8), uniform(0.3, 2.2)},
          b{uniform(-2, 11), uniform(-2, 8), uniform(3, 5)};
      const auto at = [&](Point3 p) {
        const Point2 plan = turned(p.plan());
        return Point3{plan.x, plan.y, p.z};
      };
      const double here = power(one, a, b), there = power(two, at(a), at(b));
      REQUIRE((here > 0) == (there > 0));
      if (here <= 0) continue;
      worst_db = std::max(worst_db, std::abs(db(there / here)));
      ++compared;
    }
  }
  MESSAGE(compared << " links, worst " << worst_db << " dB");
  CHECK(compared > 800);
  CHECK(worst_db <= 0.05);
}

TEST_CASE("out of doors every face that is seen counts, however many they are") {
  // Eight rooms in a row, seen from straight before their long wall: 32 m by 2.5 m, and nothing else.
  std::vector<Room> row;
  for (int i = 0; i < 8; ++i) row.push_back({std::to_string(i), rectangle({4.0 * i, 0}, 4, 4)});
  const Site site = house(row, {0.1, 0.5});
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  for (const double d : {200.0, 400.0}) {
    double sum = 0;
    for (const DiffuseFieldCells::Share& share : diffuse_field.end({16, -d, 1.25}).shares) sum += share.share;
    CHECK(relative(sum, 0.1 * 32 * 2.5 / (4 * kPi * d * d)) <= 0.01);
  }
}

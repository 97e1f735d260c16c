#include "linkmargin/link/reverberation/diffuse_field.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/reverberation/street.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include "fixtures/site_fixture.hpp"

#include <Eigen/LU>
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
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

double power(const Scene& scene, const DiffuseField& diffuse_field, Point3 a, Point3 b,
             double distance_m = 0) {
  return diffuse_field.power(*diffuse_field.end(scene, a), *diffuse_field.end(scene, b), distance_m);
}

/// Echoes with the scene that they were made of.
struct Sounding {
  explicit Sounding(Scene of) : scene(std::move(of)), diffuse_field(scene) {}
  DiffuseEnd end(Point3 p) const { return *diffuse_field.end(scene, p); }
  double power(const DiffuseEnd& a, const DiffuseEnd& b) const { return diffuse_field.power(a, b, 0); }
  bool given_up() const { return diffuse_field.given_up(); }

  Scene scene;
  DiffuseField diffuse_field;
};

double power(const Sounding& diffuse_field, Point3 a, Point3 b, double distance_m = 0) {
  return power(diffuse_field.scene, diffuse_field.diffuse_field, a, b, distance_m);
}

/// lambda^2 / (4 pi), m2: what an antenna takes of a flux.
double antenna_m2(const Site& site) {
  return std::pow(wavelength_m(site.radio.frequency_hz), 2) / (4 * kPi);
}

/// The balance written down face by face and solved with plain inverses, class by class. What is thrown back
/// once, by a slab, is taken off: ten times what a tenth of it makes.
class ByHand {
 public:
  using Reflected = std::array<double, kElevations>;

  explicit ByHand(int rooms) {
    for (Eigen::MatrixXd* of : {&upright_.met, &upright_.reflected, &upright_.passing, &level_.met,
                                &level_.reflected, &level_.passing})
      *of = Eigen::MatrixXd::Zero(rooms, rooms);
    plain_.fill(Eigen::VectorXd::Zero(rooms));
  }

  void wall(int room, double area_m2, double reflected) { add(upright_, room, area_m2, reflected); }
  void slab(int room, double area_m2, double reflected) { add(level_, room, area_m2, reflected); }
  void slab(int room, double area_m2, const Reflected& reflected) {
    add(level_, room, area_m2, 0);
    for (std::size_t i = 0; i < kElevations; ++i) plain_[i][room] += area_m2 * reflected[i];
  }
  void wall_between(int one, int other, double area_m2, Shares shares) {
    between(upright_, one, other, area_m2, shares);
  }
  void slab_between(int one, int other, double area_m2, Shares shares) {
    between(level_, one, other, area_m2, shares);
  }

  /// Of one class for a power of 1 a class.
  Eigen::MatrixXd response(std::size_t i) const {
    const double sine = kElevationSine[i];
    const double on_wall = std::sqrt(1 - sine * sine) / kPi, on_slab = sine / 2;
    const Eigen::MatrixXd lost =
        on_wall * (upright_.met - upright_.passing) + on_slab * (level_.met - level_.passing);
    Eigen::MatrixXd by_slabs = on_slab * level_.reflected;
    by_slabs.diagonal() += on_slab * plain_[i];
    const Eigen::MatrixXd none = lost.inverse();
    const Eigen::MatrixXd once = (lost - 0.1 * by_slabs).inverse();
    const Eigen::MatrixXd all = (lost - on_wall * upright_.reflected - by_slabs).inverse();
    return all - none - 10 * (once - none);
  }

  double power(const Site& site, int from, int to) const {
    double flux = 0;
    for (std::size_t i = 0; i < kElevations; ++i) flux += kElevationWeight[i] * response(i)(from, to);
    return antenna_m2(site) * flux;
  }

 private:
  struct Faces {
    Eigen::MatrixXd met, reflected, passing;
  };
  static void add(Faces& faces, int room, double area_m2, double reflected) {
    faces.met(room, room) += area_m2;
    faces.reflected(room, room) += area_m2 * reflected;
  }
  static void between(Faces& faces, int one, int other, double area_m2, Shares shares) {
    for (const int room : {one, other}) add(faces, room, area_m2, shares.reflected);
    faces.passing(one, other) += area_m2 * shares.transmitted;
    faces.passing(other, one) += area_m2 * shares.transmitted;
  }

  Faces upright_, level_;
  std::array<Eigen::VectorXd, kElevations> plain_;
};

/// A room of 4 x 4 x 2.5 m with all its faces alike.
ByHand one_room(double reflected) {
  ByHand hand(1);
  hand.wall(0, 40, reflected);
  hand.slab(0, 32, reflected);
  return hand;
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

TEST_CASE("one room of one kind of wall: each class by itself") {
  for (const Shares shares : {Shares{0.1, 0.3}, Shares{0.3, 0.6}, Shares{0.001, 0.02}, Shares{0.01, 0.95}}) {
    const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, shares);
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    CAPTURE(shares.reflected);
    const double expected = one_room(shares.reflected).power(site, 0, 0);
    for (const auto& [a, b] : {std::pair{Point3{1, 1, 1}, Point3{3, 2, 2}}, {{2, 2, 1}, {2, 2, 1}}}) {
      CHECK(relative(power(diffuse_field, a, b), expected) <= 1e-9);
    }
  }
}

TEST_CASE("what counts dies away with the distance, each class at its own rate") {
  // Of 40 m3: exp(-(met - reflected) d / V) / (met - reflected), and likewise what is taken off.
  const double reflected = 0.6;
  const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.1, reflected});
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  for (const double distance_m : {0.0, 1.0, 2.8, 12.0}) {
    double flux = 0;
    for (std::size_t i = 0; i < kElevations; ++i) {
      const double sine = kElevationSine[i];
      const double walls = 40 * std::sqrt(1 - sine * sine) / kPi, slabs = 32 * sine / 2;
      const auto later = [&](double lost_m2) { return std::exp(-lost_m2 * distance_m / 40) / lost_m2; };
      const double none = later(walls + slabs);
      flux += kElevationWeight[i] * (later((1 - reflected) * (walls + slabs)) - none -
                                     10 * (later(walls + (1 - 0.1 * reflected) * slabs) - none));
    }
    CAPTURE(distance_m);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 3, 1}, distance_m), antenna_m2(site) * flux) <= 1e-9);
  }
}

TEST_CASE("furniture takes what it neither reflects nor passes") {
  Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.1, 0.5});
  const double bare = power(Sounding{Scene(site, Doors::armed)}, {1, 1, 1}, {3, 3, 2});
  site.materials.insert_or_assign("sofa", face("sofa", {0.4, 0.1}));
  Obstacle sofa;
  sofa.name = "sofa";
  sofa.corners = rectangle({1.5, 1.5}, 1, 1);
  sofa.height_m = 1;
  sofa.construction = {"sofa", {}};
  site.storeys[0].obstacles = {sofa};
  // Four sides and the top, 5 m2, a quarter of them met by a flux, half of that kept: as much as the same
  // flux loses on a black face, which every class meets alike.
  double flux = 0;
  for (std::size_t i = 0; i < kElevations; ++i) {
    const double sine = kElevationSine[i];
    const double walls = 40 * std::sqrt(1 - sine * sine) / kPi, slabs = 32 * sine / 2, kept = 5.0 / 4 * 0.5;
    const double none = 1 / (walls + slabs + kept);
    flux += kElevationWeight[i] *
            (1 / (0.5 * (walls + slabs) + kept) - none - 10 * (1 / (walls + 0.95 * slabs + kept) - none));
  }
  const double furnished = power(Sounding{Scene(site, Doors::armed)}, {1, 1, 1}, {3, 3, 2});
  CHECK(relative(furnished, antenna_m2(site) * flux) <= 1e-9);
  CHECK(furnished < bare);
}

TEST_CASE("walls, floor and roof count by their areas, openings and lintels by theirs") {
  Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.1, 0.2}, {0.01, 0.5}, {0.05, 0.7});
  const auto found = [&](Doors doors) { return power(Sounding{Scene(site, doors)}, {1, 1, 1}, {3, 2, 2}); };
  const auto expected = [&](double leaf_m2, double leaf_reflects, bool described = true) {
    ByHand hand(1);
    hand.wall(0, 40 - leaf_m2, 0.2);
    hand.wall(0, leaf_m2, leaf_reflects);
    if (described) {
      hand.slab(0, 16, 0.5);
    } else {
      ByHand::Reflected ordinary;
      const ElevationShares floor = ordinary_floor(site.radio.frequency_hz);
      for (std::size_t i = 0; i < kElevations; ++i) ordinary[i] = floor[i].reflected;
      hand.slab(0, 16, ordinary);
    }
    hand.slab(0, 16, 0.7);
    return hand.power(site, 0, 0);
  };
  CHECK(relative(found(Doors::armed), expected(0, 0)) <= 1e-9);
  // A window of 1.8 m2 over a sill: its leaf of steel reflects 0.2 (no figure of its own), open nothing.
  site.storeys[0].openings = {door_between("room", kOutside, {2, 0})};
  site.storeys[0].openings[0].sill_m = 0.4;
  CHECK(relative(found(Doors::armed), expected(1.8, 0.2)) <= 1e-3);
  site.materials.insert_or_assign("steel", face("steel", {0.001, 0.9}));
  CHECK(relative(found(Doors::armed), expected(1.8, 0.9)) <= 1e-3);
  CHECK(relative(found(Doors::open), expected(1.8, 0)) <= 1e-3);
  // A floor that the site does not describe is an ordinary one, whatever the walls are.
  site.storeys[0].floor.reset();
  site.storeys[0].openings.clear();
  CHECK(relative(found(Doors::armed), expected(0, 0, false)) <= 1e-9);
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
    ByHand hand(1);
    hand.wall(0, 5 * (width_m + depth_m), 0.5);
    hand.slab(0, 2 * width_m * depth_m, 0.5);
    const Point2 middle = at(width_m / 2, depth_m / 2);
    const double found = power(scene, DiffuseField{scene}, {middle.x, middle.y, 1}, {middle.x, middle.y, 2});
    worst_db = std::max(worst_db, std::abs(db(found / hand.power(site, 0, 0))));
  }
  MESSAGE("rooms of 2 to 4 m, worst " << worst_db << " dB");
  CHECK(worst_db > 0);
  CHECK(worst_db <= 0.5);
}

TEST_CASE("two equal rooms with a wall between: the 2 x 2 balance by hand") {
  const Shares shares{0.25, 0.4};
  Site site = house(two_rooms(), shares);
  const auto by_hand = [&](double leaf_m2, Shares leaf) {
    ByHand hand(2);
    for (const int room : {0, 1}) {
      hand.wall(room, 30, 0.4);
      hand.slab(room, 32, 0.4);
    }
    hand.wall_between(0, 1, 10 - leaf_m2, shares);
    hand.wall_between(0, 1, leaf_m2, leaf);
    return hand;
  };
  const auto check = [&](Doors doors, const ByHand& hand, double tolerance) {
    const Sounding diffuse_field{Scene(site, doors)};
    const double own = hand.power(site, 0, 0), other = hand.power(site, 0, 1);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 2, 2}), own) <= tolerance);
    CHECK(relative(power(diffuse_field, {7, 1, 1}, {5, 2, 2}), own) <= tolerance);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), other) <= tolerance);
    CHECK(relative(power(diffuse_field, {7, 3, 1}, {2, 2, 2}), other) <= tolerance);
  };
  check(Doors::armed, by_hand(0, shares), 1e-9);
  // A door of 1.8 m2 in it, of steel: passes 26 dB and reflects 0.2; open it passes all.
  site.storeys[0].openings = {door_between("left", "right", {4, 2})};
  check(Doors::armed, by_hand(1.8, {std::pow(10, -2.6), 0.2}), 2e-3);
  check(Doors::open, by_hand(1.8, {1, 0}), 2e-3);
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
    ByHand hand(2);
    for (const int room : {0, 1}) {
      hand.wall(room, 30, 0.4);
      hand.slab(room, 32, 0.4);
    }
    hand.wall_between(0, 1, 10, {0.25 * 0.5 / kept, back});
    CAPTURE(off_m);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 2, 2}), hand.power(site, 0, 0)) <= 1e-3);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), hand.power(site, 0, 1)) <= 1e-3);
  }
}

TEST_CASE("the air between two leaves is a cell of its own, hit from both sides") {
  Site site = house(two_rooms(), {0.25, 0.4}, {0, 0.4}, {0, 0.4});
  site.materials.insert_or_assign("lining", face("lining", {0.5, 0.45}));
  site.storeys[0].walls = {
      {.name = "lining", .line = {{3.9, 0}, {3.9, 4}}, .construction = {"lining", {}}, .height_m = {}}};
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  ByHand hand(3);
  hand.wall(0, 29.5, 0.4);
  hand.slab(0, 31.2, 0.4);
  hand.wall(1, 30, 0.4);
  hand.slab(1, 32, 0.4);
  hand.wall(2, 0.5, 0.4);
  hand.slab(2, 0.8, 0.4);
  hand.wall_between(0, 2, 10, {0.5, 0.45});
  hand.wall_between(1, 2, 10, {0.25, 0.4});
  CHECK(relative(power(diffuse_field, {1, 1, 1}, {7, 2, 2}), hand.power(site, 0, 1)) <= 1e-3);
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
  const auto check = [&](double hole_m2) {
    ByHand hand(2);
    for (const int room : {0, 1}) {
      hand.wall(room, 40, 0.3);
      hand.slab(room, 16, 0.3);
    }
    hand.slab_between(0, 1, 16 - hole_m2, {0.2, 0.3});
    hand.slab_between(0, 1, hole_m2, {1, 0});
    const Sounding diffuse_field{Scene(site, Doors::armed)};
    const double own = hand.power(site, 0, 0), other = hand.power(site, 0, 1);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 3, 2}), own) <= 1e-9);
    CHECK(relative(power(diffuse_field, {1, 1, 4}, {3, 3, 5}), own) <= 1e-9);
    CHECK(relative(power(diffuse_field, {1, 1, 1}, {3, 3, 4}), other) <= 1e-9);
  };
  check(0);
  site.storeys[1].floor_openings = {{"stairwell", rectangle({1, 1}, 2, 1)}};
  check(2);
  site.storeys[1].floor.reset();  // nothing described between them: nothing there
  check(16);
}

TEST_CASE("nine rooms, each with its neighbours") {
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
    ByHand hand(9);
    for (int i = 0; i < 9; ++i) {
      hand.slab(i, 32, shares.reflected);
      for (int j = 0; j < i; ++j)
        if (beside(i, j)) hand.wall_between(i, j, 10, shares);
      const auto inner = std::count_if(rooms.begin(), rooms.end(), [&](const Room& other) {
        return beside(i, static_cast<int>(&other - rooms.data()));
      });
      hand.wall(i, 40 - 10.0 * static_cast<double>(inner), shares.reflected);
    }
    double worst = 0;
    const auto middle = [](int room) { return Point3{4.0 * (room % 3) + 2, 4.0 * (room / 3) + 2, 1}; };
    for (int from = 0; from < 9; ++from) {
      for (int to = 0; to < 9; ++to)
        worst = std::max(
            worst, relative(power(diffuse_field, middle(from), middle(to)), hand.power(site, from, to)));
    }
    CAPTURE(shares.reflected);
    CHECK(worst <= 1e-8);
  }
}

TEST_CASE("of a hall of several cells no power is lost or made") {
  // What is sent is lost to walls, floor and roof in the end: over the cells, flux times what it meets times
  // (1 - r) adds up to what was sent, wherever that was, in each class.
  for (const Shares shares : {Shares{0.05, 0.3}, Shares{0.05, 0.9}}) {
    const Site site = house({{"hall", rectangle({0, 0}, 10, 9)}}, shares);
    const Scene scene(site, Doors::armed);
    const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, 800);
    REQUIRE(cells.cells.size() == 4);
    int classes = 0;
    for (const DiffuseModes& modes : balanced_powers(scene, cells).modes) {
      if (modes.weight != 1) continue;
      ++classes;
      const Eigen::MatrixXd flux =
          modes.shape.transpose() * modes.rate.cwiseInverse().asDiagonal() * modes.shape;
      const double sine = kElevationSine[modes.elevation];
      for (Eigen::Index from = 0; from < 4; ++from) {
        double lost = 0;
        for (std::size_t to = 0; to < 4; ++to) {
          // Its corner of the hall has half of two walls.
          const double met =
              2 * cells.cells[to].area_m2 * sine / 2 + 2.5 * (5 + 4.5) * std::sqrt(1 - sine * sine) / kPi;
          lost += flux(from, static_cast<Eigen::Index>(to)) * met * (1 - shares.reflected);
        }
        CHECK(std::abs(lost - 1) <= 1e-9);
      }
    }
    CHECK(classes == 4);
  }
}

TEST_CASE("in the middle of its block a radio is in one cell, between two in both by its distance") {
  const Site site = house({{"hall", rectangle({0, 0}, 10, 9)}}, {0.05, 0.3});
  const Scene scene(site, Doors::armed);
  const DiffuseFieldCells cells = DiffuseFieldCells::of(scene, 800);
  const auto share_of = [&](Point2 p, std::uint32_t cell) {
    double share = 0;
    for (const DiffuseFieldCells::Share& one : cells.shares(cells.locate({p.x, p.y, 1}).value(), p))
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
    if (!here.indoors && !there.indoors) REQUIRE(forth == 0);
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
  CHECK(worst <= 1e-9);
  CHECK(worst_of_all < 0.02);
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
  CHECK(power(Sounding{Scene(dead, Doors::armed)}, {1, 1, 1}, {3, 3, 1}) <= 1e-12);
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

TEST_CASE("close to an outer wall a radio is lit by half a sphere of it") {
  // A wall that fills a half space, 2 pi of the sphere's 4 pi: half of what a radio in the room itself would
  // take, times what passes; some more or less, since the field is not alike at all elevations.
  const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.2, 0.4});
  const Scene scene(site, Doors::armed);
  const Sounding diffuse_field{scene};
  const double inside = power(diffuse_field, {2, 2, 1.25}, {1, 1, 1});
  for (const double off_m : {0.001, 0.01}) {
    for (const double along_m : {1.0, 2.0, 3.0}) {
      CAPTURE(off_m);
      CAPTURE(along_m);
      const double there = power(diffuse_field, {2, 2, 1.25}, {along_m, -off_m, 1.25});
      CHECK(std::abs(db(there / (0.5 * 0.2 * inside))) <= 1.7);
    }
  }
}

TEST_CASE("out of doors: what passes a face, spread by its cosine; 0 between two ends out of doors") {
  // One room, seen from straight before one wall far off: this wall alone lies towards it, and level waves
  // alone leave it that way. Its 10 m2 fill 10 / d^2 of all directions; from close by the wall's ends are a
  // little farther off: 2.7 m2 over d^2.
  const Site site = house({{"room", rectangle({0, 0}, 4, 4)}}, {0.1, 0.5});
  const Scene scene(site, Doors::armed);
  const Sounding diffuse_field{scene};
  const double level = one_room(0.5).response(0)(0, 0);
  for (const double d : {50.0, 200.0, 400.0}) {
    const double there = antenna_m2(site) * level * 0.1 * 10 / (d * d) / (4 * kPi);
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
  const Shares shares{0.1, 0.5};
  const Site site = house(row, shares);
  const Sounding diffuse_field{Scene(site, Doors::armed)};
  ByHand hand(8);
  for (int i = 0; i < 8; ++i) {
    hand.slab(i, 32, 0.5);
    hand.wall(i, i == 0 || i == 7 ? 30 : 20, 0.5);
    if (i > 0) hand.wall_between(i - 1, i, 10, shares);
  }
  const Eigen::MatrixXd level = hand.response(0);
  for (const double d : {200.0, 400.0}) {
    const double there = antenna_m2(site) * level.row(2).sum() * 0.1 * 10 / (d * d) / (4 * kPi);
    CHECK(relative(power(diffuse_field, {10, 2, 1}, {16, -d, 1.25}), there) <= 0.01);
  }
}

TEST_CASE("what leaves a room by its outer walls, and what the street brings into another") {
  // By hand: one room, its walls and slabs in balance, class by class.
  const Shares wall{0.2, 0.3}, slab{0.05, 0.4};
  const Sounding one({Scene(house({{"room", rectangle({0, 0}, 4, 4)}}, wall, slab, slab), Doors::armed)});
  const double walls_m2 = 4 * 4 * 2.5, slabs_m2 = 2 * 16;
  double leaves = 0;
  for (std::size_t i = 0; i < kElevations; ++i) {
    const double by_wall = walls_m2 * met_share(i, false), by_slab = slabs_m2 * met_share(i, true);
    leaves += kElevationWeight[i] * by_wall * wall.transmitted /
              (by_wall * (1 - wall.reflected) + by_slab * (1 - slab.reflected));
  }
  const DiffuseEnd end = one.end({1, 1, 1.2});
  // Four fronts alike: each has 1, two quarters and nothing in common with the four.
  CHECK(std::abs(end.to_street.squaredNorm() - (1 + 0.5) / 4 * leaves * leaves) <= 1e-9);
  const double wavelength = wavelength_m(one.scene.radio().frequency_hz);
  const double flux = Street{20, 40 + 2 * std::hypot(2, 2), 3}.flux_per_watt();
  CHECK(std::abs(one.diffuse_field.street_power(end, end) /
                     (wavelength * wavelength / (4 * kPi) * flux * end.to_street.squaredNorm()) -
                 1) <= 1e-9);
  CHECK(one.end({-3, 1, 1.2}).to_street.norm() == 0);

  const Sounding apart({Scene(
      house({{"left", rectangle({0, 0}, 4, 4)}, {"right", rectangle({10, 0}, 4, 4)}}, wall, slab, slab),
      Doors::armed)});
  CHECK(apart.end({1, 1, 1.2}).to_street.norm() > 0.1);
  CHECK(apart.diffuse_field.street_power(apart.end({1, 1, 1.2}), apart.end({12, 1, 1.2})) == 0);

  Site far = house(two_rooms(), wall, slab, slab);
  far.storeys[0].inner_wall = {"thick", {}};
  far.materials.insert_or_assign("thick", face("thick", {1e-8, 0.5}));
  const Point3 a{1, 1, 1.2}, b{7, 3, 1.2};
  const double with_db = path_loss(Scene(far, Doors::armed), a, b).path_loss_db;
  CHECK(path_loss(Scene(far, Doors::armed), b, a).path_loss_db == with_db);
  far.radio.street_m = 40;
  const double wide_db = path_loss(Scene(far, Doors::armed), a, b).path_loss_db;
  far.radio.surroundings = Surroundings::open;
  const double open_db = path_loss(Scene(far, Doors::armed), a, b).path_loss_db;
  CHECK(with_db < wide_db);
  CHECK(wide_db < open_db - 3);
  far.radio.surroundings = Surroundings::street;
  far.storeys[0].outer_wall = {"shut", {}};  // as metal: nothing leaves
  far.materials.insert_or_assign("shut", face("shut", {1e-9, 0.9}));
  const Sounding shut({Scene(far, Doors::armed)});
  CHECK(shut.end(a).to_street.norm() < 1e-7);
}

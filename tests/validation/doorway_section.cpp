#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/site/site.hpp"

#include "fixtures/published_table.hpp"
#include "prediction.hpp"
#include "sections.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>
#include <vector>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::PublishedTable;

constexpr double kFrequencyUsedHz = 868e6;
constexpr double kHeightM = 1.5;  ///< of both ends; the solver's world has none
constexpr double kStepM = 0.125;  ///< between the sample points of a square
constexpr double kFarM = 500;     ///< where an endless wall ends

struct Doorway {
  double from_m;
  double to_m;
  double wall_x_m = 0;  ///< in a row of rooms: which wall
};

/// What the solver was given, as a person would describe it to the program. The walls stand upright over the
/// whole height.
struct Case {
  const char* scenario;
  Point2 source;
  double wall_x_m;  ///< centre line of the wall, or of the room's left wall
  std::vector<Doorway> doorways;
  bool room;  ///< 4 m x 3 m of metal to the right of wall_x_m instead of an endless wall
  const char* material;
  double thickness_m = 0.1;
  std::vector<double>
      lines_m{};  ///< a row of square rooms between walls at these x; the first two are the y of the others

  bool row() const { return !lines_m.empty(); }
};

const std::vector<Case>& cases() {
  static const std::vector<Case> all{
      {"metal wall with a doorway", {1.83, 1.57}, 5.5, {{2.80, 3.65}}, false, "sheet"},
      {"doorway at 45 degrees", {3.0, 1.0}, 5.5, {{3.05, 3.95}}, false, "sheet"},
      {"two doorways", {2.5, 3.2}, 5.5, {{2.05, 2.95}, {5.05, 5.95}}, false, "sheet"},
      {"doorway of 2 m", {2.5, 2.0}, 5.5, {{3.0, 5.0}}, false, "sheet"},
      {"source 1 m from the wall and 1.5 m beside", {4.5, 2.5}, 5.5, {{3.55, 4.45}}, false, "sheet"},
      {"source 1 m before the doorway", {4.5, 4.0}, 5.5, {{3.55, 4.45}}, false, "sheet"},
      {"metal room from outside", {1.5, 2.3}, 3.98, {{3.05, 3.95}}, true, "sheet"},
      {"metal room from inside", {6.7, 3.9}, 3.98, {{3.05, 3.95}}, true, "sheet"},
      {"brick wall", {2.6, 1.7}, 5.5, {}, false, "masonry"},
      {"brick wall with a doorway", {2.6, 1.7}, 5.5, {{3.05, 3.95}}, false, "masonry"},
      {"brick rooms in a row", {2.5, 2.3}, 0, {}, false, "masonry", 0.1, {0.95, 5.05, 9.15, 13.25}},
      {"brick rooms with doorways",
       {2.5, 2.3},
       0,
       {{1.5, 2.4, 5.05}, {3.6, 4.5, 9.15}},
       false,
       "masonry",
       0.1,
       {0.95, 5.05, 9.15, 13.25}},
      {"thick walls in a row", {2.5, 2.3}, 0, {}, false, "concrete", 0.2, {0.9, 5.1, 9.3, 13.5}},
  };
  return all;
}

MaterialTable materials() {
  Material sheet;  // so much that nothing but its doorways counts
  sheet.name = "sheet";
  sheet.kind = MeasuredLoss{{{kFrequencyUsedHz, 100}}};
  Material masonry;
  masonry.name = "masonry";
  masonry.kind = ElectricalProperties{3.91, 0, 0.0233, 0, 0.1e9, 10e9};
  Material concrete;
  concrete.name = "concrete";
  concrete.kind = ElectricalProperties{5.24, 0, 0.0462, 0.7822, 0.1e9, 10e9};
  return {{"sheet", sheet}, {"masonry", masonry}, {"concrete", concrete}};
}

Opening opening(const Case& given, const Doorway& doorway, int number) {
  Opening made;
  made.name = "doorway " + std::to_string(number);
  made.at = snapped({given.row() ? doorway.wall_x_m : given.wall_x_m, (doorway.from_m + doorway.to_m) / 2});
  made.width_m = doorway.to_m - doorway.from_m;
  made.height_m = 3;
  made.leaf = {kNoMaterial, {}};
  if (given.room) {
    made.first = "metal room";
    made.second = kOutside;
  } else if (given.row()) {
    made.first = "room " + std::to_string(number);
    made.second = "room " + std::to_string(number + 1);
  } else {
    made.wall = "wall";
  }
  return made;
}

Site site_of(const Case& given, Adds adds) {
  Site site;
  site.name = given.scenario;
  site.radio.frequency_hz = kFrequencyUsedHz;
  choose(site.radio, adds);
  site.materials = materials();
  Storey storey;
  storey.name = "plane";
  storey.height_m = 3;
  storey.outer_wall = {given.material, given.thickness_m};
  storey.inner_wall = {given.material, given.thickness_m};
  if (given.room) storey.floor = storey.roof = Construction{"sheet", {}};
  if (given.row()) storey.floor = storey.roof = Construction{"concrete", 0.2};
  if (given.room) {
    storey.rooms = {{"metal room", rectangle(snapped({given.wall_x_m, 1.98}), 4.04, 3.04)}};
  } else if (given.row()) {
    const double low = given.lines_m[0];
    const double depth_m = given.lines_m[1] - low;
    for (std::size_t i = 0; i + 1 < given.lines_m.size(); ++i) {
      const Point2 corner = snapped({given.lines_m[i], low});
      storey.rooms.push_back({"room " + std::to_string(i + 1),
                              rectangle(corner, given.lines_m[i + 1] - given.lines_m[i], depth_m)});
    }
  } else {
    storey.walls.push_back({.name = "wall",
                            .line = {{given.wall_x_m, -kFarM}, {given.wall_x_m, kFarM}},
                            .construction = {given.material, 0.1},
                            .height_m = {}});
  }
  int number = 0;
  for (const Doorway& doorway : given.doorways) storey.openings.push_back(opening(given, doorway, ++number));
  site.storeys = {storey};
  return site;
}

/// Mean power of a square of 1 m over what free space would give there, with the spreading of two dimensions.
double square_db(const Scene& scene, Point2 source, Point2 middle) {
  double received = 0;
  double free = 0;
  for (double dx = -0.5 + kStepM / 2; dx < 0.5; dx += kStepM) {
    for (double dy = -0.5 + kStepM / 2; dy < 0.5; dy += kStepM) {
      const Point3 from{source.x, source.y, kHeightM};
      const Point3 to{middle.x + dx, middle.y + dy, kHeightM};
      const double distance_m = std::hypot(to.x - from.x, to.y - from.y);
      const double excess_db =
          path_loss(scene, from, to).path_loss_db - free_space_loss_db(distance_m, kFrequencyUsedHz);
      free += 1 / distance_m;
      received += std::pow(10, -excess_db / 10) / distance_m;
    }
  }
  return 10 * std::log10(received / free);
}

/// Where the squares of a row of the table lie.
struct Where {
  const char* name;
  std::function<bool(double x_m, double y_m)> holds;
};

std::vector<Where> places(const Case& given) {
  if (given.row()) {
    static constexpr const char* kNames[]{"first room", "second room", "third room"};
    std::vector<Where> rooms;
    for (std::size_t i = 0; i + 1 < given.lines_m.size(); ++i) {
      const double from_m = given.lines_m[i], to_m = given.lines_m[i + 1];
      rooms.push_back({kNames[i], [=](double x_m, double) { return x_m > from_m && x_m < to_m; }});
    }
    return rooms;
  }
  if (!given.room) return {{"behind the wall", [](double x_m, double) { return x_m > 6; }}};
  const auto inside = [](double x_m, double y_m) { return x_m > 4 && x_m < 8 && y_m > 2 && y_m < 5; };
  if (given.source.x > given.wall_x_m) {
    return {{"inside", inside}, {"outside, before the doorway", [](double x_m, double) { return x_m < 4; }}};
  }
  return {{"inside", inside}};
}

struct Compared {
  std::string scenario;
  std::string where;
  Deviations with_routes;
  Deviations without;
  Deviations without_echoes;
};

std::vector<Compared> compare(const PublishedTable& values) {
  std::vector<Compared> result;
  for (const Case& given : cases()) {
    const Scene with(site_of(given, Adds::all), Doors::open);
    const Scene without_echoes(site_of(given, Adds::diffraction), Doors::open);
    const Scene without(site_of(given, Adds::nothing), Doors::open);
    for (const Where& where : places(given)) {
      Compared compared{given.scenario, where.name, {}, {}, {}};
      for (const auto& row : values.rows()) {
        const Point2 middle{row.number("x_m"), row.number("y_m")};
        if (row.text("scenario") != given.scenario || !where.holds(middle.x, middle.y)) continue;
        const double reference_db = row.number("gain_mean_db");
        compared.with_routes.add(square_db(with, given.source, middle), reference_db);
        compared.without.add(square_db(without, given.source, middle), reference_db);
        compared.without_echoes.add(square_db(without_echoes, given.source, middle), reference_db);
      }
      result.push_back(compared);
    }
  }
  return result;
}

/// For the mean and the rms deviation of the first case.
constexpr double kMeanLimitDb = 1;
constexpr double kRmsLimitDb = 2;

constexpr const char* kDoorwayText = R"(
    `doorways_fdtd.csv`: a field solver in two dimensions (FDTD, Meep 1.25, 60 pixels a metre, `tests/fullwave/doorways.py`),
    a source before a wall, the mean power of each square of 1 m over 838 to 898 MHz against free space over the same
    square. The program is asked for the same mean at 64 points of each square, with a metal of 100 dB. Two dimensions have neither floor nor ceiling, three cannot be without: the metal room
    gets them of its metal, rows of rooms of 0.2 m of concrete, so that what is reflected there can only be of the
    same size.
    Mean: program
    over solver, so that a negative one is pessimistic. The first case has a limit: 2 dB rms, 1 dB in the mean. At this
    size of pixel the solver's brick loses 0.2 dB more than at finer ones, its thick concrete 0.45 dB: finer pixels and
    extrapolation put the third concrete room 0.9 dB louder than the table has it.)";

struct Extent {
  double least = 1e9;
  double most = -1e9;
  void add(double value) {
    least = std::min(least, value);
    most = std::max(most, value);
  }
  std::string text() const { return decimals(least, 0) + " to " + decimals(most, 0) + " dB"; }
};

/// What the solver finds inside the metal room, over free space.
Extent inside_room(const PublishedTable& values, const std::string& scenario) {
  Extent extent;
  for (const auto& row : values.rows()) {
    const double x_m = row.number("x_m");
    const double y_m = row.number("y_m");
    if (row.text("scenario") != scenario || x_m < 4 || x_m > 8 || y_m < 2 || y_m > 5) continue;
    extent.add(row.number("gain_mean_db"));
  }
  return extent;
}

const Compared& found(const std::vector<Compared>& all, const std::string& scenario) {
  for (const Compared& one : all) {
    if (one.scenario == scenario) return one;
  }
  throw std::runtime_error("no scenario " + scenario);
}

std::string shortfalls(const std::vector<Compared>& all, const PublishedTable& values) {
  const double bend_db = found(all, "source 1 m from the wall and 1.5 m beside").with_routes.worst();
  return paragraph("Where it falls short:") +
         list({"Sharp bends: deep in the shadow of a source that stands close to the wall and beside the "
               "doorway the "
               "program is off by up to " +
                   decimals(bend_db, 0) + " dB.",
               "A bare metal room rings. The solver finds it filled with " +
                   inside_room(values, "metal room from outside").text() +
                   " more than free space by a source outside, with " +
                   inside_room(values, "metal room from inside").text() +
                   " more by one inside. The solver's room is empty and without any loss in two dimensions, "
                   "the "
                   "program's takes up 1 % at every face in three.",
               "Behind two walls of thin brick the program brings some 3 dB more than the solver: what floor "
               "and ceiling of three dimensions throw back on the way is not in two. Behind one wall, and "
               "behind "
               "thick ones, both agree within 1 to 2 dB rms.",
               "Lintels and sills are untested here: the solver's world has two dimensions."});
}

}  // namespace

Section doorway_section() {
  const auto values = PublishedTable::read("doorways_fdtd.csv", 847);
  const std::vector<Compared> all = compare(values);
  std::vector<std::vector<std::string>> rows;
  for (const Compared& one : all) {
    rows.push_back({one.scenario, one.where, std::to_string(one.with_routes.count()),
                    with_sign(one.with_routes.mean(), 2), decimals(one.with_routes.rms(), 2),
                    decimals(one.with_routes.worst(), 1), with_sign(one.without_echoes.mean(), 2),
                    decimals(one.without_echoes.rms(), 2), with_sign(one.without.mean(), 2),
                    decimals(one.without.rms(), 2)});
  }
  Section section;
  section.kept = all.front().with_routes.count() > 0 && all.front().with_routes.rms() <= kRmsLimitDb &&
                 std::abs(all.front().with_routes.mean()) <= kMeanLimitDb;
  section.text =
      "## Doorways and rooms\n\n" + paragraph(kDoorwayText) +
      table({"case", "where", "squares", "mean dB", "rms dB", "worst dB", "mean without echoes dB",
             "rms without echoes dB", "mean of the straight line dB", "rms of the straight line dB"},
            rows) +
      "Limits of the first case kept: " + (section.kept ? "yes" : "**no**") + ".\n\n" +
      shortfalls(all, values) + "![By the doorway, and straight](../figures/corridor_route.svg)\n\n";
  return section;
}

double doorway_square_db(const std::string& scenario, Point2 middle) {
  for (const Case& given : cases()) {
    if (given.scenario == scenario)
      return square_db(Scene(site_of(given, Adds::all), Doors::open), given.source, middle);
  }
  throw std::runtime_error("no scenario " + scenario);
}

}  // namespace linkmargin::validation

#include "linkmargin/site/constructions.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

namespace linkmargin::checks {
namespace {

// Common practice, all of them: beyond these a slip of the unit or of the decimal point is likelier than the
// building.
constexpr double kTallInsideM = 12;
constexpr double kThickWallM = 1;
constexpr double kFarApartM = 50;
constexpr double kLongRoomM = 12;
constexpr double kLongerThanOthers = 4;  // than the usual room of the site is long
constexpr double kDeeperThanOthers = 2;  // a hall, which is large both ways
constexpr double kCorridorM = 2.5;       // wide: corridors may be long
constexpr std::size_t kOfCorridor = 5;   // rooms along a wide one
constexpr std::size_t kSomeRooms = 4;    // that say what is usual

struct Sides {
  double width_m = 0;
  double depth_m = 0;
  double longer_m() const { return std::max(width_m, depth_m); }
  double shorter_m() const { return std::min(width_m, depth_m); }
};

Sides sides_of(const Room& room) {
  const Box2 box = bounding_box(room.corners);
  return {box.max.x - box.min.x, box.max.y - box.min.y};
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  return *middle;
}

/// How far apart two upright rectangles are.
double apart_m(const Box2& left, const Box2& right) {
  const double x_m = std::max({0.0, left.min.x - right.max.x, right.min.x - left.max.x});
  const double y_m = std::max({0.0, left.min.y - right.max.y, right.min.y - left.max.y});
  return std::hypot(x_m, y_m);
}

/// How many other rooms of its storey a room meets.
std::size_t neighbours(const Storey& storey, const Room& room) {
  const Box2 box = bounding_box(room.corners);
  return static_cast<std::size_t>(std::ranges::count_if(storey.rooms, [&](const Room& other) {
    return &other != &room && apart_m(box, bounding_box(other.corners)) <= kWeldM;
  }));
}

void say_tall_storeys(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& storey : site.storeys) {
    if (storey.height_m <= kTallInsideM) continue;
    warnings.push_back(
        {.code = WarningCode::storey_tall,
         .arguments = {{"storey", Quoted{storey.name}}, {"height", LengthFigure{storey.height_m}}},
         .storeys = {storey.name}});
  }
}

void say_long_rooms(const Site& site, std::vector<Warning>& warnings) {
  std::vector<double> longer_m;
  std::vector<double> shorter_m;
  for (const Storey& storey : site.storeys) {
    for (const Room& room : storey.rooms) {
      longer_m.push_back(sides_of(room).longer_m());
      shorter_m.push_back(sides_of(room).shorter_m());
    }
  }
  if (longer_m.size() < kSomeRooms) return;
  const double usual_m = median(longer_m);
  const double usual_shorter_m = median(shorter_m);
  for (const Storey& storey : site.storeys) {
    for (const Room& room : storey.rooms) {
      const Sides sides = sides_of(room);
      const bool is_long = sides.longer_m() > kLongRoomM && sides.longer_m() > kLongerThanOthers * usual_m;
      const bool is_hall = sides.shorter_m() > kDeeperThanOthers * usual_shorter_m;
      if (!is_long || is_hall || sides.shorter_m() <= kCorridorM || neighbours(storey, room) > kOfCorridor)
        continue;
      if (warnings.size() >= kMostOfAKind) return;
      warnings.push_back({.code = WarningCode::room_long,
                          .arguments = {{"room", Quoted{room.name}},
                                        {"storey", Quoted{storey.name}},
                                        {"length", LengthFigure{sides.longer_m(), 1}},
                                        {"usual", LengthFigure{usual_m, 1}}},
                          .storeys = {storey.name}});
    }
  }
}

void say_far_rooms(const Storey& storey, std::vector<Warning>& warnings) {
  std::vector<Box2> boxes;
  for (const Room& room : storey.rooms) boxes.push_back(bounding_box(room.corners));
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    double nearest_m = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < boxes.size() && nearest_m > kFarApartM; ++j) {
      if (j != i) nearest_m = std::min(nearest_m, apart_m(boxes[i], boxes[j]));
    }
    if (std::isinf(nearest_m) || nearest_m <= kFarApartM) continue;
    if (warnings.size() >= kMostOfAKind) return;
    warnings.push_back(
        {.code = WarningCode::room_far_apart,
         .arguments = {{"room", Quoted{storey.rooms[i].name}}, {"distance", LengthFigure{nearest_m, 0}}},
         .storeys = {storey.name}});
  }
}

void say_thick_walls(const Site& site, std::vector<Warning>& warnings) {
  struct Found {
    std::vector<PartName> parts;
    std::vector<std::string> storeys;
  };
  std::map<std::pair<std::string, double>, Found> found;
  for (const Storey& storey : site.storeys) {
    for_each_construction(storey, [&](const Construction& construction, PartName part) {
      if (part.kind == PartKind::own || construction.thickness_m.value_or(0) <= kThickWallM) return;
      Found& of = found[{construction.material, *construction.thickness_m}];
      of.parts.push_back(std::move(part));
      if (of.storeys.empty() || of.storeys.back() != storey.name) of.storeys.push_back(storey.name);
    });
  }
  for (const auto& [made, of] : found) {
    warnings.push_back({.code = WarningCode::wall_thick,
                        .arguments = {{"material", Quoted{made.first}},
                                      {"thickness", LengthFigure{made.second}},
                                      {"parts", PartList{of.parts}}},
                        .storeys = of.storeys});
  }
}

}  // namespace

void say_odd_sizes(const Site& site, std::vector<Warning>& warnings) {
  say_tall_storeys(site, warnings);
  say_long_rooms(site, warnings);
  for (const Storey& storey : site.storeys) say_far_rooms(storey, warnings);
  say_thick_walls(site, warnings);
}

}  // namespace linkmargin::checks

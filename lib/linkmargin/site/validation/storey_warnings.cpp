#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin::checks {
namespace {

// Common practice, all of them.
constexpr double kFitM = 0.15;        // plaster, screed and rounding explain no more
constexpr double kThickSlabM = 0.5;   // where nothing says how thick a slab is
constexpr double kTallStoreyM = 8;    // over this, a slip of the unit is likelier than a hall
constexpr double kPlainSlipM = 1.5;   // how near to what would fit a level in centimetres must come
constexpr double kOverRoomsM2 = 0.1;  // less is a wall that stands a little beside the one below

/// Whether rooms of one storey lie over rooms of the other.
bool lies_over(const Storey& upper, const Storey& lower) {
  std::vector<const Room*> rooms;
  std::vector<Box2> boxes;
  for (const Storey* storey : {&upper, &lower}) {
    for (const Room& room : storey->rooms) {
      rooms.push_back(&room);
      boxes.push_back(bounding_box(room.corners));
    }
  }
  bool found = false;
  for_near_boxes(boxes, 0, [&](std::size_t i, std::size_t j) {
    const bool of_both = i < upper.rooms.size() && j >= upper.rooms.size();
    found = of_both && shared_area(rooms[i]->corners, rooms[j]->corners) > kOverRoomsM2;
    return !found;
  });
  return found;
}

/// The highest of the lower storeys that has rooms under those of a storey, or nothing.
const Storey* storey_below(const Site& site, const Storey& upper) {
  std::vector<const Storey*> lower;
  for (const Storey& storey : site.storeys) {
    if (storey.level_m < upper.level_m) lower.push_back(&storey);
  }
  std::ranges::stable_sort(lower, std::greater{}, &Storey::level_m);
  const auto below = std::ranges::find_if(lower, [&](const Storey* one) { return lies_over(upper, *one); });
  return below == lower.end() ? nullptr : *below;
}

LengthFigure height(double height_m) {
  return {std::round(height_m * 1000) / 1000 + 0.0};
}

Warning jump(const Storey& upper, const Storey& lower) {
  Warning warning{.code = WarningCode::storey_jump,
                  .arguments = {{"storey", Quoted{upper.name}},
                                {"height", height(upper.level_m - lower.level_m)},
                                {"below", Quoted{lower.name}}}};
  const double in_metres = upper.level_m / 100;
  if (std::abs(in_metres - lower.ceiling_m()) <= kPlainSlipM && in_metres > lower.level_m) {
    warning.code = WarningCode::storey_jump_centimetres;
    warning.arguments.push_back({"metres", height(in_metres)});
  }
  return warning;
}

Warning misfit(const Storey& upper, const Storey& lower, std::optional<double> slab_m) {
  Warning warning{.code = slab_m ? WarningCode::storey_misfit : WarningCode::storey_misfit_least,
                  .arguments = {{"storey", Quoted{upper.name}},
                                {"level", height(upper.level_m)},
                                {"level_below", height(lower.level_m)},
                                {"below", Quoted{lower.name}},
                                {"clear", height(lower.height_m)},
                                {"sum", height(lower.ceiling_m() + slab_m.value_or(0))}}};
  if (slab_m) warning.arguments.push_back({"slab", height(*slab_m)});
  return warning;
}

}  // namespace

void say_storey_slips(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& upper : site.storeys) {
    if (warnings.size() >= kMostOfAKind) return;
    const Storey* lower = storey_below(site, upper);
    if (lower == nullptr) continue;
    const auto say = [&](Warning warning) {
      warning.storeys = {lower->name, upper.name};
      warnings.push_back(std::move(warning));
    };
    const auto slab_m = upper.floor ? upper.floor->thickness_m : std::nullopt;
    const double gap_m = upper.level_m - lower->ceiling_m();
    const bool fits = gap_m >= slab_m.value_or(0) - kFitM - kSlackM &&
                      gap_m <= slab_m.value_or(kThickSlabM) + kFitM + kSlackM;
    if (!fits && upper.level_m - lower->level_m > kTallStoreyM) {
      say(jump(upper, *lower));
    } else if (!fits) {
      say(misfit(upper, *lower, slab_m));
    }
    if (!upper.floor) {
      say({.code = WarningCode::storey_without_floor,
           .arguments = {{"storey", Quoted{upper.name}},
                         {"below", Quoted{lower->name}},
                         {"key", std::string("floor: {material: none}")}}});
    }
  }
}

void say_closed_sizes(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& storey : site.storeys) {
    for (const ClosedSize& closed : storey.closed_sizes) {
      if (warnings.size() >= kMostOfAKind) return;
      warnings.push_back({.code = closed.is_width ? WarningCode::width_closed : WarningCode::depth_closed,
                          .arguments = {{"room", Quoted{closed.room}},
                                        {"typed", LengthFigure{closed.typed_m, 2}},
                                        {"used", LengthFigure{closed.used_m, 2}},
                                        {"other", Quoted{closed.other}}},
                          .radio = {},
                          .storeys = {storey.name}});
    }
  }
}

}  // namespace linkmargin::checks

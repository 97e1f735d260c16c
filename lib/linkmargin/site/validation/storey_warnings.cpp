#include "linkmargin/base/number_text.hpp"
#include "linkmargin/geometry/near_boxes.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

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

std::string height_text(double height_m) {
  return shortest_text(std::round(height_m * 1000) / 1000 + 0.0) + " m";
}

std::string slab_text(std::optional<double> slab_m) {
  return slab_m ? height_text(*slab_m) + " of slab" : std::string("a slab");
}

std::string jump_text(const Storey& upper, const Storey& lower) {
  std::string text = "Storey " + quoted(upper.name) + " begins " +
                     height_text(upper.level_m - lower.level_m) + " over " + quoted(lower.name) +
                     " below it: check its level_m.";
  const double in_metres = upper.level_m / 100;
  if (std::abs(in_metres - lower.ceiling_m()) <= kPlainSlipM && in_metres > lower.level_m) {
    text += " If centimetres were meant, it is " + height_text(in_metres) + ".";
  }
  return text;
}

std::string misfit_text(const Storey& upper, const Storey& lower, std::optional<double> slab_m) {
  std::string text = "Storey " + quoted(upper.name) + " begins at " + height_text(upper.level_m) +
                     ", but the " + height_text(lower.level_m) + " of " + quoted(lower.name) +
                     ", its clear height of " + height_text(lower.height_m) + " and " + slab_text(slab_m) +
                     " over it ";
  text += slab_m ? "make " + height_text(lower.ceiling_m() + *slab_m)
                 : "make at least " + height_text(lower.ceiling_m());
  return text + ": check level_m and height_m.";
}

}  // namespace

void say_storey_slips(const Site& site, std::vector<Warning>& warnings) {
  for (const Storey& upper : site.storeys) {
    if (warnings.size() >= kMostOfAKind) return;
    const Storey* lower = storey_below(site, upper);
    if (lower == nullptr) continue;
    const auto say = [&](std::string text) {
      warnings.push_back({std::move(text), {}, {lower->name, upper.name}});
    };
    const auto slab_m = upper.floor ? upper.floor->thickness_m : std::nullopt;
    const double gap_m = upper.level_m - lower->ceiling_m();
    const bool fits = gap_m >= slab_m.value_or(0) - kFitM - kSlackM &&
                      gap_m <= slab_m.value_or(kThickSlabM) + kFitM + kSlackM;
    if (!fits && upper.level_m - lower->level_m > kTallStoreyM) {
      say(jump_text(upper, *lower));
    } else if (!fits) {
      say(misfit_text(upper, *lower, slab_m));
    }
    if (!upper.floor) {
      say("Storey " + quoted(upper.name) + " stands over rooms of " + quoted(lower->name) +
          " and has no `floor`: nothing is counted between them. Where that is meant, say `floor: {material: "
          "none}`.");
    }
  }
}

}  // namespace linkmargin::checks

#include "linkmargin/analysis/placement/model/placement_places.hpp"

#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace linkmargin {
namespace {

/// Between the places of a radio that turns about its place or slides on a line, at most: they are few.
constexpr double kNearStepM = 0.25;

bool named_by_something(const Site& site, const std::string& hub) {
  const auto names = [&](const auto& served) { return served.hub == hub; };
  return std::ranges::any_of(site.devices, names) || std::ranges::any_of(site.areas, names);
}

/// Whether two radios do the same at a place and may go to the same places.
bool alike(const Site& site, const PlacedRadio& one, const PlacedRadio& other) {
  const auto apart = [&](const PlacedRadio& radio) {
    return radio.radio.fixed || radio.radio.may_move || radio.radio.mount ||
           named_by_something(site, radio.radio.name);
  };
  return !apart(one) && !apart(other) && one.repeater == other.repeater &&
         one.radio.profile == other.radio.profile && one.radio.capacity == other.radio.capacity &&
         one.radio.cable_m == other.radio.cable_m && one.radio.place.height_m == other.radio.place.height_m;
}

/// Radios that do the same at a place and may go to the same places, together.
std::vector<std::vector<PlacedRadio>> placed_kinds(const Site& site, const std::vector<PlacedRadio>& radios) {
  std::vector<std::vector<PlacedRadio>> kinds;
  for (const PlacedRadio& radio : radios) {
    const auto kind = std::ranges::find_if(
        kinds, [&](const std::vector<PlacedRadio>& known) { return alike(site, known.front(), radio); });
    if (kind == kinds.end()) {
      kinds.push_back({radio});
    } else {
      kind->push_back(radio);
    }
  }
  return kinds;
}

bool kept_out(const Site& site, const Placement& place) {
  const Room* room = checks::room_at(site.storeys[place.storey], place.at);
  return room != nullptr && room->keep_out;
}

bool turns_or_slides(const Hub& radio) {
  return radio.may_move && (std::holds_alternative<Mobility::Radius>(radio.may_move->reach) ||
                            std::holds_alternative<Mobility::Along>(radio.may_move->reach));
}

/// Numbers places, each once.
class Numbering {
 public:
  explicit Numbering(PlacementPlaces& places) : places_(places) {}

  std::uint32_t operator()(const Placement& place) {
    const auto [known, is_new] = numbers_.try_emplace({place.storey, place.at, place.height_m},
                                                      static_cast<std::uint32_t>(places_.points.size()));
    if (is_new) places_.points.push_back(place);
    return known->second;
  }

 private:
  PlacementPlaces& places_;
  std::map<std::tuple<std::size_t, Point2, double>, std::uint32_t> numbers_;
};

std::vector<Placement> candidates(const Site& site, const MountingPlaces& mounting, const PlacedRadio& radio,
                                  double step_m) {
  MountingRequest request = mounting_request(site, radio.radio);
  request.hangs = radio.present;
  return mounting.find(request, turns_or_slides(radio.radio) ? std::min(step_m, kNearStepM) : step_m);
}

}  // namespace

PlacementPlaces placement_places(const Site& site, const MountingPlaces& mounting,
                                 const std::vector<PlacedRadio>& radios, double step_m) {
  PlacementPlaces places;
  places.step_m = step_m;
  Numbering number(places);
  for (std::vector<PlacedRadio>& kind : placed_kinds(site, radios)) {
    PlaceGroup group{std::move(kind), {}};
    const PlacedRadio& first = group.radios.front();
    std::set<std::uint32_t> known;
    const auto take = [&](const Placement& place) {
      const std::uint32_t point = number(place);
      if (known.insert(point).second) group.points.push_back(point);
    };
    for (const PlacedRadio& one : group.radios) {
      if (one.radio.fixed || (one.present && !kept_out(site, one.radio.place))) take(one.radio.place);
    }
    if (!first.radio.fixed) std::ranges::for_each(candidates(site, mounting, first, step_m), take);
    places.groups.push_back(std::move(group));
  }
  return places;
}

PlacementPlaces places_near(const Site& site, const MountingPlaces& mounting, const PlacementPlaces& all,
                            const std::vector<PlacementPart>& parts, double step_m) {
  PlacementPlaces places;
  places.step_m = step_m;
  Numbering number(places);
  for (std::uint32_t g = 0; g < all.groups.size(); ++g) {
    PlaceGroup group{all.groups[g].radios, {}};
    std::vector<Placement> known;
    for (const PlacementPart part : parts) {
      if (part.group != g) continue;
      known.push_back(all.point(part));
      group.points.push_back(number(known.back()));
    }
    const PlacedRadio& first = group.radios.front();
    if (!first.radio.fixed && !known.empty()) {
      for (const Placement& place : candidates(site, mounting, first, step_m)) {
        const auto near = [&](const Placement& part) {
          return part.storey == place.storey && part != place && distance(part.at, place.at) <= 1.5 * step_m;
        };
        if (std::ranges::any_of(known, near)) group.points.push_back(number(place));
      }
    }
    places.groups.push_back(std::move(group));
  }
  return places;
}

}  // namespace linkmargin

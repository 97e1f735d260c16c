#include "linkmargin/analysis/placement/model/placement_comparison.hpp"

#include "linkmargin/analysis/placement/solver/placement_assignment.hpp"
#include "linkmargin/analysis/placement/solver/placement_solver.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/storey_extent.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <set>

namespace linkmargin {
namespace {

constexpr std::size_t kChoices = 3;
constexpr double kPriceShare = 0.5;  ///< of the work of links

/// Where a part stands, and what it is.
struct Spot {
  Placement place;
  const Room* room = nullptr;
  bool repeater = false;
};

std::vector<Spot> spots_of(const Site& site, const PlacementPlaces& places,
                           const std::vector<PlacementPart>& parts) {
  std::vector<Spot> spots;
  for (const PlacementPart part : parts) {
    const Placement& place = places.point(part);
    spots.push_back({place, checks::room_at(site.storeys[place.storey], place.at),
                     places.groups[part.group].radios.front().repeater});
  }
  return spots;
}

bool far_from_all(const Spot& spot, const std::vector<Spot>& others) {
  return std::ranges::none_of(others, [&](const Spot& other) {
    if (other.repeater != spot.repeater || other.place.storey != spot.place.storey) return false;
    if (spot.room != nullptr || other.room != nullptr) return spot.room == other.room;
    return distance(other.place.at, spot.place.at) <= kDistinctM;
  });
}

bool distinct_spots(const std::vector<Spot>& one, const std::vector<Spot>& other) {
  return std::ranges::any_of(one, [&](const Spot& spot) { return far_from_all(spot, other); });
}

/// The first hub of a layout that has a choice of places.
std::optional<std::size_t> moving_hub(const PlacementPlaces& places, const PlacementLayout& layout) {
  for (std::size_t part = 0; part < layout.parts.size(); ++part) {
    const PlaceGroup& group = places.groups[layout.parts[part].group];
    if (!group.radios.front().repeater && group.points.size() > 1) return part;
  }
  return {};
}

Point2 middle_of(const Site& site, std::size_t storey) {
  Box2 box = Box2::nothing();
  for (const Room& room : site.storeys[storey].rooms) box.take(bounding_box(room.corners));
  if (box.empty()) box = storey_extent(site, storey);
  return 0.5 * (box.min + box.max);
}

std::size_t busiest_storey(const Site& site) {
  std::vector<std::size_t> devices(site.storeys.size());
  for (const Device& device : site.devices) ++devices[device.place.storey];
  return static_cast<std::size_t>(std::ranges::max_element(devices) - devices.begin());
}

const std::string& item_name(const Site& site, std::size_t item) {
  return item < site.devices.size() ? site.devices[item].name : site.areas[item - site.devices.size()].name;
}

}  // namespace

double layout_chance(const PlacementChances& chances, const PlacementPlaces& places,
                     const PlacementLayout& layout, std::size_t item, double gain_db) {
  const PlacementRoute& route = layout.routes[item];
  const auto radio = [&](std::uint32_t part) -> const Hub& {
    return places.groups[layout.parts[part].group].radios.front().radio;
  };
  const auto place = [&](std::uint32_t part) -> const Placement& { return places.point(layout.parts[part]); };
  const std::uint32_t first = route.via.empty() ? route.hub : route.via.front();
  double chance = chances.chance(item, radio(first), place(first), gain_db);
  for (std::size_t hop = 0; hop < route.via.size(); ++hop) {
    const std::uint32_t from = route.via[hop];
    const std::uint32_t to = hop + 1 < route.via.size() ? route.via[hop + 1] : route.hub;
    chance *= chances.hop_chance(radio(from), place(from), radio(to), place(to), gain_db);
  }
  return chance;
}

std::optional<PresentLayout> PlacementComparison::present() const {
  if (site_.hubs.size() > kMostPlacedHubs || site_.repeaters.size() > kMostPlacedRepeaters) return {};
  std::vector<PlacedRadio> radios =
      placed_radios(site_, static_cast<int>(site_.hubs.size()), static_cast<int>(site_.repeaters.size()),
                    options_.anywhere);
  for (PlacedRadio& radio : radios) radio.radio.fixed = true;
  const PlacementPlaces places = placement_places(site_, mounting_, radios, options_.step_m);
  const PlacementProblem problem = chances_.problem(places, options_.threads, {}, {});
  const PlacementSolution solution = solve_placement(problem, {options_.work / 16, {}});
  if (!solution.best.exists()) return {};
  PresentLayout found{choice_report_.tell_present(places, solution.best), 1};
  for (std::size_t item = 0; item < solution.best.routes.size(); ++item)
    found.one_db_more = std::min(found.one_db_more, layout_chance(chances_, places, solution.best, item, 1));
  return found;
}

std::vector<PlacementLayout> PlacementComparison::distinct(const PlacementProblem& problem,
                                                           const PlacementPlaces& places,
                                                           const PlacementLayout& on_grid,
                                                           const PlacementPlaces& best_places,
                                                           const PlacementLayout& best) const {
  std::vector<std::vector<Spot>> known{spots_of(site_, best_places, best.parts),
                                       spots_of(site_, places, on_grid.parts)};
  const LayoutFilter may = [&](const std::vector<PlacementPart>& parts) {
    const std::vector<Spot> spots = spots_of(site_, places, parts);
    return std::ranges::all_of(known, [&](const auto& other) { return distinct_spots(spots, other); });
  };
  std::vector<PlacementLayout> found;
  while (found.size() + 1 < kChoices) {
    PlacementLayout next;
    for (std::size_t part = 0; part < on_grid.parts.size(); ++part)
      next = moved_part(problem, on_grid.parts, part, std::move(next), may);
    if (!next.exists()) break;
    next = bettered_placement(problem, std::move(next), may);
    known.push_back(spots_of(site_, places, next.parts));
    found.push_back(std::move(next));
  }
  return found;
}

std::optional<PlacementField> PlacementComparison::field(const PlacementProblem& problem,
                                                         const PlacementPlaces& places,
                                                         const PlacementLayout& best) const {
  const auto hub = moving_hub(places, best);
  if (!hub) return {};
  const PlaceGroup& group = places.groups[best.parts[*hub].group];
  const Placement& at = places.point(best.parts[*hub]);
  PlacementField field;
  field.hub = group.radios.front().radio.name;
  field.storey = at.storey;
  field.height_m = at.height_m;
  field.step_m = places.step_m;
  field.best = static_cast<double>(least_chance(best));
  const PlacementAssignment assignment(problem);
  std::vector<PlacementPart> parts = best.parts;
  for (std::uint32_t p = 0; p < group.points.size(); ++p) {
    const Placement& place = places.points[group.points[p]];
    if (place.storey != at.storey) continue;
    parts[*hub].place = p;
    const PlacementLayout layout = assignment.best(parts);
    const float worst = layout.exists() ? std::max(0.0F, least_chance(layout)) : 0;
    field.spots.push_back({place.at, static_cast<double>(worst)});
  }
  return field;
}

std::optional<PlacementChoice> PlacementComparison::middle(const PlacementProblem& problem,
                                                           const PlacementPlaces& places,
                                                           const PlacementLayout& best) const {
  const auto hub = moving_hub(places, best);
  if (!hub) return {};
  const std::size_t storey = busiest_storey(site_);
  const Point2 middle = middle_of(site_, storey);
  std::vector<PlacementPart> parts = best.parts;
  double nearest_m = 1e18;
  const PlaceGroup& group = places.groups[parts[*hub].group];
  for (std::uint32_t p = 0; p < group.points.size(); ++p) {
    const Placement& place = places.points[group.points[p]];
    const double far_m = distance(place.at, middle);
    if (place.storey != storey || far_m >= nearest_m) continue;
    nearest_m = far_m;
    parts[*hub].place = p;
  }
  if (nearest_m > 1e17 || parts[*hub] == best.parts[*hub]) return {};
  const PlacementLayout layout = PlacementAssignment(problem).best(parts);
  if (!layout.exists()) return {};
  return choice_report_.tell(places, layout);
}

std::vector<CountTradeoff> PlacementComparison::prices(const PlacementPlaces& places,
                                                       const PlacementLayout& best) const {
  const bool more_hubs = hubs_ < kMostPlacedHubs;
  const bool may_repeat =
      repeaters_ > 0 || !site_.repeaters.empty() || site_.profiles.contains(kRepeaterProfile);
  const bool more_repeaters = may_repeat && repeaters_ < kMostPlacedRepeaters;
  const std::vector<PlacedRadio> radios = placed_radios(
      site_, hubs_ + (more_hubs ? 1 : 0), repeaters_ + (more_repeaters ? 1 : 0), options_.anywhere);
  PlacementPlaces wide = placement_places(site_, mounting_, radios,
                                          std::clamp(2 * options_.step_m, kPriceStepM, kPlacementStepM.max));
  while (static_cast<double>(chances_.links(wide.points.size())) * chances_.link_cost() >
             kPriceShare * options_.link_work &&
         wide.step_m * 2 <= kPlacementStepM.max)
    wide = placement_places(site_, mounting_, radios, 2 * wide.step_m);
  for (PlaceGroup& group : wide.groups) {  // nothing is worse than what was chosen
    for (const PlacementPart part : best.parts) {
      const PlaceGroup& chosen = places.groups[part.group];
      const auto same = [&](const PlacedRadio& radio) {
        return std::ranges::any_of(chosen.radios, [&](const PlacedRadio& other) {
          return other.radio.name == radio.radio.name && other.repeater == radio.repeater;
        });
      };
      if (group.radios.front().radio.fixed || std::ranges::none_of(group.radios, same)) continue;
      wide.points.push_back(places.point(part));
      group.points.push_back(static_cast<std::uint32_t>(wide.points.size() - 1));
    }
  }
  PlacementProblem problem = chances_.problem(wide, options_.threads, {}, options_.stop);
  std::vector<CountTradeoff> prices;
  const auto add = [&](int hubs, int repeaters) {
    if (options_.stop && options_.stop()) return;
    std::set<std::pair<bool, std::string>> taken;
    for (const PlacedRadio& radio : placed_radios(site_, hubs, repeaters, options_.anywhere))
      taken.insert({radio.repeater, radio.radio.name});
    for (std::size_t g = 0; g < wide.groups.size(); ++g) {
      problem.groups[g].count =
          static_cast<int>(std::ranges::count_if(wide.groups[g].radios, [&](const PlacedRadio& radio) {
            return taken.contains({radio.repeater, radio.radio.name});
          }));
    }
    for (const PlacementItem& item : problem.items) {
      if (item.hub && problem.groups[*item.hub].count == 0) return;  // something is enrolled there
    }
    const PlacementSolution solution = solve_placement(problem, {options_.work / 8, options_.stop});
    CountTradeoff price{.hubs = hubs, .repeaters = repeaters};
    price.missing_slots = solution.missing_slots;
    price.proved = solution.status == PlacementStatus::optimal;
    if (solution.best.exists() && !problem.items.empty()) {
      const auto worst = std::ranges::min_element(solution.best.routes, {}, &PlacementRoute::chance);
      price.worst_chance = static_cast<double>(least_chance(solution.best));
      price.sum = solution.best.sum;
      price.worst = item_name(site_, static_cast<std::size_t>(worst - solution.best.routes.begin()));
    }
    prices.push_back(std::move(price));
  };
  const auto fixed = [](const auto& list) {
    return static_cast<int>(std::ranges::count_if(list, [](const auto& one) { return one.fixed; }));
  };
  if (more_hubs) add(hubs_ + 1, repeaters_);
  if (hubs_ > std::max(1, fixed(site_.hubs))) add(hubs_ - 1, repeaters_);
  if (more_repeaters) add(hubs_, repeaters_ + 1);
  if (repeaters_ > fixed(site_.repeaters)) add(hubs_, repeaters_ - 1);
  return prices;
}

}  // namespace linkmargin

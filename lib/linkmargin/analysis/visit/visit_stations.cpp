#include "linkmargin/analysis/visit/visit_stations.hpp"

#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/site/edit/move_edits.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <functional>
#include <memory>
#include <numeric>
#include <set>
#include <utility>

namespace linkmargin {
namespace {

/// What a place would do for the devices that need something, each chance counted as far as it is asked for.
struct PlaceScore {
  double distance_m = 0;        ///< of the move
  const Room* room = nullptr;   ///< of the place; null out of doors
  std::vector<double> chances;  ///< of the needy devices, in their order

  int met(double asked) const {
    return static_cast<int>(std::ranges::count_if(chances, [&](double chance) { return chance >= asked; }));
  }
  double sum(double asked) const {
    double sum = 0;
    for (const double chance : chances) sum += std::min(chance, asked);
    return sum;
  }
};

const Room* room_of(const Site& site, const Placement& place) {
  return checks::room_at(site.storeys[place.storey], place.at);
}

/// The places that are worth looking at, in their order.
std::vector<std::size_t> kept_places(const std::vector<PlaceScore>& scores, double asked) {
  std::set<std::size_t> kept;
  if (scores.empty()) return {};
  std::vector<std::size_t> order(scores.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto keep_first = [&](auto rank, std::size_t count) {
    std::ranges::stable_sort(order, {}, [&](std::size_t place) { return rank(scores[place]); });
    for (std::size_t i = 0; i < std::min(count, order.size()); ++i) kept.insert(order[i]);
  };
  // The best places of one room do the same: of each room one, by how many devices have enough, and by all
  // chances together, since spots come on top.
  const auto keep_rooms = [&](auto rank) {
    std::ranges::stable_sort(order, {}, [&](std::size_t place) { return rank(scores[place]); });
    std::set<const Room*> rooms;
    for (const std::size_t place : order) {
      if (rooms.size() < kKeptPlaces && rooms.insert(scores[place].room).second) kept.insert(place);
    }
  };
  keep_rooms([&](const PlaceScore& score) { return std::pair(-score.met(asked), -score.sum(asked)); });
  keep_rooms([&](const PlaceScore& score) { return -score.sum(asked); });
  keep_first([&](const PlaceScore& score) { return std::pair(-score.met(asked), score.distance_m); }, 1);
  for (std::size_t device = 0; device < scores.front().chances.size(); ++device) {
    keep_first([&](const PlaceScore& score) { return -score.chances[device]; }, 1);
    keep_first(
        [&](const PlaceScore& score) { return std::pair(score.chances[device] < asked, score.distance_m); },
        1);
  }
  return {kept.begin(), kept.end()};
}

/// The first name of a kind that is not taken: "repeater 2".
std::string unused_name(const Site& site, const std::string& kind, const std::set<std::string>& taken) {
  const auto has = [](const auto& radios, const std::string& name) {
    return std::ranges::any_of(radios, [&](const auto& radio) { return radio.name == name; });
  };
  for (int number = kind == "hub" ? 2 : 1;; ++number) {
    std::string name = kind + " " + std::to_string(number);
    const bool used = has(site.repeaters, name) || has(site.hubs, name) || has(site.devices, name) ||
                      has(site.areas, name) || taken.contains(name);
    if (!used) return name;
  }
}

VisitEffort effort_of(SharedKind kind) {
  switch (kind) {
    case SharedKind::spacer:
      return {.minutes = 1};
    case SharedKind::hub_moved:
    case SharedKind::repeater_moved:
      return {.holes = 1};
    case SharedKind::repeater_added:
      return {.parts = 1, .holes = 1};
    case SharedKind::hub_added:
      break;
  }
  return {.parts = 3, .holes = 1};
}

bool is_added(const StationPlace& place) {
  return !place.from.has_value();
}

/// A device that needs something, as one end of its links with all places.
struct NeedyEnd {
  std::size_t device;
  std::shared_ptr<const LinkEndpoint> from;
};

/// @param place_at  of a place
/// @param chance  of a place and a device, called from several threads
std::vector<PlaceScore> scored(const RelocationSearch& search, const std::vector<std::size_t>& needy,
                               std::size_t places,
                               const std::function<const Placement&(std::size_t place)>& place_at,
                               const std::function<double(std::size_t place, const NeedyEnd&)>& chance) {
  std::vector<NeedyEnd> ends;
  for (const std::size_t device : needy) {
    const Point3 at = search.site.point(search.site.devices[device].place);
    ends.push_back({device, std::make_shared<const LinkEndpoint>(search.scene, at)});
  }
  std::vector<PlaceScore> scores(places);
  parallel_for(places, search.options.threads, [&](std::size_t i) {
    scores[i].room = room_of(search.site, place_at(i));
    for (const NeedyEnd& end : ends) scores[i].chances.push_back(chance(i, end));
  });
  return scores;
}

}  // namespace

VisitStations::VisitStations(const RelocationSearch& search) : search_(search) {
  const Site& site = search.site;
  for (std::size_t i = 0; i < site.hubs.size(); ++i)
    places_.push_back({SharedKind::hub_moved, site.hubs[i].name, site.hubs[i].place, site.hubs[i],
                       search.stations.hubs[i]});
  for (const Repeater& repeater : site.repeaters) {
    const HubEndpoint* known = search.stations.find(repeater.name);
    places_.push_back(
        {SharedKind::repeater_moved, repeater.name, repeater.place, repeater,
         known != nullptr ? *known : hub_endpoint(site, search.scene, as_hub(repeater), search.nearby)});
  }
  present_ = places_.size();
}

VisitStations::VisitStations(const RelocationSearch& search, const std::vector<HubMove>& moves,
                             const std::vector<RepeaterPlace>& repeaters,
                             const std::vector<std::size_t>& needy)
    : VisitStations(search) {
  add_moves(moves, needy);
  add_repeaters(repeaters, needy);
  add_hubs(needy);
  add_sets();
}

void VisitStations::add_moves(const std::vector<HubMove>& moves, const std::vector<std::size_t>& needy) {
  for (std::size_t station = 0; station < present_; ++station) {
    std::vector<const HubMove*> of_station;
    std::vector<PlaceScore> scores;
    for (const HubMove& move : moves) {
      if (move.station != station) continue;
      of_station.push_back(&move);
      scores.push_back({move.distance_m, room_of(search_.site, move.at), {}});
      for (const std::size_t device : needy)
        scores.back().chances.push_back(move.then[device].pass_probability);
    }
    for (const std::size_t i : kept_places(scores, search_.options.chance)) {
      StationPlace place = places_[station];
      if (of_station[i]->spaced) place.kind = SharedKind::spacer;
      std::visit([&](auto& radio) { put_as(radio, *of_station[i]); }, place.radio);
      const Hub* hub = std::get_if<Hub>(&place.radio);
      place.endpoint =
          hub_endpoint(search_.site, search_.scene,
                       hub != nullptr ? *hub : as_hub(std::get<Repeater>(place.radio)), search_.nearby);
      places_.push_back(std::move(place));
    }
  }
}

void VisitStations::add_repeaters(const std::vector<RepeaterPlace>& places,
                                  const std::vector<std::size_t>& needy) {
  const Site& site = search_.site;
  const std::vector<RepeaterPlace> repeaters = thinned(places, kMostRepeaterPlacesAdded);
  const auto place_at = [&](std::size_t i) -> const Placement& { return repeaters[i].repeater.place; };
  const auto scores =
      scored(search_, needy, repeaters.size(), place_at, [&](std::size_t i, const NeedyEnd& end) {
        RepeaterEndpoint at = repeaters[i].endpoint;
        at.hears.from = end.from;
        return link_by(site, predicted_link(site, site.devices[end.device], at.hears), at,
                       search_.fading_model)
            .pass_probability;
      });
  for (const std::size_t i : kept_places(scores, search_.options.chance))
    places_.push_back({SharedKind::repeater_added,
                       repeaters[i].repeater.name,
                       {},
                       repeaters[i].repeater,
                       repeaters[i].endpoint.hears});
}

/// Like the first hub, and where that could hang.
void VisitStations::add_hubs(const std::vector<std::size_t>& needy) {
  const Site& site = search_.site;
  if (site.hubs.empty()) return;
  Hub hub = site.hubs.front();
  hub.name = unused_name(site, "hub", {});
  hub.mount.reset();
  MountingRequest request = mounting_request(site, hub);
  request.may_move.reset();
  request.hangs = false;
  std::vector<StationPlace> added;
  for (const Placement& place :
       thinned(search_.mounting.find(request, kRepeaterStepM), kMostHubPlacesAdded)) {
    hub.place = place;
    added.push_back(
        {SharedKind::hub_added, hub.name, {}, hub, hub_endpoint(site, search_.scene, hub, search_.nearby)});
  }
  if (added.empty() || !added.front().endpoint.radio.sensitivity) return;
  const auto place_at = [&](std::size_t i) -> const Placement& { return added[i].place(); };
  const auto scores = scored(search_, needy, added.size(), place_at, [&](std::size_t i, const NeedyEnd& end) {
    HubEndpoint at = added[i].endpoint;
    at.from = end.from;
    return search_.brief(predicted_link(site, site.devices[end.device], at)).pass_probability;
  });
  for (const std::size_t i : kept_places(scores, search_.options.chance))
    places_.push_back(std::move(added[i]));
}

void VisitStations::add_sets() {
  const auto fits = [&](const StationSet& set, std::size_t change) {
    const StationPlace& next = places_[place_of(change)];
    std::size_t added = is_added(next) ? 1 : 0;
    for (const std::size_t other : set.changes) {
      const StationPlace& known = places_[place_of(other)];
      added += is_added(known) ? 1 : 0;
      const bool same_place = known.place() == next.place();
      const bool both_added = is_added(known) && is_added(next) && known.kind == next.kind;
      if (same_place || (!both_added && known.name == next.name)) return false;
    }
    return added <= kMostAdded;
  };
  const std::size_t changes = places_.size() - present_;
  const std::size_t most = changes > kManyPlaces ? kMostChanges - 1 : kMostChanges;
  for (std::size_t from = 0, to = 1; to > from;) {
    for (std::size_t i = from; i < to; ++i) {
      if (sets_[i].changes.size() == most) continue;
      const std::size_t first = sets_[i].changes.empty() ? 0 : sets_[i].changes.back() + 1;
      for (std::size_t change = first; change < changes; ++change) {
        if (!fits(sets_[i], change)) continue;
        StationSet more = sets_[i];
        more.changes.push_back(change);
        more.effort = more.effort + effort_of(places_[place_of(change)].kind);
        sets_.push_back(std::move(more));
      }
    }
    from = std::exchange(to, sets_.size());
  }
}

StandingStations VisitStations::standing(const StationSet& set) const {
  StandingStations found;
  std::vector<NamedChange> all;
  for (std::size_t i = 0; i < present_; ++i) all.push_back({places_[i].name, i});
  std::set<std::string> taken;
  for (const std::size_t change : set.changes) {
    const StationPlace& place = places_[place_of(change)];
    if (is_added(place)) {
      const bool is_hub = std::holds_alternative<Hub>(place.radio);
      const std::string name = unused_name(search_.site, is_hub ? "hub" : "repeater", taken);
      taken.insert(name);
      all.push_back({name, place_of(change)});
    } else {
      std::ranges::find(all, place.name, &NamedChange::name)->place = place_of(change);
    }
    found.changes.push_back({is_added(place) ? all.back().name : place.name, place_of(change)});
  }
  std::vector<HubEndpoint> hubs;
  std::vector<Repeater> repeaters;
  std::vector<HubEndpoint> hears;
  for (const NamedChange& one : all) {
    found.place[one.name] = one.place;
    HubEndpoint endpoint = places_[one.place].endpoint;
    endpoint.name = one.name;
    if (std::holds_alternative<Hub>(places_[one.place].radio)) {
      hubs.push_back(std::move(endpoint));
      continue;
    }
    repeaters.push_back(std::get<Repeater>(places_[one.place].radio));
    repeaters.back().name = one.name;
    hears.push_back(std::move(endpoint));
  }
  found.stations = stations(search_.site, search_.fading_model, std::move(hubs), repeaters, std::move(hears));
  return found;
}

std::vector<Edit> VisitStations::edits(const std::vector<NamedChange>& changes) const {
  const std::vector<SiteRadio> radios = site_radios(search_.site);
  std::vector<Edit> edits;
  for (const NamedChange& change : changes) {
    const StationPlace& to = places_[change.place];
    const Hub* hub = std::get_if<Hub>(&to.radio);
    const std::string_view map = hub != nullptr ? "hubs" : "repeaters";
    const Placement& at = to.place();
    if (to.from) {
      const auto known = std::ranges::find_if(
          radios, [&](const SiteRadio& radio) { return radio.map == map && radio.name == change.name; });
      if (to.kind == SharedKind::spacer) {
        edits.push_back(spacer_edit(*known));
      } else {
        for (Edit& edit : move_edits(search_.site, *known, at)) edits.push_back(std::move(edit));
      }
      continue;
    }
    edits.push_back({checks::pointer({map, change.name}),
                     NewRadio{hub != nullptr ? hub->profile : std::get<Repeater>(to.radio).profile,
                              search_.site.storeys[at.storey].name, at.at, at.height_m,
                              hub != nullptr ? hub->capacity : std::nullopt}});
  }
  return edits;
}

}  // namespace linkmargin

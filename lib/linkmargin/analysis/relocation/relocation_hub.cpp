#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/site/edit/move_edits.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::size_t kMostHubPlaces = 100;

/// A smaller loss of chance is none.
constexpr double kLeastLoss = 0.01;

/// The name of the hub or repeater at HubMove::station.
const std::string& name_of(const RelocationSearch& search, std::size_t station) {
  return station_name(search.site, station);
}

/// All hubs and repeaters, one of them moved.
Stations stations_after(const RelocationSearch& search, const HubMove& move) {
  const std::size_t station = move.station;
  std::vector<HubEndpoint> hubs = search.stations.hubs;
  std::vector<Repeater> repeaters = search.site.repeaters;
  std::vector<HubEndpoint> hears;
  if (station < hubs.size()) {
    Hub moved = search.site.hubs[station];
    put_as(moved, move);
    hubs[station] = hub_endpoint(search.site, search.scene, moved, search.nearby);
  } else {
    put_as(repeaters[station - hubs.size()], move);
  }
  for (std::size_t r = 0; r < repeaters.size(); ++r) {
    const HubEndpoint* known = search.stations.find(repeaters[r].name);
    const bool stays = known != nullptr && r + hubs.size() != station;
    hears.push_back(stays ? *known
                          : hub_endpoint(search.site, search.scene, as_hub(repeaters[r]), search.nearby));
  }
  return stations(search.site, search.fading_model, std::move(hubs), repeaters, std::move(hears));
}

/// What each device's link with each hub and repeater is where all stand as they do.
class PresentHops {
 public:
  explicit PresentHops(const RelocationSearch& search) : search_(search) {
    of_device_.resize(search.site.devices.size());
    parallel_for(of_device_.size(), search.options.threads, [&](std::size_t i) {
      const auto add = [&](const HubEndpoint& station) {
        if (station.radio.sensitivity)
          of_device_[i].emplace(station.name, predicted_link(search.site, search.site.devices[i], station));
      };
      std::ranges::for_each(search.stations.hubs, add);
      for (const RepeaterEndpoint& repeater : search.stations.repeaters) add(repeater.hears);
    });
  }

  /// The link that serves a device once one of them stands elsewhere.
  Link after(const Stations& stations, std::size_t device, const std::string& moved) const {
    const Device served = search_.as_read(device);
    return predicted_serving_link(search_.site, served, stations, search_.fading_model,
                                  [&](const HubEndpoint& station) {
                                    const auto known = of_device_[device].find(station.name);
                                    return station.name == moved || known == of_device_[device].end()
                                               ? predicted_link(search_.site, served, station)
                                               : known->second;
                                  });
  }

 private:
  const RelocationSearch& search_;
  std::vector<std::map<std::string, Link>> of_device_;
};

bool goes_by(const Link& link, const std::string& station) {
  return link.hub == station || std::ranges::find(link.via, station) != link.via.end();
}

/// The radio that a move is of, as it hangs, and how far it may go.
MountingRequest movable(const RelocationSearch& search, std::size_t station) {
  const Site& site = search.site;
  if (station < site.hubs.size()) {
    MountingRequest request = mounting_request(site, site.hubs[station]);
    request.may_move = mobility(site, site.hubs[station]);
    return request;
  }
  const Repeater& repeater = site.repeaters[station - site.hubs.size()];
  MountingRequest request = mounting_request(site, repeater);
  request.may_move = mobility(repeater);
  return request;
}

void name_changes(const RelocationSearch& search, const HubMove& move, std::size_t device, Remedy& remedy) {
  for (std::size_t other = 0; other < move.then.size(); ++other) {
    if (other == device) continue;
    const bool before = search.enough(search.present[other].pass_probability);
    const bool after = search.enough(move.then[other].pass_probability);
    if (after == before) continue;
    (after ? remedy.gains : remedy.loses).push_back(search.site.devices[other].name);
  }
}

/// Another device is harmed when it had enough and has no more, loses chance without having had enough, or
/// gets weak.
bool harmless(const RelocationSearch& search, const HubMove& move, std::size_t device) {
  for (std::size_t i = 0; i < move.then.size(); ++i) {
    if (i == device) continue;
    const PassSummary& before = search.present[i];
    const PassSummary& after = move.then[i];
    const bool had_enough = search.enough(before.pass_probability);
    if (had_enough && !search.enough(after.pass_probability)) return false;
    if (!had_enough && after.pass_probability < before.pass_probability - kLeastLoss) return false;
    if (!before.weak && after.weak) return false;
  }
  return true;
}

/// What a move of a hub or repeater brings to a device, and what it changes of others.
Remedy remedy_by(const RelocationSearch& search, const HubMove& move, std::size_t device, RemedyKind kind) {
  Remedy remedy{.kind = kind, .radio = name_of(search, move.station)};
  search.complete(remedy, device,
                  predicted_serving_link(search.site, search.as_read(device), stations_after(search, move),
                                         search.fading_model),
                  search.site.devices[device].place);
  name_changes(search, move, device, remedy);
  return remedy;
}

}  // namespace

std::vector<HubMove> hub_moves(const RelocationSearch& search) {
  std::vector<HubMove> moves;
  const std::vector<SiteRadio> radios = site_radios(search.site);
  for (std::size_t station = 0; station < search.site.hubs.size() + search.site.repeaters.size(); ++station) {
    const MountingRequest radio = movable(search, station);
    if (radios[station].mount) moves.push_back({station, radio.place, 0, true, {}, {}});
    for (const Placement& at : thinned(move_places(search.mounting, radio, kHubStepM), kMostHubPlaces))
      moves.push_back({station, at, distance(at.at, radio.place.at), false, {}, {}});
  }
  if (moves.empty()) return moves;
  const PresentHops hops(search);
  parallel_for(moves.size(), search.options.threads, [&](std::size_t i) {
    HubMove& move = moves[i];
    const std::string& name = name_of(search, move.station);
    const Stations stations = stations_after(search, move);
    for (std::size_t device = 0; device < search.site.devices.size(); ++device) {
      const Link link = hops.after(stations, device, name);
      move.then.push_back(search.brief(link));
      move.serves.push_back(goes_by(link, name) ? 1 : 0);
    }
  });
  return moves;
}

std::optional<Remedy> moved_hub(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                std::size_t device, bool repeater) {
  const HubMove* chosen = nullptr;
  for (const HubMove& move : moves) {
    if (move.spaced || repeater != (move.station >= search.site.hubs.size())) continue;
    if (move.serves[device] == 0 || !harmless(search, move, device)) continue;
    const double chance = move.then[device].pass_probability;
    const bool enough = search.enough(chance);
    if (chosen != nullptr) {
      const double best = chosen->then[device].pass_probability;
      if (search.enough(best) ? !enough || move.distance_m >= chosen->distance_m : chance <= best) continue;
    }
    chosen = &move;
  }
  if (chosen == nullptr) return {};
  if (!search.helps(device, chosen->then[device])) return {};
  Remedy remedy =
      remedy_by(search, *chosen, device, repeater ? RemedyKind::repeater_moved : RemedyKind::hub_moved);
  remedy.place = chosen->at;
  remedy.distance_m = chosen->distance_m;
  remedy.edits = move_edits(search.site, site_radios(search.site)[chosen->station], chosen->at);
  return remedy;
}

std::optional<Remedy> spaced_station(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                     std::size_t device) {
  const HubMove* best = nullptr;
  for (const HubMove& move : moves) {
    if (!move.spaced || move.serves[device] == 0 || !harmless(search, move, device)) continue;
    if (best == nullptr || move.then[device].pass_probability > best->then[device].pass_probability)
      best = &move;
  }
  if (best == nullptr || !search.helps(device, best->then[device])) return {};
  Remedy remedy = remedy_by(search, *best, device, RemedyKind::station_spacer);
  remedy.edits = {spacer_edit(site_radios(search.site)[best->station])};
  return remedy;
}

std::optional<Remedy> other_hub(const RelocationSearch& search, std::size_t device) {
  const Device& enrolled = search.site.devices[device];
  if (!enrolled.hub) return {};  // it is with the best already
  Device free = enrolled;
  free.hub.reset();
  free.via = kDirect;
  const Link link = predicted_serving_link(search.site, free, search.stations, search.fading_model);
  if (link.hub == *enrolled.hub) return {};
  Remedy remedy{.kind = RemedyKind::other_hub, .radio = link.hub};
  search.complete(remedy, device, link, enrolled.place);
  if (!search.helps(device, *remedy.expected)) return {};
  remedy.edits = {Edit{checks::pointer({"devices", enrolled.name, "hub"}), link.hub}};
  if (enrolled.via)
    remedy.edits.push_back({checks::pointer({"devices", enrolled.name, "via"}), std::string(kDirect)});
  return remedy;
}

}  // namespace linkmargin

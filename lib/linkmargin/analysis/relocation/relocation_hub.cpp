#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kMostHubPlaces = 100;

/// A smaller loss of chance is none.
constexpr double kLeastLoss = 0.01;

constexpr double kAnywhereM = 1e9;

/// Every so manyth of the places, for they lie in order of distance.
std::vector<Point2> thinned(const std::vector<Point2>& places) {
  const std::size_t stride = (places.size() + kMostHubPlaces - 1) / kMostHubPlaces;
  std::vector<Point2> kept;
  for (std::size_t i = 0; i < places.size(); i += stride) kept.push_back(places[i]);
  return kept;
}

/// A hub of the site at another place.
HubEndpoint hub_at(const RelocationSearch& search, std::size_t hub, Point2 at) {
  Hub moved = search.site.hubs[hub];
  moved.place.at = at;
  return hub_endpoint(search.site, search.scene, moved, search.nearby);
}

/// All hubs but one, where any other may serve the device.
std::optional<Link> without_hub(const RelocationSearch& search, std::size_t device, std::size_t hub) {
  const Device served = search.as_read(device);
  std::vector<HubEndpoint> others = search.hubs;
  others.erase(others.begin() + static_cast<std::ptrdiff_t>(hub));
  const auto may = [&](const HubEndpoint& other) {
    return other.radio.sensitivity && (!served.hub || *served.hub == other.name);
  };
  if (std::ranges::none_of(others, may)) return {};
  return predicted_serving_link(search.site, served, others);
}

/// The link that then serves a device: with the hub that moved, or with another.
Link link_after(const RelocationSearch& search, std::size_t device, const HubEndpoint& moved,
                const std::optional<Link>& other) {
  const Device served = search.as_read(device);
  const bool may = moved.radio.sensitivity && (!served.hub || *served.hub == moved.name);
  if (!may) return *other;
  Link link = predicted_link(search.site, served, moved);
  return other && other->weaker().margin > link.weaker().margin ? *other : link;
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

}  // namespace

std::vector<HubMove> hub_moves(const RelocationSearch& search) {
  const std::size_t devices = search.site.devices.size();
  std::vector<HubMove> moves;
  std::vector<std::vector<std::optional<Link>>> others(search.site.hubs.size());
  for (std::size_t h = 0; h < search.site.hubs.size(); ++h) {
    const Hub& hub = search.site.hubs[h];
    if (hub.fixed) continue;
    for (const Point2 at :
         thinned(move_places(search.scene, search.site, hub.place, hub.may_move, kHubStepM)))
      if (distance(at, hub.place.at) <= hub.near_mains_m.value_or(kAnywhereM))
        moves.push_back({h, at, distance(at, hub.place.at), {}, {}});
    if (moves.empty() || moves.back().hub != h) continue;
    for (std::size_t device = 0; device < devices; ++device)
      others[h].push_back(without_hub(search, device, h));
  }
  parallel_for(moves.size(), search.options.threads, [&](std::size_t i) {
    HubMove& move = moves[i];
    const HubEndpoint moved = hub_at(search, move.hub, move.at);
    for (std::size_t device = 0; device < devices; ++device) {
      const Link link = link_after(search, device, moved, others[move.hub][device]);
      move.then.push_back(search.brief(link));
      move.serves.push_back(link.hub == moved.name ? 1 : 0);
    }
  });
  return moves;
}

std::optional<Remedy> moved_hub(const RelocationSearch& search, const std::vector<HubMove>& moves,
                                std::size_t device) {
  const HubMove* chosen = nullptr;
  for (const HubMove& move : moves) {
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
  const Hub& hub = search.site.hubs[chosen->hub];
  Remedy remedy{.kind = RemedyKind::hub_moved, .radio = hub.name};
  remedy.place = Placement{hub.place.storey, chosen->at, hub.place.height_m};
  remedy.distance_m = chosen->distance_m;
  const HubEndpoint moved = hub_at(search, chosen->hub, chosen->at);
  const Link link = link_after(search, device, moved, without_hub(search, device, chosen->hub));
  remedy.expected = search.expected(link);
  remedy.enough = search.enough(remedy.expected->pass_probability);
  remedy.edits = {Edit{checks::pointer({"hubs", hub.name, "at_m"}), chosen->at}};
  name_changes(search, *chosen, device, remedy);
  return remedy;
}

std::optional<Remedy> other_hub(const RelocationSearch& search, std::size_t device) {
  const Device& enrolled = search.site.devices[device];
  if (!enrolled.hub) return {};  // it is with the best already
  Device free = enrolled;
  free.hub.reset();
  const Link link = predicted_serving_link(search.site, free, search.hubs);
  if (link.hub == *enrolled.hub) return {};
  Remedy remedy{.kind = RemedyKind::other_hub, .radio = link.hub};
  remedy.expected = search.expected(link);
  remedy.enough = search.enough(remedy.expected->pass_probability);
  remedy.edits = {Edit{checks::pointer({"devices", enrolled.name, "hub"}), link.hub}};
  return remedy;
}

}  // namespace linkmargin

#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kMostRepeaterPlaces = 60;

/// A repeater as the hub of a device, for the first hop.
HubEndpoint as_hub(const RelocationSearch& search, const Repeater& repeater) {
  Hub hub{.name = repeater.name, .profile = repeater.profile, .place = repeater.place};
  hub.mount = repeater.mount;
  return hub_endpoint(search.site, search.scene, hub, search.nearby);
}

/// The second hop: the repeater as a device of its hub.
Link to_hub(const RelocationSearch& search, const Repeater& repeater) {
  Device device{.name = repeater.name, .profile = repeater.profile, .place = repeater.place};
  device.mount = repeater.mount;
  return predicted_serving_link(search.site, device, search.hubs);
}

struct Hops {
  Link first;
  Link second;

  /// Both must do; what is uncertain of one is taken to know nothing of the other.
  PassSummary brief(const RelocationSearch& search) const {
    const PassSummary one = search.brief(first);
    const PassSummary other = search.brief(second);
    return {std::min(one.percent, other.percent), one.weak || other.weak,
            one.pass_probability * other.pass_probability};
  }

  /// The range is that of the hop with the lower reading.
  ExpectedReading expected(const RelocationSearch& search) const {
    const ExpectedReading one = search.expected(first);
    const ExpectedReading other = search.expected(second);
    ExpectedReading both = one.percent <= other.percent ? one : other;
    both.pass_probability = one.pass_probability * other.pass_probability;
    return both;
  }
};

Hops by_way_of(const RelocationSearch& search, const Repeater& repeater, const Link& to_hub,
               std::size_t device) {
  return {predicted_link(search.site, search.site.devices[device], as_hub(search, repeater)), to_hub};
}

Remedy remedy_of(const RelocationSearch& search, RemedyKind kind, const Repeater& repeater,
                 const ExpectedReading& expected) {
  Remedy remedy{.kind = kind, .radio = repeater.name};
  remedy.place = repeater.place;
  remedy.expected = expected;
  remedy.enough = search.enough(expected.pass_probability);
  return remedy;
}

std::string free_name(const Site& site) {
  for (int number = 1;; ++number) {
    const std::string name = "repeater " + std::to_string(number);
    const bool taken = std::ranges::find(site.repeaters, name, &Repeater::name) != site.repeaters.end() ||
                       std::ranges::find(site.hubs, name, &Hub::name) != site.hubs.end() ||
                       std::ranges::find(site.devices, name, &Device::name) != site.devices.end();
    if (!taken) return name;
  }
}

/// Along the walls of a room, where a housing and its supply have a hold, clear of obstacles.
std::vector<Point2> wall_spots(const Storey& storey, const Room& room) {
  const double turn = signed_area(room.corners) > 0 ? 1 : -1;
  std::vector<Point2> spots;
  for (const Segment2& edge : edges(room.corners)) {
    const double size = length(edge);
    const Point2 along = (1 / size) * (edge.b - edge.a);
    const int count = std::max(1, static_cast<int>(size / kRepeaterStepM));
    for (int i = 0; i < count; ++i) {
      const Point2 inward = turn * kWallClearanceM * Point2{-along.y, along.x};
      const Point2 spot = snapped(at_fraction(edge, (i + 0.5) / count) + inward);
      const auto taken = [&](const Obstacle& obstacle) { return contains(obstacle.corners, spot); };
      if (contains(room.corners, spot) && std::ranges::none_of(storey.obstacles, taken))
        spots.push_back(spot);
    }
  }
  return spots;
}

std::optional<Remedy> new_repeater(const RelocationSearch& search, std::vector<RepeaterPlace> places,
                                   std::size_t device) {
  const Point3 from = search.site.point(search.site.devices[device].place);
  std::ranges::stable_sort(
      places, {}, [&](const auto& place) { return distance(from, search.site.point(place.repeater.place)); });
  if (places.size() > kMostRepeaterPlaces) places.resize(kMostRepeaterPlaces);
  std::vector<PassSummary> then(places.size());
  parallel_for(places.size(), search.options.threads, [&](std::size_t i) {
    then[i] = by_way_of(search, places[i].repeater, places[i].to_hub, device).brief(search);
  });
  const auto best = std::ranges::max_element(then, {}, &PassSummary::pass_probability);
  if (best == then.end() || !search.helps(device, *best)) return {};
  const auto& [repeater, link] = places[static_cast<std::size_t>(best - then.begin())];
  Remedy remedy = remedy_of(search, RemedyKind::new_repeater, repeater,
                            by_way_of(search, repeater, link, device).expected(search));
  remedy.edits = {Edit{checks::pointer({"repeaters", repeater.name}),
                       NewRadio{repeater.profile, search.site.storeys[repeater.place.storey].name,
                                repeater.place.at, repeater.place.height_m}}};
  return remedy;
}

}  // namespace

std::vector<RepeaterPlace> repeater_places(const RelocationSearch& search) {
  std::vector<RepeaterPlace> places;
  if (!search.site.profiles.contains(kRepeaterProfile)) return places;
  const std::string name = free_name(search.site);
  for (std::size_t s = 0; s < search.site.storeys.size(); ++s) {
    const Storey& storey = search.site.storeys[s];
    for (const Room& room : storey.rooms) {
      if (room.keep_out) continue;
      for (const Point2 at : wall_spots(storey, room)) {
        const double height_m = std::min(kRepeaterHeightM, storey.height_m);
        Repeater repeater{.name = name, .profile = kRepeaterProfile, .place = {s, at, height_m}};
        const Link link = to_hub(search, repeater);
        if (!link.weak) places.push_back({std::move(repeater), link});
      }
    }
  }
  return places;
}

std::vector<Remedy> repeaters(const RelocationSearch& search, const std::vector<RepeaterPlace>& places,
                              std::size_t device) {
  std::vector<Remedy> found;
  for (const Repeater& repeater : search.site.repeaters) {
    const ExpectedReading expected =
        by_way_of(search, repeater, to_hub(search, repeater), device).expected(search);
    if (!search.helps(device, expected)) continue;
    found.push_back(remedy_of(search, RemedyKind::known_repeater, repeater, expected));
  }
  const bool known_does = std::ranges::any_of(found, &Remedy::enough);
  if (!known_does) {
    if (auto added = new_repeater(search, places, device)) found.push_back(std::move(*added));
  }
  return found;
}

}  // namespace linkmargin

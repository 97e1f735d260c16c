#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/site/site_radios.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <memory>
#include <span>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::size_t kMostRepeaterPlaces = 60;

/// One more repeater with its way: by the hubs alone, the best.
RepeaterEndpoint endpoint_of(const RelocationSearch& search, const Repeater& repeater) {
  const HubEndpoint hears = hub_endpoint(search.site, search.scene, as_hub(repeater), search.nearby);
  return stations(search.site, search.fading_model, search.stations.hubs, std::span(&repeater, 1), {hears})
      .repeaters.front();
}

Link link_by(const RelocationSearch& search, const RepeaterEndpoint& repeater, std::size_t device) {
  return linkmargin::link_by(search.site,
                             predicted_link(search.site, search.site.devices[device], repeater.hears),
                             repeater, search.fading_model);
}

Remedy remedy_of(const RelocationSearch& search, RemedyKind kind, const Repeater& repeater,
                 std::size_t device, const Link& link) {
  Remedy remedy{.kind = kind, .radio = repeater.name};
  remedy.place = repeater.place;
  search.complete(remedy, device, link, search.site.devices[device].place);
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

/// Where the device says how it is enrolled, that is set free for the repeater.
std::vector<Edit> enrolment(const Device& device, const std::string& repeater, const std::string& hub) {
  std::vector<Edit> edits;
  if (device.via) edits.push_back({checks::pointer({"devices", device.name, "via"}), repeater});
  if (device.hub && *device.hub != hub)
    edits.push_back({checks::pointer({"devices", device.name, "hub"}), hub});
  return edits;
}

std::optional<Remedy> new_repeater(const RelocationSearch& search, std::vector<RepeaterPlace> places,
                                   std::size_t device) {
  const Device& served = search.site.devices[device];
  const Point3 from = search.site.point(served.place);
  std::ranges::stable_sort(
      places, {}, [&](const auto& place) { return distance(from, search.site.point(place.repeater.place)); });
  if (places.size() > kMostRepeaterPlaces) places.resize(kMostRepeaterPlaces);
  std::vector<PassSummary> then(places.size());
  const auto here = std::make_shared<const LinkEndpoint>(search.scene, from);  // one end of all
  parallel_for(places.size(), search.options.threads, [&](std::size_t i) {
    RepeaterEndpoint seen = places[i].endpoint;
    seen.hears.from = here;
    then[i] = search.brief(link_by(search, seen, device));
  });
  const auto best = std::ranges::max_element(then, {}, &PassSummary::pass_probability);
  if (best == then.end() || !search.other_way_helps(device, *best)) return {};
  const RepeaterPlace& at = places[static_cast<std::size_t>(best - then.begin())];
  const Repeater& repeater = at.repeater;
  Remedy remedy =
      remedy_of(search, RemedyKind::new_repeater, repeater, device, link_by(search, at.endpoint, device));
  remedy.edits = {Edit{checks::pointer({"repeaters", repeater.name}),
                       NewRadio{repeater.profile, search.site.storeys[repeater.place.storey].name,
                                repeater.place.at, repeater.place.height_m}}};
  for (Edit& edit : enrolment(served, repeater.name, at.endpoint.onward->hub))
    remedy.edits.push_back(std::move(edit));
  return remedy;
}

}  // namespace

std::vector<RepeaterPlace> repeater_places(const RelocationSearch& search) {
  std::vector<RepeaterPlace> places;
  if (search.site.hops < 1 || !search.site.profiles.contains(kRepeaterProfile)) return places;
  const std::string name = free_name(search.site);
  const MountingRequest request{.place = {0, {}, kRepeaterHeightM},
                                .surface = search.site.profiles.at(kRepeaterProfile).mounted_on,
                                .cable_m = kUsualCableM,
                                .keeps_out = true,
                                .hangs = false};
  for (const Placement& place : search.mounting.find(request, kRepeaterStepM)) {
    Repeater repeater{.name = name, .profile = kRepeaterProfile, .place = place};
    RepeaterEndpoint endpoint = endpoint_of(search, repeater);
    if (!endpoint.onward->weak) places.push_back({std::move(repeater), std::move(endpoint)});
  }
  return places;
}

std::vector<Remedy> repeaters(const RelocationSearch& search, const std::vector<HubMove>& moves,
                              const std::vector<RepeaterPlace>& places, std::size_t device) {
  std::vector<Remedy> found;
  const Device& served = search.site.devices[device];
  for (const RepeaterEndpoint& repeater : search.stations.repeaters) {
    const std::string& name = repeater.hears.name;
    const Link link = link_by(search, repeater, device);
    if (repeater.serves == RepeaterServes::areas || search.links[device].heard_by() == name) continue;
    if (!search.other_way_helps(device, search.brief(link))) continue;
    const auto known = std::ranges::find(search.site.repeaters, name, &Repeater::name);
    found.push_back(remedy_of(search, RemedyKind::known_repeater, *known, device, link));
    found.back().edits = enrolment(served, name, link.hub);
  }
  if (auto moved = moved_hub(search, moves, device, true)) found.push_back(std::move(*moved));
  const bool known_does =
      std::ranges::any_of(found, &Remedy::enough);  // one that is there, before one is bought
  if (!known_does) {
    if (auto added = new_repeater(search, places, device)) found.push_back(std::move(*added));
  }
  return found;
}

}  // namespace linkmargin

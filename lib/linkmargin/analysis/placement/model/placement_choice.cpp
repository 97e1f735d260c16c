#include "linkmargin/analysis/placement/model/placement_choice.hpp"

#include "linkmargin/prediction/serving.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// Gives each part of a layout the name of a radio of its group; those that are near keep their places.
std::vector<PlacedRadio> named_parts(const PlacementPlaces& places, const PlacementLayout& layout) {
  std::vector<PlacedRadio> named(layout.parts.size());
  for (std::uint32_t g = 0; g < places.groups.size(); ++g) {
    std::vector<PlacedRadio> radios = places.groups[g].radios;
    std::vector<std::size_t> parts;
    for (std::size_t i = 0; i < layout.parts.size(); ++i) {
      if (layout.parts[i].group == g) parts.push_back(i);
    }
    while (!parts.empty()) {
      std::size_t best_part = 0;
      std::size_t best_radio = 0;
      double best_m = 1e18;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        const Placement& at = places.point(layout.parts[parts[i]]).place;
        for (std::size_t r = 0; r < radios.size(); ++r) {
          const Placement& from = radios[r].radio.place;
          double far_m = distance(at.at, from.at) + (at.storey == from.storey ? 0 : 1e6);
          if (!radios[r].present) far_m = 1e12;
          if (far_m < best_m) {
            best_m = far_m;
            best_part = i;
            best_radio = r;
          }
        }
      }
      named[parts[best_part]] = radios[best_radio];
      named[parts[best_part]].radio.place = places.point(layout.parts[parts[best_part]]).place;
      parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(best_part));
      radios.erase(radios.begin() + static_cast<std::ptrdiff_t>(best_radio));
    }
  }
  return named;
}

const Hub* present_radio(const PlacementPlaces& places, const std::string& name, bool repeater) {
  for (const PlaceGroup& group : places.groups) {
    for (const PlacedRadio& radio : group.radios) {
      if (radio.present && radio.repeater == repeater && radio.radio.name == name) return &radio.radio;
    }
  }
  return nullptr;
}

class ChoiceReportBuilder {
 public:
  ChoiceReportBuilder(const std::vector<PlacementCase>& cases, const PlacementPlaces& places,
                      const PlacementLayout& layout, int threads)
      : cases_(cases),
        places_(places),
        layout_(layout),
        radios_(named_parts(places, layout)),
        threads_(threads) {
    for (std::size_t c = 0; c < cases.size(); ++c) {
      endpoints_.emplace_back();
      reliabilities_.emplace_back(cases[c].site.fading);
      for (const PlacedRadio& radio : radios_)
        endpoints_.back().push_back(hub_endpoint(cases[c].site, *cases[c].scene, radio.radio));
    }
  }

  PlacementChoice run() {
    const Site& site = cases_.front().site;
    PlacementChoice choice;
    choice.parts = parts();
    choice.worst_reading_percent = 100;
    for (std::size_t i = 0; i < layout_.routes.size(); ++i) {
      const bool area = i >= site.devices.size();
      ChosenService service = area ? of_area(i) : of_device(i);
      choice.sum += service.chance;
      choice.weak_count += service.weak ? 1 : 0;
      if (!area)
        choice.worst_reading_percent = std::min(choice.worst_reading_percent, service.reading_percent);
      if (choice.services.empty() || service.chance < choice.worst_chance()) choice.worst = i;
      choice.services.push_back(std::move(service));
    }
    add_loads(choice);
    choice.edits = edits();
    return choice;
  }

 private:
  std::vector<ChosenPart> parts() const {
    std::vector<ChosenPart> parts;
    for (const PlacedRadio& radio : radios_) {
      ChosenPart part{radio.radio.name, radio.radio.profile, radio.repeater,
                      radio.present,    radio.radio.fixed,   radio.radio.place};
      const Hub* was = radio.present ? present_radio(places_, part.name, part.repeater) : nullptr;
      if (was != nullptr && was->place.storey == part.place.storey)
        part.moved_m = distance(was->place.at, part.place.at);
      parts.push_back(std::move(part));
    }
    return parts;
  }

  ChosenService named(std::size_t item, const std::string& name, bool area) const {
    const PlacementRoute& route = layout_.routes[item];
    ChosenService service;
    service.name = name;
    service.area = area;
    service.hub = radios_[route.hub].radio.name;
    for (const std::uint32_t via : route.via) service.via.push_back(radios_[via].radio.name);
    service.chance = 2;
    service.reading_percent = 100;
    return service;
  }

  /// What a hop says, taken into the service where it is the weakest yet.
  void take(ChosenService& service, const Link& link, double chance, std::size_t c) const {
    service.weak = service.weak || link.weak;
    service.reading_percent = std::min(service.reading_percent, link.lower().reading_percent);
    if (chance >= service.chance) return;
    service.chance = chance;
    service.in_case = c;
    service.link = link;
    service.link.hub = service.hub;
    service.link.via = service.via;
    service.link.device = service.name;
  }

  /// The hops after the first.
  void take_relayed(ChosenService& service, std::size_t item, std::size_t c) const {
    const PlacementRoute& route = layout_.routes[item];
    for (std::size_t hop = 0; hop < route.via.size(); ++hop) {
      const Hub& repeater = radios_[route.via[hop]].radio;
      Device device{.name = repeater.name, .profile = repeater.profile, .place = repeater.place};
      device.mount = repeater.mount;
      const std::uint32_t to = hop + 1 < route.via.size() ? route.via[hop + 1] : route.hub;
      const Link link = device_link(cases_[c].site, device, endpoints_[c][to], reliabilities_[c]);
      take(service, link, link.pass_probability, c);
    }
  }

  std::uint32_t first_hop(std::size_t item) const {
    const PlacementRoute& route = layout_.routes[item];
    return route.via.empty() ? route.hub : route.via.front();
  }

  ChosenService of_device(std::size_t item) const {
    ChosenService service = named(item, cases_.front().site.devices[item].name, false);
    for (std::size_t c = 0; c < cases_.size(); ++c) {
      const Link link = device_link(cases_[c].site, cases_[c].site.devices[item],
                                    endpoints_[c][first_hop(item)], reliabilities_[c]);
      take(service, link, link.pass_probability, c);
      take_relayed(service, item, c);
    }
    return service;
  }

  ChosenService of_area(std::size_t item) const {
    const std::size_t position = item - cases_.front().site.devices.size();
    ChosenService service = named(item, cases_.front().site.areas[position].name, true);
    for (std::size_t c = 0; c < cases_.size(); ++c) {
      const Area& area = cases_[c].site.areas[position];
      const AreaCover cover = area_cover(cases_[c].site, area, std::span(&endpoints_[c][first_hop(item)], 1),
                                         reliabilities_[c], kCheckAreaStepM, threads_);
      service.weak = service.weak || cover.weak;
      service.reading_percent = std::min(service.reading_percent, cover.worst_reading_percent);
      if (cover.share_percent / 100 < service.chance) {
        service.chance = cover.share_percent / 100;
        service.in_case = c;
      }
      take_relayed(service, item, c);
    }
    return service;
  }

  void add_loads(PlacementChoice& choice) const {
    const Site& site = cases_.front().site;
    std::vector<std::vector<SlotUser>> tenants(radios_.size());
    std::vector<std::uint32_t> hub_of(radios_.size(), kNone);
    for (std::size_t i = 0; i < layout_.routes.size(); ++i) {
      const PlacementRoute& route = layout_.routes[i];
      const bool area = i >= site.devices.size();
      const std::string& profile =
          area ? site.areas[i - site.devices.size()].profile : site.devices[i].profile;
      const int slots = area ? site.areas[i - site.devices.size()].slots : site.devices[i].slots;
      tenants[route.hub].push_back({site.profiles.at(profile).device_class, slots});
      for (const std::uint32_t via : route.via) hub_of[via] = route.hub;
      ++choice.parts[first_hop(i)].serves;
    }
    for (std::size_t part = 0; part < radios_.size(); ++part) {
      if (hub_of[part] != kNone)
        tenants[hub_of[part]].push_back({site.profiles.at(radios_[part].radio.profile).device_class, 1});
    }
    for (std::size_t part = 0; part < radios_.size(); ++part) {
      if (!radios_[part].repeater) choice.parts[part].load = hub_load(radios_[part].radio, tenants[part]);
    }
  }

  std::vector<Edit> edits() const {
    const Site& site = cases_.front().site;
    std::vector<Edit> edits;
    for (const PlacedRadio& radio : radios_) {
      const std::string map = radio.repeater ? "repeaters" : "hubs";
      const std::string& name = radio.radio.name;
      const Placement& place = radio.radio.place;
      const std::string& storey = site.storeys[place.storey].name;
      if (!radio.present) {
        edits.push_back({checks::pointer({map, name}), NewRadio{radio.radio.profile, storey, place.at,
                                                                place.height_m, radio.radio.capacity}});
        continue;
      }
      const Placement& was = present_radio(places_, name, radio.repeater)->place;
      if (was.storey != place.storey) edits.push_back({checks::pointer({map, name, "storey"}), storey});
      if (was.at != place.at) edits.push_back({checks::pointer({map, name, "at_m"}), place.at});
      if (was.height_m != place.height_m)
        edits.push_back({checks::pointer({map, name, "height_m"}), place.height_m});
    }
    add_enrolments(edits);
    return edits;
  }

  /// The hub of everything that would otherwise be taken to be with another.
  void add_enrolments(std::vector<Edit>& edits) const {
    const Site& site = cases_.front().site;
    std::vector<HubEndpoint> hubs;
    for (std::size_t part = 0; part < radios_.size(); ++part) {
      if (!radios_[part].repeater) hubs.push_back(endpoints_.front()[part]);
    }
    if (hubs.size() < 2) return;
    for (std::size_t i = 0; i < layout_.routes.size(); ++i) {
      const std::string& hub = radios_[layout_.routes[i].hub].radio.name;
      const bool area = i >= site.devices.size();
      const auto& named = area ? site.areas[i - site.devices.size()].hub : site.devices[i].hub;
      if (named) continue;
      const std::string taken = area ? area_cover(site, site.areas[i - site.devices.size()], hubs,
                                                  reliabilities_.front(), kCheckAreaStepM, threads_)
                                           .hub
                                     : predicted_serving_link(site, site.devices[i], hubs).hub;
      const std::string& name = area ? site.areas[i - site.devices.size()].name : site.devices[i].name;
      if (taken != hub) edits.push_back({checks::pointer({area ? "areas" : "devices", name, "hub"}), hub});
    }
  }

  static constexpr double kCheckAreaStepM = 0.5;  ///< LinkTableOptions::area_step_m

  const std::vector<PlacementCase>& cases_;
  const PlacementPlaces& places_;
  const PlacementLayout& layout_;
  std::vector<PlacedRadio> radios_;
  int threads_;
  std::vector<std::vector<HubEndpoint>> endpoints_;  // by case and part
  std::vector<FadingModel> reliabilities_;           // by case
};

}  // namespace

PlacementChoice ChoiceReport::tell(const PlacementPlaces& places, const PlacementLayout& layout) const {
  return ChoiceReportBuilder(cases_, places, layout, threads_).run();
}

}  // namespace linkmargin

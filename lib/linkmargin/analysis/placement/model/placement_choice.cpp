#include "linkmargin/analysis/placement/model/placement_choice.hpp"

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/move_edits.hpp"
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
        const Placement& at = places.point(layout.parts[parts[i]]);
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
      put_station(named[parts[best_part]].radio, places.point(layout.parts[parts[best_part]]));
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
                      const PlacementLayout& layout, int threads, bool names_ways)
      : cases_(cases),
        places_(places),
        layout_(layout),
        radios_(named_parts(places, layout)),
        threads_(threads) {
    for (const PlacementCase& of : cases) sites_.push_back(placed_site(of.site));
    if (names_ways) enrol();
    if (!enrolments_.empty()) tables_.clear();  // they were of the site without
    for (std::size_t c = tables_.size(); c < cases.size(); ++c) tables_.push_back(table_of(c));
  }

  PlacementChoice run() {
    const Site& site = cases_.front().site;
    PlacementChoice choice;
    choice.parts = parts();
    choice.worst_reading_percent = 100;
    for (std::size_t i = 0; i < layout_.routes.size(); ++i) {
      const bool area = i >= site.devices.size();
      ChosenService service = area ? of_area(i - site.devices.size()) : of_device(i);
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

  /// The site with what was chosen, and without what was not.
  Site placed_site(Site site) const {
    std::vector<Hub> hubs;
    std::vector<Repeater> repeaters;
    for (const PlacedRadio& radio : radios_) {
      if (!radio.repeater) {
        hubs.push_back(radio.radio);
        continue;
      }
      const auto known = std::ranges::find(site.repeaters, radio.radio.name, &Repeater::name);
      Repeater repeater{.name = radio.radio.name, .profile = radio.radio.profile, .place = radio.radio.place};
      if (radio.present && known != site.repeaters.end()) repeater = *known;
      put_station(repeater, radio.radio.place);
      repeater.capacity = radio.radio.capacity;
      repeaters.push_back(std::move(repeater));
    }
    const auto is_left = [&](const std::optional<std::string>& via) {
      return via && *via != kDirect && std::ranges::find(repeaters, *via, &Repeater::name) == repeaters.end();
    };
    for (Device& device : site.devices) {
      if (is_left(device.via)) device.via.reset();
    }
    for (Repeater& repeater : repeaters) {
      if (is_left(repeater.via)) repeater.via.reset();
    }
    site.hubs = std::move(hubs);
    site.repeaters = std::move(repeaters);
    return site;
  }

  LinkTable table_of(std::size_t c) const {
    LinkTableOptions options{.doors = cases_[c].doors, .threads = threads_};
    options.detail = TableDetail::chances;
    return link_table(sites_[c], options);
  }

  /// Names the way of what would otherwise go by one with less chance: where slots, or more than one hub,
  /// part what the search gave to each from what each would take.
  void enrol() {
    tables_.push_back(table_of(0));
    const LinkTable& free = tables_.front();
    for (std::size_t i = 0; i < layout_.routes.size(); ++i) {
      const PlacementRoute& route = layout_.routes[i];
      const std::string& hub = radios_[route.hub].radio.name;
      const bool area = i >= sites_.front().devices.size();
      if (area) {
        const std::size_t position = i - sites_.front().devices.size();
        if (sites_.front().areas[position].hub || free.areas[position].hub == hub) continue;
        if (free.areas[position].share_percent / 100 + kEnrolledGain >= static_cast<double>(route.chance))
          continue;
        for (Site& site : sites_) site.areas[position].hub = hub;
        enrolments_.push_back({checks::pointer({"areas", sites_.front().areas[position].name, "hub"}), hub});
        continue;
      }
      const Device& device = sites_.front().devices[i];
      const std::string via = route.via.empty() ? kDirect : radios_[route.via.front()].radio.name;
      const Link& taken = free.links[i];
      const bool same = taken.hub == hub && (taken.via.empty() ? kDirect : taken.via.front()) == via;
      if (same || taken.pass_probability + kEnrolledGain >= static_cast<double>(route.chance)) continue;
      const std::string name = device.name;
      if (!device.hub) enrolments_.push_back({checks::pointer({"devices", name, "hub"}), hub});
      if (!sites_.front().repeaters.empty())
        enrolments_.push_back({checks::pointer({"devices", name, "via"}), via});
      for (Site& site : sites_) {
        site.devices[i].hub = hub;
        if (!site.repeaters.empty()) site.devices[i].via = via;
      }
    }
  }

  static ChosenService begun(const std::string& name, bool area) {
    ChosenService service;
    service.name = name;
    service.area = area;
    service.chance = 2;
    return service;
  }

  ChosenService of_device(std::size_t item) const {
    ChosenService service = begun(cases_.front().site.devices[item].name, false);
    for (std::size_t c = 0; c < tables_.size(); ++c) {
      const Link& link = tables_[c].links[item];
      service.weak = service.weak || link.weak;
      if (link.pass_probability >= service.chance) continue;
      service.reading_percent = link.lower().reading_percent;
      service.chance = link.pass_probability;
      service.in_case = c;
      service.link = link;
      service.hub = link.hub;
      service.via = link.via;
    }
    return service;
  }

  ChosenService of_area(std::size_t position) const {
    ChosenService service = begun(cases_.front().site.areas[position].name, true);
    for (std::size_t c = 0; c < tables_.size(); ++c) {
      const AreaCover& cover = tables_[c].areas[position];
      service.weak = service.weak || cover.weak;
      if (cover.share_percent / 100 >= service.chance) continue;
      service.reading_percent = cover.worst_reading_percent;
      service.chance = cover.share_percent / 100;
      service.in_case = c;
      service.hub = cover.hub;
      service.via = cover.via;
    }
    service.link.device = service.name;
    service.link.hub = service.hub;
    service.link.via = service.via;
    return service;
  }

  void add_loads(PlacementChoice& choice) const {
    const LinkTable& table = tables_.front();
    for (const ChosenService& service : choice.services) {
      const std::string& first = service.via.empty() ? service.hub : service.via.front();
      const auto part = std::ranges::find(choice.parts, first, &ChosenPart::name);
      if (part != choice.parts.end()) ++part->serves;
    }
    for (ChosenPart& part : choice.parts) {
      const auto& loads = part.repeater ? table.repeater_loads : table.hubs;
      const auto load = std::ranges::find(loads, part.name, &HubLoad::hub);
      if (load != loads.end() && (!part.repeater || load->capacity)) part.load = *load;
    }
  }

  std::vector<Edit> edits() const {
    const Site& site = cases_.front().site;
    std::vector<Edit> edits;
    for (const PlacedRadio& radio : radios_) {
      const std::string map = radio.repeater ? "repeaters" : "hubs";
      const std::string& name = radio.radio.name;
      const Placement& place = radio.radio.place;
      if (!radio.present) {
        edits.push_back(
            {checks::pointer({map, name}), NewRadio{radio.radio.profile, site.storeys[place.storey].name,
                                                    place.at, place.height_m, radio.radio.capacity}});
        continue;
      }
      const Hub& was = *present_radio(places_, name, radio.repeater);
      for (Edit& edit : move_edits(site, site_radio(map, was), place)) edits.push_back(std::move(edit));
    }
    edits.insert(edits.end(), enrolments_.begin(), enrolments_.end());
    return edits;
  }

  /// A way named for less is no gain that anyone would see.
  static constexpr double kEnrolledGain = 5e-4;

  const std::vector<PlacementCase>& cases_;
  const PlacementPlaces& places_;
  const PlacementLayout& layout_;
  std::vector<PlacedRadio> radios_;
  int threads_;
  std::vector<Site> sites_;  // by case, as chosen
  std::vector<Edit> enrolments_;
  std::vector<LinkTable> tables_;  // by case
};

}  // namespace

PlacementChoice ChoiceReport::tell(const PlacementPlaces& places, const PlacementLayout& layout) const {
  return ChoiceReportBuilder(cases_, places, layout, threads_, true).run();
}

PlacementChoice ChoiceReport::tell_present(const PlacementPlaces& places,
                                           const PlacementLayout& layout) const {
  return ChoiceReportBuilder(cases_, places, layout, threads_, false).run();
}

}  // namespace linkmargin

#include "linkmargin/prediction/single_failures.hpp"

#include "linkmargin/prediction/link_table.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

/// The site without one hub or repeater and without what is enrolled there by name, or through what is.
Site without(Site site, const std::string& station) {
  std::vector<std::string> gone{station};
  const auto is_gone = [&](const std::optional<std::string>& name) {
    return name && std::ranges::find(gone, *name) != gone.end();
  };
  const auto by_gone = [&](const auto& radio) { return is_gone(radio.hub) || is_gone(radio.via); };
  std::erase_if(site.hubs, [&](const Hub& hub) { return hub.name == station; });
  std::erase_if(site.repeaters, [&](const Repeater& repeater) { return repeater.name == station; });
  for (auto next = std::ranges::find_if(site.repeaters, by_gone); next != site.repeaters.end();
       next = std::ranges::find_if(site.repeaters, by_gone)) {
    gone.push_back(next->name);
    site.repeaters.erase(next);
  }
  std::erase_if(site.devices, by_gone);
  std::erase_if(site.areas, [&](const Area& area) { return is_gone(area.hub); });
  return site;
}

Outcome outcome_in(const LinkTable& table, const std::string& device) {
  for (const Link& link : table.links) {
    if (link.serving && link.device == device) return link.outcome;
  }
  return Outcome::weak;
}

bool weak_in(const LinkTable& table, const std::string& area) {
  const auto found = std::ranges::find(table.areas, area, &AreaCover::area);
  return found == table.areas.end() || found->weak;
}

SingleFailure failure_of(const Site& site, const LinkTableOptions& options, const LinkTable& before,
                         const std::string& station, bool repeater) {
  SingleFailure found{.station = station, .repeater = repeater, .lost = {}, .doubtful = {}, .areas = {}};
  const Site left = without(site, station);
  found.all_lost = left.hubs.empty();
  LinkTable after;
  if (!found.all_lost) {
    LinkTableOptions bare = options;
    bare.readings.clear();
    bare.nearby = {};
    bare.all_pairs = false;
    after = link_table(left, bare);
  }
  for (const Device& device : site.devices) {
    const Outcome was = outcome_in(before, device.name);
    const Outcome is = outcome_in(after, device.name);
    if (is == Outcome::weak && was != Outcome::weak) found.lost.push_back(device.name);
    if (is == Outcome::doubtful && was == Outcome::good) found.doubtful.push_back(device.name);
  }
  for (const Area& area : site.areas) {
    if (weak_in(after, area.name) && !weak_in(before, area.name)) found.areas.push_back(area.name);
  }
  return found;
}

}  // namespace

std::vector<SingleFailure> single_failures(const Site& site, const LinkTableOptions& options,
                                           const LinkTable& as_it_is) {
  std::vector<SingleFailure> found;
  for (const Hub& hub : site.hubs) found.push_back(failure_of(site, options, as_it_is, hub.name, false));
  for (const Repeater& repeater : site.repeaters)
    found.push_back(failure_of(site, options, as_it_is, repeater.name, true));
  return found;
}

}  // namespace linkmargin

#include "linkmargin/analysis/visit/visit_search.hpp"

#include "linkmargin/base/parallel.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <atomic>
#include <utility>

namespace linkmargin {
namespace {

/// A smaller loss of chance is none.
constexpr double kLeastVisitLoss = 0.01;

/// VisitOption::near_chance is of a level so much higher.
constexpr double kNearDb = 1;

PresentReadings repeaters_read(const RelocationSearch& search) {
  PresentReadings found;
  for (const Repeater& repeater : search.site.repeaters) {
    if (const PresentReading* read = search.table.present.find(repeater.name))
      found.of_device[repeater.name] = *read;
  }
  return found;
}

bool is_met_by(const RelocationSearch& search, const PresentReadings& repeaters_read, const Link& link,
               double chance) {
  if (link.lacks_reserve || !search.enough(chance)) return false;
  return !link.onward || outcome(*link.onward, search.site.reading, repeaters_read) != Outcome::weak;
}

}  // namespace

VisitWay way_of(const Link& link) {
  return {link.hub, link.via};
}

bool touches(const std::vector<NamedChange>& changes, const Link& link) {
  return std::ranges::any_of(changes, [&](const NamedChange& change) {
    return link.hub == change.name || std::ranges::find(link.via, change.name) != link.via.end();
  });
}

Link shifted_link(const RelocationSearch& search, Link link, double by_db) {
  shift(link.uplink, BudgetTerm::nearby_readings, by_db, search.site.reading);
  if (link.downlink) shift(*link.downlink, BudgetTerm::nearby_readings, by_db, search.site.reading);
  add_chance(search.site, search.fading_model, link);
  return link;
}

bool needs_something(const RelocationSearch& search, std::size_t device) {
  const Link& link = search.table.links[device];
  if (search.read_of(device) != nullptr) return link.outcome == Outcome::weak;
  return link.outcome == Outcome::weak ||
         !is_met_by(search, repeaters_read(search), link, link.pass_probability);
}

VisitSearch::VisitSearch(const RelocationSearch& search, const VisitStations& stations,
                         const std::vector<std::size_t>& needy, const std::vector<DeviceRelocation>& remedies)
    : search_(search), stations_(stations), needy_(needy), repeaters_read_(repeaters_read(search)) {
  for (std::size_t i = 0; i < search.site.devices.size(); ++i) row_devices_.push_back(search.site.devices[i]);
  for (std::size_t i = 0; i < needy.size(); ++i) add_variants(remedies[i], needy[i]);
  hops_.resize(row_devices_.size());
  parallel_for(hops_.size(), search.options.threads, [&](std::size_t row) {
    for (const StationPlace& place : stations_.places()) {
      std::optional<Link>& hop = hops_[row].emplace_back();
      if (place.endpoint.radio.sensitivity)
        hop = predicted_link(search_.site, row_devices_[row], place.endpoint);
    }
  });
  known_.resize(needy.size());
  const StandingStations present = stations.standing({});
  for (std::size_t i = 0; i < search.site.devices.size(); ++i)
    now_.push_back(link(present, search.as_read(i), hops_[i]));
}

/// What goes together: at most one place, a spacer, and an enrolment.
void VisitSearch::add_variants(const DeviceRelocation& remedies, std::size_t position) {
  const Device& device = search_.site.devices[position];
  std::vector<DeviceVariant> found{{.device = search_.as_read(position), .row = position}};
  const bool ruled = search_.site.profiles.at(device.profile).fixed_by_rule;
  if (const auto spaced = ruled ? std::nullopt : spaced_device(search_, position)) {
    found.push_back(
        {.device = spaced->device, .spacer = true, .edits = {spaced->edit}, .effort = {.minutes = 1}});
  }
  const std::vector<DeviceVariant> hangs = found;
  for (const Remedy& remedy : remedies.remedies) {
    const bool is_read = remedy.kind == RemedyKind::read_place;
    if (remedy.kind != RemedyKind::nearest_place && remedy.kind != RemedyKind::best_place && !is_read)
      continue;
    for (DeviceVariant variant : hangs) {
      if (is_read && variant.spacer) continue;  // there it was read without
      variant.place = *remedy.place;
      variant.read_percent = remedy.read_percent;
      variant.device.place = *remedy.place;
      ++(is_read ? variant.effort.minutes : variant.effort.holes);
      variant.edits.insert(variant.edits.end(), remedy.edits.begin(), remedy.edits.end());
      found.push_back(std::move(variant));
    }
  }
  for (std::size_t i = 1; i < found.size(); ++i) {
    found[i].row = row_devices_.size();
    row_devices_.push_back(found[i].device);
  }
  if (device.hub || device.via || search_.read_of(position) != nullptr) {
    const std::size_t before = found.size();
    for (std::size_t i = 0; i < before; ++i) {
      DeviceVariant variant = found[i];
      variant.read_percent.reset();  // it was read as it is enrolled now
      variant.enrolled_anew = true;
      variant.device = unenrolled(std::move(variant.device));
      found.push_back(std::move(variant));
    }
  }
  variants_.push_back(std::move(found));
}

Link VisitSearch::link(const StandingStations& standing, const Device& device, const Row& row) const {
  Link found = predicted_serving_link(search_.site, device, standing.stations, search_.fading_model,
                                      [&](const HubEndpoint& station) {
                                        Link hop = row[standing.place.at(station.name)].value();
                                        hop.hub = station.name;
                                        return hop;
                                      });
  add_chance(search_.site, search_.fading_model, found);
  return found;
}

bool VisitSearch::is_met(const Link& link, double chance) const {
  return is_met_by(search_, repeaters_read_, link, chance);
}

/// As relocation() has it: harmed is a device that had enough and has no more, that had less and loses, or
/// that gets weak. One that was read keeps its reading where its way stays as it is.
bool VisitSearch::is_harmless(const StandingStations& standing) const {
  std::atomic<bool> harmless = true;
  parallel_for(now_.size(), search_.options.threads, [&](std::size_t i) {
    if (!harmless || std::ranges::find(needy_, i) != needy_.end()) return;
    const Link& before = now_[i];
    const Link after = link(standing, search_.as_read(i), hops_[i]);
    if (search_.read_of(i) != nullptr && way_of(after) == way_of(before) && !touches(standing.changes, after))
      return;
    const bool had_enough = search_.enough(before.pass_probability);
    const bool lost = had_enough ? !search_.enough(after.pass_probability)
                                 : after.pass_probability < before.pass_probability - kLeastVisitLoss;
    if (lost || (after.weak && !before.weak) || (after.lacks_reserve && !before.lacks_reserve))
      harmless = false;
  });
  return harmless;
}

VisitSearch::WayChances& VisitSearch::way_chances(const StandingStations& standing, std::size_t needy,
                                                  std::size_t row, const Link& link) const {
  std::vector<std::size_t> key{row, standing.place.at(link.hub)};
  for (const std::string& repeater : link.via) key.push_back(standing.place.at(repeater));
  const auto [at, added] = known_[needy].try_emplace(std::move(key));
  if (added) at->second.near = shifted_link(search_, link, kNearDb);
  return at->second;
}

void VisitSearch::add_spots(std::size_t needy, const Placement& place, const Link& link,
                            WayChances& chances) const {
  if (std::exchange(chances.tried, true)) return;
  chances.spots = search_.best_spots(needy_[needy], link, nullptr, place);
  if (!chances.spots || chances.spots->pass_probability < kShiftChance) return chances.spots.reset();
  const auto near = search_.best_spots(needy_[needy], chances.near, nullptr, place);
  chances.spots_near = near ? near->pass_probability : chances.spots->pass_probability;
}

DeviceOption VisitSearch::with_spots(DeviceOption option, const SpotTrial& trial, double near_chance) const {
  option.spots = trial;
  ++option.figures.effort.minutes;
  option.figures.chance = trial.pass_probability;
  option.figures.near_chance = near_chance;
  option.figures.met = is_met(option.link, trial.pass_probability);
  return option;
}

std::vector<DeviceOption> VisitSearch::options(const StandingStations& standing, std::size_t needy,
                                               bool all) const {
  const std::size_t device = needy_[needy];
  std::vector<DeviceOption> found;
  std::vector<std::optional<VisitWay>> plain;  // of the variants as they are enrolled
  std::optional<VisitEffort> enough;           // the least with which it is met
  const auto is_too_much = [&](const VisitEffort& effort) { return !all && enough && *enough < effort; };
  const auto take = [&](const DeviceOption& option) {
    found.push_back(option);
    const VisitOption& figures = option.figures;
    if (figures.met && (!enough || figures.effort < *enough)) enough = figures.effort;
  };
  for (std::size_t i = 0; i < variants_[needy].size(); ++i) {
    const DeviceVariant& variant = variants_[needy][i];
    if (is_too_much(variant.effort)) {
      plain.emplace_back();
      continue;
    }
    Link serving = link(standing, variant.device, hops_[variant.row]);
    const VisitWay way = way_of(serving);
    if (!variant.enrolled_anew)
      plain.push_back(way);
    else if (way == plain[i - variants_[needy].size() / 2])
      continue;
    DeviceOption option{.variant = i, .link = std::move(serving), .figures = {}};
    VisitEffort effort = variant.effort;
    if (way != way_of(search_.table.links[device])) {
      option.enrol = way;
      ++effort.minutes;
    }
    const bool as_read = search_.read_of(device) != nullptr && i == 0 && !option.enrol &&
                         !touches(standing.changes, option.link);
    if (is_too_much(effort)) continue;
    const bool tries = !is_too_much(effort + VisitEffort{.minutes = 1});
    option.figures.effort = effort;
    if (as_read) {  // what was read is what it has there
      option.link = search_.table.links[device];
      take(option);
      const auto trial = search_.present_spots(device);
      if (tries && trial && trial->pass_probability >= kShiftChance)
        take(with_spots(option, *trial, trial->pass_probability));
      continue;
    }
    if (variant.read_percent && !option.enrol && !touches(standing.changes, option.link)) {
      option.figures.chance = option.figures.near_chance = 1;
      option.figures.met = true;
      option.read_percent = variant.read_percent;
      take(option);
      continue;
    }
    const double chance = option.link.pass_probability;
    WayChances& chances = way_chances(standing, needy, variant.row, option.link);
    option.figures.chance = chance;
    option.figures.near_chance = chances.near.pass_probability;
    option.figures.met = is_met(option.link, chance) && !option.link.own_hop_weak;
    take(option);
    if (!tries || option.figures.met) continue;
    add_spots(needy, variant.device.place, option.link, chances);
    if (chances.spots && chances.spots->pass_probability > chance)
      take(with_spots(std::move(option), *chances.spots, chances.spots_near));
  }
  return found;
}

std::optional<VisitOptions> VisitSearch::options(const StationSet& set) const {
  const StandingStations standing = stations_.standing(set);
  if (!set.changes.empty() && !is_harmless(standing)) return {};
  VisitOptions figures(needy_.size());
  parallel_for(needy_.size(), search_.options.threads, [&](std::size_t i) {
    for (const DeviceOption& option : best_options(standing, i)) figures[i].push_back(option.figures);
  });
  return figures;
}

std::vector<Edit> VisitSearch::enrolment(std::size_t device, const VisitWay& way) const {
  const Device& enrolled = search_.site.devices[device];
  std::vector<Edit> edits;
  if (enrolled.hub && *enrolled.hub != way.hub)
    edits.push_back({checks::pointer({"devices", enrolled.name, "hub"}), way.hub});
  const std::string via = way.via.empty() ? kDirect : way.via.front();
  if (enrolled.via && *enrolled.via != via)
    edits.push_back({checks::pointer({"devices", enrolled.name, "via"}), via});
  return edits;
}

std::optional<SpotTrial> VisitSearch::spots(std::size_t needy, const DeviceOption& option) const {
  const auto trial =
      search_.best_spots(needy_[needy], option.link, nullptr, variant(needy, option.variant).device.place);
  if (!trial || trial->pass_probability < kShiftChance) return {};
  return trial;
}

}  // namespace linkmargin

#include "linkmargin/analysis/visit/visit_settled.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>
#include <utility>

namespace linkmargin {
namespace {

/// Sets that do not keep what they promise and are passed over, at most.
constexpr std::size_t kMostPassedOver = 20;

constexpr double kLeastPromised = 1e-6;

bool is_over(const std::vector<HubLoad>& loads, const std::string& name) {
  const auto found = std::ranges::find(loads, name, &HubLoad::hub);
  return found != loads.end() && found->over_capacity;
}

/// Whether an area is weak or a hub over its slots that was not.
bool got_worse(const LinkTable& before, const LinkTable& after) {
  for (std::size_t i = 0; i < after.areas.size(); ++i) {
    if (after.areas[i].weak && !before.areas[i].weak) return true;
  }
  const auto fuller = [](const std::vector<HubLoad>& was, const std::vector<HubLoad>& is) {
    return std::ranges::any_of(
        is, [&](const HubLoad& load) { return load.over_capacity && !is_over(was, load.hub); });
  };
  return fuller(before.hubs, after.hubs) || fuller(before.repeater_loads, after.repeater_loads);
}

/// Carries out one choice.
class Settler {
 public:
  Settler(const RelocationSearch& search, const VisitStations& stations, const VisitSearch& visit,
          const std::vector<std::size_t>& needy)
      : search_(search), stations_(stations), visit_(visit), needy_(needy) {}

  SettledVisit settle(const VisitChoice& choice) const {
    const StationSet& set = stations_.sets()[choice.set];
    SettledVisit settled{
        .choice = choice, .standing = stations_.standing(set), .options = {}, .edits = {}, .after = {}};
    settled.edits = stations_.edits(settled.standing.changes);
    for (std::size_t i = 0; i < needy_.size(); ++i) {
      settled.options.push_back(visit_.best_options(settled.standing, i));
      const DeviceOption& taken = settled.taken(i);
      const DeviceVariant& variant = visit_.variant(i, taken.variant);
      std::ranges::copy(variant.edits, std::back_inserter(settled.edits));
      if (taken.enrol)
        std::ranges::move(visit_.enrolment(needy_[i], *taken.enrol), std::back_inserter(settled.edits));
    }
    const Result<Site> edited = edited_site(search_.site, settled.edits);
    if (!edited) {
      if (set.changes.empty()) throw DomainError(to_text(edited.error().front()));
      return settled;
    }
    settled.after = table_of(*edited, settled);
    settled.kept = !got_worse(search_.table, settled.after) && keeps_promises(settled);
    return settled;
  }

 private:
  /// What `check` says of the edited site. A device that was read stays enrolled as it was where it is not
  /// enrolled anew, and keeps its reading where nothing about it changed.
  LinkTable table_of(Site edited, const SettledVisit& settled) const {
    for (std::size_t i = 0; i < edited.devices.size(); ++i) {
      if (search_.read_of(i) == nullptr || is_enrolled_anew(settled, i)) continue;
      const Device enrolled = search_.as_read(i);
      edited.devices[i].hub = enrolled.hub;
      edited.devices[i].via = enrolled.via;
    }
    const bool adds = edited.hubs.size() + edited.repeaters.size() >
                      search_.site.hubs.size() + search_.site.repeaters.size();
    std::optional<Scene> own;  // the spread of its equipment may be another
    if (adds) own.emplace(edited, search_.options.doors);
    const Scene& scene = own ? *own : search_.scene;
    LinkTable table = link_table(
        edited,
        {.doors = search_.options.doors, .nearby = search_.nearby, .threads = search_.options.threads}, scene,
        stations(edited, scene, search_.fading_model, search_.nearby), search_.fading_model);
    for (std::size_t i = 0; i < table.links.size(); ++i) {
      if (keeps_reading(settled, i, table.links[i])) table.links[i] = search_.table.links[i];
    }
    table.weak_devices.clear();
    table.doubtful_devices.clear();
    for (const Link& link : table.links) {
      if (link.outcome == Outcome::weak) table.weak_devices.push_back(link.device);
      if (link.outcome == Outcome::doubtful) table.doubtful_devices.push_back(link.device);
    }
    return table;
  }

  std::optional<std::size_t> needy_position(std::size_t device) const {
    const auto found = std::ranges::find(needy_, device);
    return found == needy_.end() ? std::nullopt
                                 : std::optional(static_cast<std::size_t>(found - needy_.begin()));
  }

  bool is_enrolled_anew(const SettledVisit& settled, std::size_t device) const {
    const auto needy = needy_position(device);
    return needy && visit_.variant(*needy, settled.taken(*needy).variant).enrolled_anew;
  }

  bool keeps_reading(const SettledVisit& settled, std::size_t device, const Link& after) const {
    if (search_.read_of(device) == nullptr) return false;
    const auto needy = needy_position(device);
    if (needy && settled.taken(*needy).variant != 0) return false;
    return way_of(after) == way_of(search_.table.links[device]) && !touches(settled.standing.changes, after);
  }

  bool keeps_promises(const SettledVisit& settled) const {
    for (std::size_t i = 0; i < needy_.size(); ++i) {
      const double now = settled.after.links[needy_[i]].pass_probability;
      if (now < settled.taken(i).link.pass_probability - kLeastPromised) return false;
    }
    return true;
  }

  const RelocationSearch& search_;
  const VisitStations& stations_;
  const VisitSearch& visit_;
  const std::vector<std::size_t>& needy_;
};

}  // namespace

VisitOutcome settled_visit(const RelocationSearch& search, const VisitStations& stations,
                           const VisitSearch& visit, const std::vector<std::size_t>& needy,
                           std::size_t most_sets) {
  std::vector<VisitEffort> efforts;
  for (const StationSet& set : stations.sets()) efforts.push_back(set.effort);
  std::map<std::size_t, std::optional<VisitOptions>> known;
  std::set<std::size_t> passed_over;
  const auto options = [&](std::size_t set) -> std::optional<VisitOptions> {
    if (passed_over.contains(set)) return {};
    auto [at, added] = known.try_emplace(set);
    if (added) at->second = visit.options(stations.sets()[set]);
    return at->second;
  };
  const Settler settler(search, stations, visit, needy);
  for (;;) {
    VisitChoices choices = visit_choice(efforts, search.options.chance, options, most_sets);
    SettledVisit settled = settler.settle(choices.best.value());
    const bool is_last = stations.sets()[settled.choice.set].changes.empty();
    if (settled.kept || is_last) return {std::move(settled), std::move(choices)};
    if (passed_over.size() == kMostPassedOver)
      for (std::size_t set = 1; set < efforts.size(); ++set) passed_over.insert(set);
    passed_over.insert(settled.choice.set);
  }
}

}  // namespace linkmargin

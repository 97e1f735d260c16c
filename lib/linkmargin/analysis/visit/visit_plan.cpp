#include "linkmargin/analysis/visit/visit_plan.hpp"

#include "linkmargin/analysis/visit/visit_settled.hpp"
#include "linkmargin/analysis/visit/visit_walk.hpp"
#include "linkmargin/site/mounting/hanging_spot.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace linkmargin {
namespace {

/// With less chance than this a reading taken first is not worth the time: the same as for spots to try.
constexpr double kReadFirstChance = kShiftChance;

/// A smaller gain of chance is no reason for a change.
constexpr double kLeastVisitGain = 0.01;

/// The devices of a site by what the visit has to do with them.
struct SortedDevices {
  std::vector<std::size_t> needy;
  std::vector<std::size_t> cause;
  std::vector<std::size_t> read_again;

  explicit SortedDevices(const RelocationSearch& search) {
    for (std::size_t i = 0; i < search.site.devices.size(); ++i) {
      if (needs_something(search, i)) {
        (is_unexplained(search, i) ? cause : needy).push_back(i);
      } else if (search.read_of(i) != nullptr && search.outcome(i) == Outcome::doubtful) {
        read_again.push_back(i);
      }
    }
  }

 private:
  static bool is_unexplained(const RelocationSearch& search, std::size_t device) {
    const auto& answer = search.reading_answer(device);
    return answer && answer->verdict == ReadingVerdict::unexplained;
  }
};

/// Makes the stops of a settled visit.
class Planner {
 public:
  Planner(const RelocationSearch& search, const VisitStations& stations, const VisitSearch& visit,
          const SortedDevices& devices, const std::vector<DeviceRelocation>& remedies,
          const std::vector<DeviceRelocation>& cause_remedies, const SettledVisit& settled)
      : search_(search),
        stations_(stations),
        visit_(visit),
        devices_(devices),
        remedies_(remedies),
        cause_remedies_(cause_remedies),
        settled_(settled) {}

  std::vector<VisitStop> stops() const {
    std::vector<VisitStop> shared, own;
    for (const NamedChange& change : settled_.standing.changes) shared.push_back(shared_stop(change));
    for (std::size_t i = 0; i < devices_.needy.size(); ++i) own.push_back(needy_stop(i));
    for (const std::size_t device : devices_.cause) own.push_back(other_stop(device, DeviceStop::cause));
    for (const std::size_t device : devices_.read_again)
      own.push_back(other_stop(device, DeviceStop::read_again));
    for (VisitStop& stop : own) {
      DeviceWork& work = std::get<DeviceWork>(stop.work);
      bool by_shared = false, by_moved = false;
      for (const VisitStop& before : shared) {
        const auto& at = std::get<SharedWork>(before.work);
        if (std::ranges::find(at.needed_by, work.device, &SharedWork::NeededBy::device) == at.needed_by.end())
          continue;
        by_shared = true;
        by_moved = by_moved || at.from.has_value();
        work.read_before = work.read_before || at.read_first;
      }
      // Once it goes another way, a reading of the way before tells nothing.
      work.read_first = work.read_first && (!by_shared || (work.read_before && !by_moved));
    }
    const std::size_t first_own = shared.size();
    std::ranges::move(own, std::back_inserter(shared));
    std::vector<Placement> places;
    std::vector<std::vector<std::size_t>> after(shared.size());
    const auto is_cause = [&](std::size_t stop) {
      const auto* work = std::get_if<DeviceWork>(&shared[stop].work);
      return work != nullptr && work->stop == DeviceStop::cause;
    };
    for (std::size_t i = 0; i < shared.size(); ++i) {
      places.push_back(shared[i].place);
      if (is_cause(i)) continue;  // what is found there may change all that follows
      for (std::size_t cause = first_own; cause < shared.size(); ++cause) {
        if (is_cause(cause)) after[i].push_back(cause);
      }
      const bool is_added = i < first_own && !std::get<SharedWork>(shared[i].work).from;
      for (std::size_t change = 0; is_added && change < first_own; ++change) {
        if (std::get<SharedWork>(shared[change].work).from) after[i].push_back(change);
      }
      if (i < first_own) continue;
      const Link& link = link_of(std::get<DeviceWork>(shared[i].work).device);
      for (std::size_t change = 0; change < first_own; ++change) {
        if (touches({settled_.standing.changes[change]}, link)) after[i].push_back(change);
      }
    }
    std::vector<VisitStop> walk;
    for (const std::size_t stop : walk_order(search_.site, start(), places, after)) {
      walk.push_back(std::move(shared[stop]));
      walk.back().on_board = hangs_on_board(walk.back());
    }
    return walk;
  }

  /// Devices without a stop whose way goes by something that is moved.
  std::vector<std::string> read_again(const std::vector<VisitStop>& stops) const {
    std::vector<NamedChange> moved = settled_.standing.changes;
    std::erase_if(
        moved, [&](const NamedChange& change) { return !stations_.places()[change.place].from.has_value(); });
    std::vector<std::string> names;
    for (const Link& link : search_.table.links) {
      const bool has_stop = std::ranges::any_of(stops, [&](const VisitStop& stop) {
        const auto* work = std::get_if<DeviceWork>(&stop.work);
        return work != nullptr && work->device == link.device;
      });
      if (!has_stop && touches(moved, link)) names.push_back(link.device);
    }
    return names;
  }

 private:
  const Link& link_of(const std::string& device) const {
    return *std::ranges::find(settled_.after.links, device, &Link::device);
  }

  Placement start() const {
    return search_.site.hubs.empty() ? search_.site.devices.front().place : search_.site.hubs.front().place;
  }

  bool reads_first(std::size_t device) const {
    return search_.read_of(device) == nullptr &&
           search_.table.links[device].pass_probability >= kReadFirstChance;
  }

  bool hangs_on_board(const VisitStop& stop) const {
    const auto* work = std::get_if<DeviceWork>(&stop.work);
    if (work != nullptr && !work->change.place) return false;
    const HangingSpot hangs = search_.hanging.at(stop.place);
    const auto* on_wall = std::get_if<OnWall>(&hangs);
    return on_wall != nullptr && on_wall->board_m > 0;
  }

  VisitStop shared_stop(const NamedChange& change) const {
    const StationPlace& to = stations_.places()[change.place];
    SharedWork work{.kind = to.kind, .radio = change.name, .from = to.from, .read_first = true};
    for (std::size_t i = 0; i < devices_.needy.size(); ++i) {
      const std::size_t device = devices_.needy[i];
      const Link& after = settled_.after.links[device];
      const double before = search_.table.links[device].pass_probability;
      if (!touches({change}, after) || after.pass_probability < before + kLeastVisitGain) continue;
      const DeviceOption& taken = settled_.taken(i);
      if (!taken.figures.met && taken.figures.chance < kLikelyVisitChance) continue;
      const bool no_more = !taken.spots && visit_.variant(i, taken.variant).effort == VisitEffort();
      const bool here = after.heard_by() == change.name;
      work.needed_by.push_back(
          {after.device, after.weaker().reading_percent, here, here && no_more && taken.figures.met});
      work.read_first = work.read_first && reads_first(device);
    }
    if (work.needed_by.empty()) work.read_first = false;
    return {to.place(), std::move(work)};
  }

  DeviceWork work_of(std::size_t device, DeviceStop stop) const {
    const Link& before = search_.table.links[device];
    const Link& after = settled_.after.links[device];
    DeviceWork work{.device = before.device,
                    .stop = stop,
                    .outcome = before.outcome,
                    .read_percent = search_.read_percent(device),
                    .percent_before = before.weaker().reading_percent,
                    .chance_before = before.pass_probability,
                    .change = {},
                    .percent = after.weaker().reading_percent,
                    .check_chance = after.pass_probability,
                    .chance = after.pass_probability};
    work.ends_at_percent = search_.site.reading.weak_below_percent;
    const double reserve_db = search_.site.profiles.at(search_.site.devices[device].profile).reserve_db;
    if (reserve_db > 0) {
      const LinkBudget& way = after.weaker();
      const Dbm needed = way.level - way.margin + Db{reserve_db};
      work.ends_at_percent = std::max(work.ends_at_percent, reading_percent(search_.site.reading, needed));
    }
    return work;
  }

  DeviceStep change_of(std::size_t needy, const DeviceOption& option) const {
    const DeviceVariant& variant = visit_.variant(needy, option.variant);
    DeviceStep change{.spacer = variant.spacer,
                      .place = variant.place,
                      .read_percent = option.read_percent,
                      .enrol = option.enrol,
                      .spots = option.spots,
                      .edits = variant.edits};
    if (option.enrol) {
      for (Edit& edit : visit_.enrolment(devices_.needy[needy], *option.enrol))
        change.edits.push_back(std::move(edit));
    }
    return change;
  }

  VisitStop needy_stop(std::size_t needy) const {
    const std::size_t device = devices_.needy[needy];
    const DeviceOption& taken = settled_.taken(needy);
    DeviceWork work = work_of(device, DeviceStop::change);
    work.change = change_of(needy, taken);
    work.read_first = reads_first(device);
    if (work.change.spots) work.chance = std::max(work.check_chance, taken.figures.chance);
    if (work.change.read_percent) {
      work.percent = *work.change.read_percent;
      work.chance = 1;
    }
    const bool as_it_hangs =
        work.change.empty() && !touches(settled_.standing.changes, settled_.after.links[device]);
    if (as_it_hangs) work.stop = DeviceStop::read;
    if (as_it_hangs && work.read_percent) work.chance = 0;
    work.met = taken.figures.met && search_.enough(work.chance);
    add_fallback(needy, work);
    return {work.change.place.value_or(search_.site.devices[device].place), std::move(work)};
  }

  /// What of a change is not in another.
  static DeviceStep beyond(DeviceStep change, const DeviceStep& done) {
    if (done.spacer) change.spacer = false;
    if (change.place == done.place) {
      change.place.reset();
      change.read_percent.reset();
    }
    if (change.enrol == done.enrol) change.enrol.reset();
    if (done.spots && !change.place) change.spots.reset();
    return change;
  }

  /// Spots, where they are not in the plan; else what else can be done to the device; else what can be done
  /// to shared equipment, where the plan does not do that already.
  void add_fallback(std::size_t needy, DeviceWork& work) const {
    const DeviceOption& taken = settled_.taken(needy);
    if (const auto there = search_.good_place(devices_.needy[needy]); there && !work.change.place) {
      work.otherwise = DeviceStep{.place = there->place, .read_percent = there->percent};
      return;
    }
    if (!taken.spots) {
      if (const auto spots = visit_.spots(needy, taken)) {
        work.otherwise = DeviceStep{.spots = spots};
        return;
      }
    }
    const std::vector<DeviceOption> all = visit_.all_options(settled_.standing, needy);
    std::vector<const DeviceOption*> others;
    for (const DeviceOption& option : all) {
      const bool better = option.link.pass_probability > taken.link.pass_probability;
      if (option.variant != taken.variant && better && option.figures.chance >= kLikelyVisitChance)
        others.push_back(&option);
    }
    std::ranges::stable_sort(others, {}, [](const DeviceOption* option) { return -option->figures.chance; });
    for (const DeviceOption* option : others) {
      DeviceStep more = beyond(change_of(needy, *option), work.change);
      if (more.empty()) continue;
      work.otherwise = std::move(more);
      return;
    }
    add_shared_remedy(remedies_[needy], work);
  }

  /// What can be done to shared equipment; where the plan changes some already, one more repeater alone.
  void add_shared_remedy(const DeviceRelocation& found, DeviceWork& work) const {
    const bool adds_only = !settled_.standing.changes.empty();
    for (const Remedy& remedy : found.remedies) {
      if (adds_only && remedy.kind != RemedyKind::new_repeater) continue;
      const bool shared = is_of_equipment(remedy.kind);
      if (!shared || remedy.pass_probability() < kLikelyVisitChance) continue;
      if (work.remedy && (work.remedy->does() || !remedy.does())) continue;
      work.remedy = remedy;
    }
  }

  VisitStop other_stop(std::size_t device, DeviceStop stop) const {
    DeviceWork work = work_of(device, stop);
    work.met = stop == DeviceStop::read_again;
    const auto& answer = search_.reading_answer(device);
    const bool shifts = !answer || !answer->beyond_fading;
    const auto spots = shifts ? search_.present_spots(device) : std::nullopt;
    if (spots && spots->pass_probability >= kShiftChance) {
      work.otherwise = DeviceStep{.spots = spots};
    } else if (stop == DeviceStop::cause && shifts) {
      add_other_way(device, work);
    }
    return {search_.site.devices[device].place, std::move(work)};
  }

  /// For a device whose reading nothing explains, and that may not be shifted: through a repeater that stands
  /// once the plan is done, else what relocation() finds.
  void add_other_way(std::size_t device, DeviceWork& work) const {
    const Link* best = nullptr;
    const std::vector<Link> all = ways(search_.site, unenrolled(search_.site.devices[device]),
                                       settled_.standing.stations, search_.fading_model);
    for (const Link& way : all) {
      if (way.via.empty() || way.via == search_.table.links[device].via) continue;
      if (best == nullptr || way.pass_probability > best->pass_probability) best = &way;
    }
    if (best != nullptr && best->pass_probability >= kLikelyVisitChance) {
      work.otherwise = DeviceStep{.enrol = way_of(*best)};
      return;
    }
    const auto found = std::ranges::find(devices_.cause, device);
    add_shared_remedy(cause_remedies_[static_cast<std::size_t>(found - devices_.cause.begin())], work);
  }

  const RelocationSearch& search_;
  const VisitStations& stations_;
  const VisitSearch& visit_;
  const SortedDevices& devices_;
  const std::vector<DeviceRelocation>& remedies_;        // of the needy devices
  const std::vector<DeviceRelocation>& cause_remedies_;  // of those whose reading nothing explains
  const SettledVisit& settled_;
};

}  // namespace

VisitPlan visit_plan(const Site& site, const VisitPlanOptions& options) {
  require_in(kRelocationChance, options.chance);
  const RelocationOptions asked{.doors = options.doors,
                                .devices = {},
                                .readings = options.readings,
                                .chance = options.chance,
                                .threads = options.threads};
  const RelocationSearch search(site, asked);
  EquipmentPlaces places(search);
  return visit_plan(search, places, options.most_sets);
}

VisitPlan visit_plan(const RelocationSearch& search, EquipmentPlaces& places, int most_sets) {
  const Site& site = search.site;
  VisitPlan plan{.site = site.name,
                 .frequency_hz = site.radio.frequency_hz,
                 .doors = search.options.doors,
                 .chance = search.options.chance,
                 .reading = site.reading,
                 .proved = true,
                 .before = search.table,
                 .after = search.table,
                 .warnings = search.warnings(),
                 .nearby_readings = search.nearby.count()};
  const SortedDevices devices(search);
  if (devices.needy.empty() && devices.cause.empty() && devices.read_again.empty()) return plan;
  const std::vector<DeviceRelocation> remedies = device_remedies(search, places, devices.needy);
  const VisitStations stations =
      devices.needy.empty() ? VisitStations(search, {}, {}, devices.needy)
                            : VisitStations(search, places.moves(), places.repeaters(), devices.needy);
  const VisitSearch visit(search, stations, devices.needy, remedies);
  VisitOutcome outcome =
      settled_visit(search, stations, visit, devices.needy, static_cast<std::size_t>(most_sets));
  const std::vector<DeviceRelocation> cause_remedies = device_remedies(search, places, devices.cause);
  const Planner planner(search, stations, visit, devices, remedies, cause_remedies, outcome.settled);
  plan.stops = planner.stops();
  plan.effort = outcome.settled.choice.effort;
  plan.read_again = planner.read_again(plan.stops);
  plan.sets = outcome.choices.sets;
  for (const StationSet& set : stations.sets())
    plan.most_changes = std::max(plan.most_changes, set.changes.size());
  plan.tried = outcome.choices.tried;
  plan.proved = outcome.choices.proved;
  plan.tried_parts = outcome.choices.tried_below.parts;
  plan.after = std::move(outcome.settled.after);
  plan.edits = std::move(outcome.settled.edits);
  return plan;
}

std::vector<std::string> short_devices(const VisitPlan& plan) {
  std::vector<std::string> names;
  for (const VisitStop& stop : plan.stops) {
    const auto* work = std::get_if<DeviceWork>(&stop.work);
    if (work != nullptr && !work->met) names.push_back(work->device);
  }
  return names;
}

VisitParts visit_parts(const VisitPlan& plan) {
  VisitParts parts;
  for (const VisitStop& stop : plan.stops) {
    parts.boards += stop.on_board ? 1 : 0;
    if (const auto* shared = std::get_if<SharedWork>(&stop.work)) {
      parts.repeaters += shared->kind == SharedKind::repeater_added ? 1 : 0;
      parts.hubs += shared->kind == SharedKind::hub_added ? 1 : 0;
      const bool spacer = shared->kind == SharedKind::spacer;
      parts.spacers += spacer ? 1 : 0;
      parts.drill = parts.drill || !spacer;
      parts.lead = parts.lead || !spacer;
      continue;
    }
    const DeviceStep& change = std::get<DeviceWork>(stop.work).change;
    parts.spacers += change.spacer ? 1 : 0;
    const auto& otherwise = std::get<DeviceWork>(stop.work).otherwise;
    parts.spare_spacers += otherwise && otherwise->spacer ? 1 : 0;
    parts.drill = parts.drill || change.place.has_value() || change.spots.has_value();
  }
  return parts;
}

}  // namespace linkmargin

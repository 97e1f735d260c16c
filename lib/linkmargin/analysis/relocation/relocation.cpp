#include "linkmargin/analysis/relocation/relocation.hpp"

#include "linkmargin/analysis/relocation/move_places.hpp"
#include "linkmargin/analysis/relocation/relocation_search.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/reach.hpp"
#include "linkmargin/prediction/serving/hub_load.hpp"
#include "linkmargin/site/edit/move_edits.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

class DeviceSearch {
 public:
  DeviceSearch(const RelocationSearch& search, const std::vector<HubMove>& moves,
               const std::vector<RepeaterPlace>& places, std::size_t device)
      : search_(search),
        moves_(moves),
        places_(places),
        position_(device),
        device_(search.site.devices[device]) {
    found_.link = search.predicted[device];
    found_.reading_percent = search.read_percent(device);
    found_.expected = search.present[device];
    found_.stays = !search.may_shift(device);
    if (const auto& answer = search.reading_answer(device)) {
      found_.verdict = answer->verdict;
      beyond_fading_ = answer->beyond_fading;
    }
  }

  DeviceRelocation run() {
    if (found_.verdict == ReadingVerdict::low) found_.left_out.push_back(SkipReason::low_reading);
    if (found_.link.outcome == Outcome::good && search_.enough(found_.expected.pass_probability)) {
      found_.left_out.push_back(SkipReason::needs_nothing);
      return std::move(found_);
    }
    if (found_.reading_percent && *found_.reading_percent >= search_.site.reading.weak_below_percent &&
        !found_.link.earlier_percent.empty() && found_.link.outcome == Outcome::doubtful) {
      found_.left_out.push_back(SkipReason::read_again);
      return std::move(found_);
    }
    if (enough_before(found_.link, search_.site.reading))
      found_.left_out.push_back(SkipReason::read_better_before);
    const bool ruled = search_.site.profiles.at(device_.profile).fixed_by_rule;
    if (found_.verdict == ReadingVerdict::unexplained) found_.left_out.push_back(SkipReason::look_for_cause);
    if (beyond_fading_) return std::move(found_);
    add(read_place());
    if (!ruled) add(spacer());
    auto shift = spots();
    if (!shift && search_.tried[position_]) found_.left_out.push_back(SkipReason::spots_read);
    const bool hopeless = shift && shift->trial->pass_probability < kShiftChance;
    if (hopeless) found_.left_out.push_back(SkipReason::shift_will_not_do);
    if (!hopeless) add(std::move(shift));
    if (ruled) {
      found_.left_out.push_back(shifts_by_radius(device_) ? SkipReason::ruled_reach
                                                          : SkipReason::ruled_place);
    } else if (reach_m(device_.may_move).value_or(0) <= 0) {
      found_.left_out.push_back(SkipReason::device_stays);
    } else {
      slide();
    }
    const auto moves_hub = [&](const HubMove& move) {
      return move.station < search_.site.hubs.size() && !move.spaced;
    };
    if (std::ranges::none_of(moves_, moves_hub)) found_.left_out.push_back(SkipReason::hubs_stay);
    add(spaced_station(search_, moves_, position_));
    add(moved_hub(search_, moves_, position_, false));
    add(other_hub(search_, position_));
    for (Remedy& remedy : repeaters(search_, moves_, places_, position_)) add(std::move(remedy));
    add(Remedy{.kind = RemedyKind::wire});
    return std::move(found_);
  }

 private:
  /// Not what is expected to read less than the device read as it hangs.
  void add(std::optional<Remedy> remedy) {
    if (!remedy) return;
    const bool lowers = found_.reading_percent && remedy->expected && !remedy->trial && !remedy->enough &&
                        remedy->expected->percent <= *found_.reading_percent;
    if (!lowers) found_.remedies.push_back(std::move(*remedy));
  }

  std::optional<Remedy> spacer() const {
    const auto spaced = spaced_device(search_, position_);
    if (!spaced) return {};
    Remedy remedy{.kind = RemedyKind::spacer, .radio = device_.name};
    search_.complete(
        remedy, position_,
        predicted_serving_link(search_.site, spaced->device, search_.stations, search_.fading_model),
        device_.place);
    if (!search_.helps(position_, *remedy.expected)) return {};
    if (search_.tried[position_]) remedy.with_spots.reset();  // these spots were read
    remedy.edits = {spaced->edit};
    return remedy;
  }

  std::optional<Remedy> read_place() const {
    const auto there = search_.good_place(position_);
    if (!there) return {};
    Remedy remedy{.kind = RemedyKind::read_place, .radio = device_.name};
    remedy.place = there->place;
    remedy.distance_m = distance(there->place.at, device_.place.at);
    remedy.read_percent = there->percent;
    remedy.enough = true;
    remedy.edits = move_edits(search_.site, site_radio("devices", device_), there->place);
    return remedy;
  }

  /// SpotSearch at the spot: for a device whose place is ruled too, as far as half a wave.
  std::optional<Remedy> spots() const {
    const auto trial = search_.present_spots(position_);
    if (!trial) return {};
    Remedy remedy{.kind = RemedyKind::spots, .radio = device_.name};
    remedy.trial = trial;
    remedy.distance_m = remedy.trial->distance_m;
    remedy.expected = found_.expected;
    remedy.expected->pass_probability = remedy.trial->pass_probability;
    remedy.enough = search_.enough(remedy.trial->pass_probability);
    return remedy;
  }

  struct Place {
    Placement at;
    Link link;
    PassSummary then;
  };

  Remedy slide_to(RemedyKind kind, const Place& place) const {
    Remedy remedy{.kind = kind, .radio = device_.name};
    remedy.place = place.at;
    remedy.distance_m = distance(place.at.at, device_.place.at);
    search_.complete(remedy, position_, place.link, place.at);
    remedy.edits = move_edits(search_.site, site_radio("devices", device_), place.at);
    return remedy;
  }

  /// The nearest place that does, and the best one where that is another or none does.
  void slide() {
    const double shift_m = kFarthestWavelengths * wavelength_m(search_.site.radio.frequency_hz);
    std::optional<Place> nearest;
    std::optional<Place> best;
    Device moved = search_.as_read(position_);
    for (const Placement& at :
         move_places(search_.mounting, mounting_request(search_.site, device_), kPlaceStepM)) {
      if (distance(at.at, device_.place.at) <= shift_m) continue;  // belongs to the spot: spots()
      moved.place = at;
      Link link = predicted_serving_link(search_.site, moved, search_.stations, search_.fading_model);
      const PassSummary then = search_.brief(link);
      if (!nearest && search_.enough(then.pass_probability)) nearest = {at, link, then};
      if (!best || then.pass_probability > best->then.pass_probability) best = {at, std::move(link), then};
    }
    const double before = nearest ? nearest->then.pass_probability : found_.expected.pass_probability;
    if (nearest) add(slide_to(RemedyKind::nearest_place, *nearest));
    if (best && best->then.pass_probability >= before + kWorthChance)
      add(slide_to(RemedyKind::best_place, *best));
  }

  const RelocationSearch& search_;
  const std::vector<HubMove>& moves_;
  const std::vector<RepeaterPlace>& places_;
  std::size_t position_;
  const Device& device_;
  bool beyond_fading_ = false;
  DeviceRelocation found_;
};

void check_options(const Site& site, const RelocationOptions& options) {
  require_in(kRelocationChance, options.chance);
  const auto known = [&](const std::string& name) {
    if (std::ranges::find(site.devices, name, &Device::name) == site.devices.end())
      throw DomainError("unknown device '" + name + "'");
  };
  std::ranges::for_each(options.devices, known);
}

}  // namespace

RemedyStage Remedy::rung() const {
  switch (kind) {
    case RemedyKind::read_place:
    case RemedyKind::spacer:
    case RemedyKind::spots:
      return RemedyStage::shift;
    case RemedyKind::nearest_place:
    case RemedyKind::best_place:
      return RemedyStage::slide;
    case RemedyKind::station_spacer:
    case RemedyKind::hub_moved:
    case RemedyKind::other_hub:
      return RemedyStage::hub;
    case RemedyKind::known_repeater:
    case RemedyKind::repeater_moved:
    case RemedyKind::new_repeater:
      return RemedyStage::repeater;
    case RemedyKind::wire:
      return RemedyStage::wire;
  }
  return RemedyStage::wire;
}

double Remedy::pass_probability() const {
  return with_spots ? with_spots->pass_probability : expected ? expected->pass_probability : 1;
}

const Remedy* chosen(const DeviceRelocation& device) {
  if (device.verdict == ReadingVerdict::unexplained) return nullptr;
  const Remedy* best = nullptr;
  for (const Remedy& remedy : device.remedies) {
    if (remedy.kind == RemedyKind::new_repeater || remedy.kind == RemedyKind::wire) continue;  // bought
    if (remedy.enough) return &remedy;
    if (best == nullptr ||
        (!best->does() && (remedy.does() || remedy.pass_probability() > best->pass_probability())))
      best = &remedy;
  }
  return best;
}

std::vector<Edit> chosen_edits(const Relocation& relocation) {
  std::vector<Edit> edits;
  for (const DeviceRelocation& device : relocation.devices) {
    const Remedy* remedy = chosen(device);
    if (remedy == nullptr) continue;
    for (const Edit& edit : remedy->edits) {
      if (std::ranges::find(edits, edit.path, &Edit::path) == edits.end()) edits.push_back(edit);
    }
  }
  return edits;
}

namespace {

/// Whether a hub or repeater has slots for the devices sent to it, beside those that it serves.
bool has_slot(const RelocationSearch& search, const std::string& station,
              const std::vector<std::string>& sent) {
  const auto load_in = [&](const std::vector<HubLoad>& loads) -> std::optional<HubLoad> {
    const auto found = std::ranges::find(loads, station, &HubLoad::hub);
    return found == loads.end() ? std::nullopt : std::optional(*found);
  };
  std::optional<HubLoad> load = load_in(search.table.hubs);
  if (!load) load = load_in(search.table.repeater_loads);
  if (!load) return true;
  for (std::size_t i = 0; i < search.links.size(); ++i) {
    const Device& device = search.site.devices[i];
    const Link& link = search.links[i];
    const bool moves = std::ranges::find(sent, device.name) != sent.end();
    if (moves && link.hub != station && link.heard_by() != station)
      load->take(slot_user(search.site, device));
  }
  return !load->over_capacity;
}

/// Another hub or repeater is proposed as long as it has slots: the first device gets the last of them.
void keep_to_slots(const RelocationSearch& search, std::vector<DeviceRelocation>& devices) {
  std::map<std::string, std::vector<std::string>> sent;
  for (DeviceRelocation& device : devices) {
    std::erase_if(device.remedies, [&](const Remedy& remedy) {
      if (remedy.kind != RemedyKind::other_hub && remedy.kind != RemedyKind::known_repeater) return false;
      std::vector<std::string> with = sent[remedy.radio];
      with.push_back(device.link.device);
      if (!has_slot(search, remedy.radio, with)) return true;
      sent[remedy.radio] = std::move(with);
      return false;
    });
  }
}

}  // namespace

std::vector<DeviceRelocation> device_remedies(const RelocationSearch& search, EquipmentPlaces& places,
                                              const std::vector<std::size_t>& devices) {
  std::vector<DeviceRelocation> found(devices.size());
  if (devices.empty()) return found;
  const std::vector<HubMove>& moves = places.moves();
  const std::vector<RepeaterPlace>& spots = places.repeaters();
  parallel_for(devices.size(), search.options.threads,
               [&](std::size_t i) { found[i] = DeviceSearch(search, moves, spots, devices[i]).run(); });
  keep_to_slots(search, found);
  return found;
}

Relocation relocation(const Site& site, const RelocationOptions& options) {
  check_options(site, options);
  const RelocationSearch search(site, options);
  EquipmentPlaces places(search);
  return relocation(search, places);
}

Relocation relocation(const RelocationSearch& search, EquipmentPlaces& places) {
  const Site& site = search.site;
  const RelocationOptions& options = search.options;
  Relocation found{.site = site.name,
                   .frequency_hz = site.radio.frequency_hz,
                   .doors = options.doors,
                   .chance = options.chance,
                   .reading = site.reading,
                   .devices = {},
                   .warnings = search.warnings(),
                   .nearby_readings = search.nearby.count()};
  for (const AreaCover& area : search.table.areas) {
    if (area.weak) found.weak_areas.push_back(area.area);
  }
  std::vector<std::size_t> wanted;
  for (std::size_t i = 0; i < search.links.size(); ++i) {
    const std::string& name = search.links[i].device;
    const bool named = std::ranges::find(options.devices, name) != options.devices.end();
    if (options.devices.empty() ? search.outcome(i) != Outcome::good : named) wanted.push_back(i);
  }
  found.devices = device_remedies(search, places, wanted);
  return found;
}

}  // namespace linkmargin

#include "linkmargin/prediction/serving/slot_choice.hpp"

#include <algorithm>
#include <limits>
#include <optional>
#include <utility>

namespace linkmargin {
namespace {

/// A device whose way is still open.
struct Waiting {
  std::size_t device = 0;
  std::vector<Link> ways;  ///< the best first
};

/// What a device loses if it does not get its best way that fits; nothing where none fits.
struct Stake {
  const Link* way = nullptr;
  double loss = -1;
};

Stake stake_of(const Waiting& waiting, const SlotBook& book, const SlotUser& user) {
  Stake stake;
  for (const Link& way : waiting.ways) {
    if (!book.fits(way, user)) continue;
    if (stake.way == nullptr) {
      stake = {&way, std::numeric_limits<double>::infinity()};
    } else {
      stake.loss = stake.way->pass_probability - way.pass_probability;
      break;
    }
  }
  return stake;
}

/// Where no way fits: the one that overfills least, the best of such.
const Link& least_over(const Waiting& waiting, const SlotBook& book, const SlotUser& user) {
  return *std::ranges::min_element(waiting.ways, {},
                                   [&](const Link& way) { return book.lacking(way, user); });
}

}  // namespace

SlotBook::SlotBook(const Site& site, const Stations& stations) : hubs_(site.hubs) {
  for (const Repeater& repeater : site.repeaters) {
    repeaters_.push_back(as_hub(repeater));
    repeaters_.back().capacity = repeater.capacity;
  }
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    const auto of_site = std::ranges::find(site.repeaters, repeater.hears.name, &Repeater::name);
    if (of_site == site.repeaters.end()) continue;
    take(*repeater.onward, {site.profiles.at(of_site->profile).device_class, 1});
  }
}

void SlotBook::take(const std::string& station, const SlotUser& user) {
  used_[station][user.device_class] += user.slots;
}

void SlotBook::take(const Link& way, const SlotUser& user) {
  take(way.hub, user);
  if (!way.via.empty()) take(way.via.front(), user);
}

bool SlotBook::has_room(const std::vector<Hub>& among, const std::string& station,
                        const SlotUser& user) const {
  const auto hub = std::ranges::find(among, station, &Hub::name);
  if (hub == among.end() || !hub->capacity) return true;
  const auto& by_class = hub->capacity->by_class;
  const auto counts = [&](const std::string& device_class) {
    return by_class.empty() || device_class == user.device_class ||
           (!by_class.contains(user.device_class) && !by_class.contains(device_class));
  };
  int used = user.slots;
  if (const auto found = used_.find(station); found != used_.end()) {
    for (const auto& [device_class, slots] : found->second) used += counts(device_class) ? slots : 0;
  }
  if (by_class.empty()) return used <= hub->capacity->total.value_or(0);
  const auto slots = by_class.find(by_class.contains(user.device_class) ? user.device_class : "others");
  return slots != by_class.end() && used <= slots->second;
}

bool SlotBook::fits(const Link& way, const SlotUser& user) const {
  return lacking(way, user) == 0;
}

int SlotBook::lacking(const Link& way, const SlotUser& user) const {
  const bool hub_full = !has_room(hubs_, way.hub, user);
  const bool repeater_full = !way.via.empty() && !has_room(repeaters_, way.via.front(), user);
  return (hub_full ? 1 : 0) + (repeater_full ? 1 : 0);
}

std::vector<HubLoad> SlotBook::loads(const std::vector<Hub>& among) const {
  std::vector<HubLoad> found;
  for (const Hub& hub : among) {
    std::vector<SlotUser> tenants;
    if (const auto used = used_.find(hub.name); used != used_.end()) {
      for (const auto& [device_class, slots] : used->second) tenants.push_back({device_class, slots});
    }
    found.push_back(hub_load(hub, tenants));
  }
  return found;
}

std::vector<HubLoad> SlotBook::hub_loads() const {
  return loads(hubs_);
}

std::vector<HubLoad> SlotBook::repeater_loads() const {
  return loads(repeaters_);
}

bool SlotBook::over_capacity() const {
  return std::ranges::any_of(hub_loads(), &HubLoad::over_capacity) ||
         std::ranges::any_of(repeater_loads(), &HubLoad::over_capacity);
}

SlotUser slot_user(const Site& site, const Device& device) {
  return {site.profiles.at(device.profile).device_class, device.slots};
}

std::vector<Link> ways_within_slots(const Site& site, const Stations& stations,
                                    const FadingModel& fading_model, std::vector<Link> best, SlotBook& book) {
  SlotBook all = book;
  for (std::size_t i = 0; i < best.size(); ++i) all.take(best[i], slot_user(site, site.devices[i]));
  if (!all.over_capacity()) {
    book = std::move(all);
    return best;
  }
  std::vector<Waiting> waiting;
  for (std::size_t i = 0; i < best.size(); ++i) {
    std::vector<Link> open = ways(site, site.devices[i], stations, fading_model);
    if (open.size() < 2) {
      book.take(best[i], slot_user(site, site.devices[i]));
      continue;
    }
    std::ranges::stable_sort(open, is_better_way);
    waiting.push_back({i, std::move(open)});
  }
  while (!waiting.empty()) {
    std::size_t first = 0;
    Stake greatest;
    for (std::size_t i = 0; i < waiting.size(); ++i) {
      const Device& device = site.devices[waiting[i].device];
      const Stake stake = stake_of(waiting[i], book, slot_user(site, device));
      const bool sooner =
          stake.loss > greatest.loss ||
          (stake.loss == greatest.loss && device.name < site.devices[waiting[first].device].name);
      if (i > 0 && !sooner) continue;
      first = i;
      greatest = stake;
    }
    const std::size_t device = waiting[first].device;
    if (greatest.way == nullptr)
      greatest.way = &least_over(waiting[first], book, slot_user(site, site.devices[device]));
    best[device] = *greatest.way;
    book.take(best[device], slot_user(site, site.devices[device]));
    waiting.erase(waiting.begin() + static_cast<std::ptrdiff_t>(first));
  }
  return best;
}

}  // namespace linkmargin

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

template <typename Loads>
auto* find(Loads& loads, const std::string& name) {
  const auto found = std::ranges::find(loads, name, &HubLoad::hub);
  return found == loads.end() ? nullptr : &*found;
}

}  // namespace

SlotBook::SlotBook(const Site& site, const Stations& stations) {
  for (const Hub& hub : site.hubs) hubs_.push_back(empty_load(hub.name, hub.capacity));
  for (const Repeater& repeater : site.repeaters)
    repeaters_.push_back(empty_load(repeater.name, repeater.capacity));
  for (const RepeaterEndpoint& repeater : stations.repeaters) {
    const auto of_site = std::ranges::find(site.repeaters, repeater.hears.name, &Repeater::name);
    if (of_site == site.repeaters.end()) continue;
    take(*repeater.onward, {site.profiles.at(of_site->profile).device_class, 1});
  }
}

void SlotBook::take(const Link& way, const SlotUser& user) {
  if (HubLoad* hub = find(hubs_, way.hub)) hub->take(user);
  if (way.via.empty()) return;
  if (HubLoad* repeater = find(repeaters_, way.via.front())) repeater->take(user);
}

bool SlotBook::fits(const Link& way, const SlotUser& user) const {
  return lacking(way, user) == 0;
}

int SlotBook::lacking(const Link& way, const SlotUser& user) const {
  const HubLoad* hub = find(hubs_, way.hub);
  const HubLoad* repeater = way.via.empty() ? nullptr : find(repeaters_, way.via.front());
  const auto is_full = [&](const HubLoad* load) { return load != nullptr && !load->has_room(user); };
  return (is_full(hub) ? 1 : 0) + (is_full(repeater) ? 1 : 0);
}

bool SlotBook::over_capacity() const {
  return std::ranges::any_of(hubs_, &HubLoad::over_capacity) ||
         std::ranges::any_of(repeaters_, &HubLoad::over_capacity);
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

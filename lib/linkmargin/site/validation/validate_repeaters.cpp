#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <set>

namespace linkmargin::checks {
namespace {

const Repeater* find_repeater(const Site& site, const std::optional<std::string>& name) {
  if (!name || *name == kDirect) return nullptr;
  const auto found = std::ranges::find(site.repeaters, *name, &Repeater::name);
  return found == site.repeaters.end() ? nullptr : &*found;
}

/// A radio that may be enrolled at a repeater.
struct Enrolled {
  std::string_view map;
  const std::string& name;
  const std::string& profile;
  const std::optional<std::string>& hub;
  const std::optional<std::string>& via;
};

std::vector<Enrolled> enrolled(const Site& site) {
  std::vector<Enrolled> all;
  for (const Repeater& repeater : site.repeaters)
    all.push_back({"repeaters", repeater.name, repeater.profile, repeater.hub, repeater.via});
  for (const Device& device : site.devices)
    all.push_back({"devices", device.name, device.profile, device.hub, device.via});
  return all;
}

/// The repeaters one after the other, from one on, as far as they are named; a loop is followed once.
std::vector<const Repeater*> chain_of(const Site& site, const Repeater* first) {
  std::vector<const Repeater*> chain;
  for (const Repeater* at = first; at != nullptr && std::ranges::find(chain, at) == chain.end();
       at = find_repeater(site, at->via))
    chain.push_back(at);
  return chain;
}

/// The last of a chain leads back into it.
const Repeater* loop_start(const Site& site, const std::vector<const Repeater*>& chain) {
  const Repeater* next = chain.empty() ? nullptr : find_repeater(site, chain.back()->via);
  return next != nullptr && std::ranges::find(chain, next) != chain.end() ? next : nullptr;
}

void check_loops(const Site& site, Diagnostics& faults) {
  std::set<const Repeater*> said;
  for (const Repeater& repeater : site.repeaters) {
    const auto chain = chain_of(site, &repeater);
    const Repeater* start = loop_start(site, chain);
    if (start == nullptr || said.contains(start)) continue;
    std::string names;
    for (auto at = std::ranges::find(chain, start); at != chain.end(); ++at) {
      said.insert(*at);
      names += (names.empty() ? "" : ", ") + quoted((*at)->name);
    }
    add(faults, DiagnosticCode::impossible, pointer({"repeaters", start->name, "via"}),
        "repeaters go by each other and reach no hub: " + names, "one of them needs a hub, or no 'via'")
        .names = {start->name};
  }
}

/// What is enrolled at one repeater by name ends at one hub.
void check_tenants(const Site& site, const Repeater& repeater, Diagnostics& faults) {
  const Device* first = nullptr;
  for (const Device& device : site.devices) {
    if (device.via != repeater.name || !device.hub || repeater.hub) continue;
    if (first == nullptr) first = &device;
    if (*device.hub == *first->hub) continue;
    add(faults, DiagnosticCode::impossible, pointer({"devices", device.name, "hub"}),
        quoted(device.name) + " and " + quoted(first->name) + " are enrolled at repeater " +
            quoted(repeater.name) + ", which goes to one hub: " + quoted(*device.hub) + " or " +
            quoted(*first->hub))
        .names = {device.name, first->name};
  }
}

void check_via(const Site& site, const Enrolled& radio, Diagnostics& faults) {
  const Repeater* repeater = find_repeater(site, radio.via);
  if (repeater == nullptr) {
    if (radio.via && *radio.via != kDirect)
      add_unknown(faults, pointer({radio.map, radio.name, "via"}), "repeater", *radio.via,
                  [&] { return names_of(site.repeaters); });
    return;
  }
  const std::string path = pointer({radio.map, radio.name, "via"});
  const auto chain = chain_of(site, repeater);
  if (loop_start(site, chain) != nullptr) return;
  const std::size_t hops = chain.size() + (radio.map == "repeaters" ? 1 : 0);
  if (hops > static_cast<std::size_t>(site.hops)) {
    add(faults, DiagnosticCode::outside_range, path,
        quoted(radio.name) + " goes by " + std::to_string(hops) + (hops == 1 ? " repeater" : " repeaters") +
            ", the system allows " + std::to_string(site.hops),
        "'hops' says how many it allows")
        .names = {radio.name};
  }
  const auto named = std::ranges::find_if(chain, [](const Repeater* one) { return one->hub.has_value(); });
  if (radio.hub && named != chain.end() && *(*named)->hub != *radio.hub) {
    add(faults, DiagnosticCode::impossible, pointer({radio.map, radio.name, "hub"}),
        quoted(radio.name) + " is enrolled to hub " + quoted(*radio.hub) + ", its repeater " +
            quoted((*named)->name) + " to hub " + quoted(*(*named)->hub))
        .names = {radio.name};
  }
  if (radio.map == "devices" && repeater->serves == RepeaterServes::areas) {
    add(faults, DiagnosticCode::impossible, path,
        quoted(radio.name) + " is enrolled at repeater " + quoted(repeater->name) +
            ", which serves remotes of areas alone")
        .names = {radio.name};
  }
  const auto profile = site.profiles.find(radio.profile);
  if (profile == site.profiles.end() || !repeater->capacity) return;
  const std::string& device_class = profile->second.device_class;
  if (repeater->capacity->serves(device_class)) return;
  add(faults, DiagnosticCode::missing_key, path,
      "repeater " + quoted(repeater->name) + " has no slots for " +
          (device_class.empty() ? "devices without a class" : "class " + quoted(device_class)) + ", which " +
          quoted(radio.name) + " needs",
      "'others' serves every class that is not named")
      .names = {repeater->name, device_class, radio.name};
}

}  // namespace

void check_repeaters(const Site& site, Diagnostics& faults) {
  for (const Repeater& repeater : site.repeaters) {
    if (repeater.name == kDirect)
      add(faults, DiagnosticCode::bad_name, pointer({"repeaters", repeater.name}),
          "no repeater can be called 'direct': 'via: direct' means that a device goes by none");
    if (repeater.hub && std::ranges::find(site.hubs, *repeater.hub, &Hub::name) == site.hubs.end())
      add_unknown(faults, pointer({"repeaters", repeater.name, "hub"}), "hub", *repeater.hub,
                  [&] { return names_of(site.hubs); });
  }
  for (const Repeater& repeater : site.repeaters) check_tenants(site, repeater, faults);
  check_loops(site, faults);
  for (const Enrolled& radio : enrolled(site)) check_via(site, radio, faults);
}

}  // namespace linkmargin::checks

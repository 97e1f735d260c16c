#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace linkmargin::checks {
namespace {

bool receives(const Profile& profile) {
  return !std::holds_alternative<std::monostate>(profile.sensitivity);
}

/// Whatever is served by hubs: devices and areas.
struct Served {
  std::string_view map;
  const std::string& name;
  const std::string& profile;
  const std::optional<std::string>& hub;
};

std::vector<Served> served(const Site& site) {
  std::vector<Served> all;
  for (const Device& device : site.devices)
    all.push_back({"devices", device.name, device.profile, device.hub});
  for (const Area& area : site.areas) all.push_back({"areas", area.name, area.profile, area.hub});
  return all;
}

void check_profile_of(const Site& site, std::string_view map, const std::string& name,
                      const std::string& profile, Diagnostics& faults) {
  const std::string path = pointer({map, name, "profile"});
  const auto found = site.profiles.find(profile);
  if (found == site.profiles.end()) {
    add_unknown(faults, path, "profile", profile, [&] { return keys(site.profiles); });
    return;
  }
  const bool must_receive = map == "hubs" || map == "repeaters";
  const bool must_transmit = map != "hubs";
  if (must_receive && !receives(found->second)) {
    add(faults, DiagnosticCode::missing_key, path,
        quoted(name) + " cannot receive: profile " + quoted(profile) + " has no sensitivity",
        "give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db")
        .names = {name, profile};
  }
  if (must_transmit && !found->second.transmit) {
    add(faults, DiagnosticCode::missing_key, path,
        quoted(name) + " cannot transmit: profile " + quoted(profile) + " has no power",
        "give one of erp_dbm, eirp_dbm, power_dbm")
        .names = {name, profile};
  }
}

const Hub* find_hub(const Site& site, std::string_view name) {
  const auto found = std::ranges::find(site.hubs, name, &Hub::name);
  return found == site.hubs.end() ? nullptr : &*found;
}

/// A class that none of the hubs that may serve it has slots for. Said once a hub and class.
void check_classes(const Site& site, Diagnostics& faults) {
  std::set<std::pair<std::string, std::string>> said;
  for (const Served& item : served(site)) {
    const auto profile = site.profiles.find(item.profile);
    if (profile == site.profiles.end()) continue;
    const std::string& device_class = profile->second.device_class;
    const auto may_serve = [&](const Hub& hub) { return !item.hub || *item.hub == hub.name; };
    const auto has_slots = [&](const Hub& hub) {
      return may_serve(hub) && (!hub.capacity || hub.capacity->serves(device_class));
    };
    if (std::ranges::any_of(site.hubs, has_slots)) continue;
    for (const Hub& hub : site.hubs) {
      if (!may_serve(hub) || !said.emplace(hub.name, device_class).second) continue;
      const std::string kind =
          device_class.empty() ? "devices without a class" : "class " + quoted(device_class);
      const auto near = nearest_hint(device_class, keys(hub.capacity->by_class));
      add(faults, DiagnosticCode::missing_key, pointer({"hubs", hub.name, "capacity"}),
          "hub " + quoted(hub.name) + " has no slots for " + kind + ", which " + quoted(item.name) + " needs",
          near.empty() ? "'others' serves every class that is not named" : near)
          .names = {hub.name, device_class, item.name};
    }
  }
}

}  // namespace

void check_profiles(const Site& site, Diagnostics& faults) {
  for (const auto& [name, profile] : site.profiles) {
    if (!profile.two_way) continue;
    const std::string path = pointer({"profiles", name, "two_way"});
    if (!profile.transmit) {
      add(faults, DiagnosticCode::missing_key, path,
          "profile " + quoted(name) + " is two_way but has no power",
          "give one of erp_dbm, eirp_dbm, power_dbm")
          .names = {name};
    }
    if (!receives(profile)) {
      add(faults, DiagnosticCode::missing_key, path,
          "profile " + quoted(name) + " is two_way but has no sensitivity",
          "give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db")
          .names = {name};
    }
  }
}

void check_hubs(const Site& site, Diagnostics& faults) {
  if (site.hubs.empty()) add(faults, DiagnosticCode::missing_key, "/hubs", "a site needs a hub");
  for (const SiteRadio& radio : site_radios(site))
    check_profile_of(site, radio.map, radio.name, radio.profile, faults);
  for (const Area& area : site.areas) check_profile_of(site, "areas", area.name, area.profile, faults);
  for (const Served& item : served(site)) {
    if (!item.hub || find_hub(site, *item.hub) != nullptr) continue;
    add_unknown(faults, pointer({item.map, item.name, "hub"}), "hub", *item.hub,
                [&] { return names_of(site.hubs); });
  }
  check_classes(site, faults);
}

}  // namespace linkmargin::checks

#include "linkmargin/analysis/what_if/what_if_changes.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace linkmargin {
namespace {

LinkTable table_of(const Site& site, Doors doors, const WhatIfOptions& options, SceneCacheSet& scenes) {
  return link_table(
      site, {.doors = doors, .area_step_m = options.area_step_m, .detail = TableDetail::chances}, scenes);
}

std::vector<DeviceChange> device_changes(const LinkTable& before, const LinkTable& after) {
  std::vector<DeviceChange> changes;
  for (const Link& link : before.links) {
    changes.push_back({link.device, link.weaker().reading_percent, {}, link.weak, false});
  }
  for (const Link& link : after.links) {
    auto change = std::ranges::find(changes, link.device, &DeviceChange::device);
    if (change == changes.end()) change = changes.insert(changes.end(), {link.device, {}, {}, false, false});
    change->after_percent = link.weaker().reading_percent;
    change->weak_after = link.weak;
  }
  return changes;
}

bool same_link(const Link& before, const Link& after) {
  const auto level = [](const std::optional<LinkBudget>& way) { return way ? way->level.value : 0; };
  return before.device == after.device && before.hub == after.hub && before.via == after.via &&
         before.uplink.level == after.uplink.level && level(before.downlink) == level(after.downlink) &&
         before.uplink.margin == after.uplink.margin && before.weaker().margin == after.weaker().margin &&
         before.weaker().reading_percent == after.weaker().reading_percent &&
         before.pass_probability == after.pass_probability && before.weak == after.weak;
}

bool same_area(const AreaCover& before, const AreaCover& after) {
  return before.area == after.area && before.hub == after.hub && before.via == after.via &&
         before.share_percent == after.share_percent && before.wanted_percent == after.wanted_percent;
}

bool same_load(const HubLoad& before, const HubLoad& after) {
  return before.hub == after.hub && before.slots_used == after.slots_used &&
         before.capacity == after.capacity && before.over_capacity == after.over_capacity;
}

CaseChange case_change(const Site& site, std::string name, const LinkTable& before, LinkTable after) {
  CaseChange change;
  change.name = std::move(name);
  change.devices = device_changes(before, after);
  change.weak_count = after.weak_devices.size();
  change.same_figures = same_figures(before, after);
  for (const AreaCover& area : after.areas) {
    if (area.weak) change.weak_areas.push_back(area.area);
  }
  for (const auto* loads : {&after.hubs, &after.repeater_loads}) {
    for (const HubLoad& load : *loads) {
      if (load.over_capacity) change.over_capacity.push_back(load.hub);
    }
  }
  const WhatIfSetting setting(site, std::move(after), {});
  std::vector<WhatIfDevice> devices(setting.table().links.size());
  const WhatIfOutcome outcome = setting.predicted(devices);
  if (!outcome.worst) return change;
  const Link& worst = setting.table().links[*outcome.worst];
  change.worst_device = worst.device;
  change.worst_reading_percent = outcome.worst_reading_percent;
  change.worst_pass_probability = worst.pass_probability;
  return change;
}

template <typename Wanted>
std::vector<std::string> names_of(const std::vector<DeviceChange>& devices, Wanted wanted) {
  std::vector<std::string> names;
  for (const DeviceChange& device : devices) {
    if (wanted(device)) names.push_back(device.device);
  }
  return names;
}

double lowest_percent(const WhatIfSetting& setting) {
  std::vector<WhatIfDevice> devices(setting.table().links.size());
  return setting.predicted(devices).worst_reading_percent;
}

/// What the draws of one setting do to its lowest reading.
class Swings {
 public:
  explicit Swings(const WhatIfSetting& setting)
      : setting_(setting), shifts_(setting.draws().size()), devices_(setting.table().links.size()) {}

  Sensitivity element(std::size_t cause) {
    constexpr double tenth = 1.2815515655446004;  // deviations: the standard normal quantile at 0.9
    Sensitivity found{.kind = Sensitivity::Kind::element, .part = setting_.draws().causes()[cause].part};
    setting_.draws().set_apart(cause, tenth, shifts_);
    found.low_percent = lowest();
    setting_.draws().set_apart(cause, -tenth, shifts_);
    found.high_percent = lowest();
    return found;
  }

  Sensitivity kind(DrawnKind drawn, Sensitivity::Kind shown) {
    std::vector<double> lowest_of(kSensitivityDraws);
    for (std::uint64_t draw = 0; draw < kSensitivityDraws; ++draw) {
      setting_.draws().draw_alone(drawn, draw + 1, shifts_);
      lowest_of[draw] = lowest();
    }
    std::ranges::sort(lowest_of);
    return {.kind = shown,
            .low_percent = lowest_of[kSensitivityDraws / 10],
            .high_percent = lowest_of[kSensitivityDraws - 1 - kSensitivityDraws / 10]};
  }

 private:
  double lowest() { return setting_.outcome(shifts_, devices_).worst_reading_percent; }

  const WhatIfSetting& setting_;
  std::vector<double> shifts_;
  std::vector<WhatIfDevice> devices_;
};

void add_draws(const WhatIfSetting& setting, std::vector<Sensitivity>& found) {
  Swings swings(setting);
  const auto& causes = setting.draws().causes();
  for (std::size_t cause = 0; cause < causes.size(); ++cause) {
    if (causes[cause].kind == DrawnKind::element) found.push_back(swings.element(cause));
  }
  found.push_back(swings.kind(DrawnKind::model, Sensitivity::Kind::model));
  found.push_back(swings.kind(DrawnKind::parameter, Sensitivity::Kind::parameter));
  found.push_back(swings.kind(DrawnKind::spot, Sensitivity::Kind::spot));
}

}  // namespace

bool same_figures(const LinkTable& before, const LinkTable& after) {
  return std::ranges::equal(before.links, after.links, same_link) &&
         std::ranges::equal(before.areas, after.areas, same_area) &&
         std::ranges::equal(before.repeaters, after.repeaters, same_link) &&
         std::ranges::equal(before.hubs, after.hubs, same_load) &&
         std::ranges::equal(before.repeater_loads, after.repeater_loads, same_load);
}

std::vector<std::string> CaseChange::turns_weak() const {
  return names_of(devices,
                  [](const DeviceChange& device) { return device.weak_after && !device.weak_before; });
}

std::vector<std::string> CaseChange::recovers() const {
  return names_of(devices, [](const DeviceChange& device) {
    return device.weak_before && device.after_percent && !device.weak_after;
  });
}

std::vector<CaseChange> what_if_changes(const WhatIf& what_if, std::size_t site,
                                        const WhatIfOptions& options) {
  WhatIf alone{.sites = {what_if.sites.at(site)}};
  const WhatIfRuns runs(alone);
  SceneCacheSet scenes;
  const Site& as_it_is = alone.sites.front().site;
  const LinkTable before = table_of(as_it_is, options.doors, options, scenes);
  std::vector<CaseChange> changes{case_change(as_it_is, {}, before, before)};
  for (std::size_t i = 1; i < runs.variants(); ++i) {
    const WhatIfVariant variant = runs.variant(i);
    const Site changed = variant_site(alone, runs, variant);
    LinkTable after = table_of(changed, variant_doors(alone, variant, options.doors), options, scenes);
    changes.push_back(case_change(changed, alone.sites.front().cases[i - 1].name, before, std::move(after)));
  }
  return changes;
}

std::vector<Sensitivity> what_if_sensitivity(const WhatIf& what_if, std::size_t site,
                                             const WhatIfOptions& options) {
  const Site& as_it_is = what_if.sites.at(site).site;
  SceneCacheSet scenes;
  std::vector<Sensitivity> found;
  for (const SweepAxis& axis : what_if.sweep) {
    WhatIf alone{.sites = {{.file = what_if.sites[site].file, .site = as_it_is}}, .sweep = {axis}};
    const WhatIfRuns runs(alone);
    Sensitivity swing{.kind = Sensitivity::Kind::swept, .path = axis.path};
    for (std::size_t value = 0; value < axis.values.size(); ++value) {
      const Site changed = variant_site(alone, runs, runs.variant(value));
      const double lowest = lowest_percent({changed, table_of(changed, options.doors, options, scenes), {}});
      if (value == 0 || lowest < swing.low_percent) {
        swing.low_percent = lowest;
        swing.low_at = axis.texts[value];
      }
      if (value == 0 || lowest > swing.high_percent) {
        swing.high_percent = lowest;
        swing.high_at = axis.texts[value];
      }
    }
    found.push_back(std::move(swing));
  }
  if (what_if.draws && !as_it_is.devices.empty())
    add_draws({as_it_is, table_of(as_it_is, options.doors, options, scenes), what_if.draws->seed}, found);
  std::erase_if(found, [](const Sensitivity& of) { return of.swing_percent() == 0; });
  std::ranges::stable_sort(found, std::greater{}, &Sensitivity::swing_percent);
  return found;
}

}  // namespace linkmargin

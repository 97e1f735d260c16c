#include "linkmargin/analysis/what_if/what_if_setting.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {

WhatIfSetting::WhatIfSetting(const Site& site, LinkTable table, std::optional<std::uint64_t> seed)
    : table_(std::move(table)) {
  std::vector<Link> hops = table_.links;
  hops.insert(hops.end(), table_.repeaters.begin(), table_.repeaters.end());
  if (seed) draws_.emplace(site, hops, *seed);
  for (const Link& hop : hops) {
    const LinkBudget& way = hop.weaker();
    shown_.push_back({way.level, way.level - way.margin, hop.shortfall(table_.reading).value, {}});
    for (const std::string& repeater : hop.via) {
      const auto next = std::ranges::find(table_.repeaters, repeater, &Link::device);
      const auto position = static_cast<std::size_t>(next - table_.repeaters.begin());
      shown_.back().onward.push_back(table_.links.size() + position);
    }
  }
}

WhatIfOutcome WhatIfSetting::predicted(std::span<WhatIfDevice> devices) const {
  const std::vector<double> none(shown_.size());
  WhatIfOutcome found = outcome(none, devices);
  found.weak_count = table_.weak_devices.size();
  for (std::size_t i = 0; i < table_.links.size(); ++i)
    devices[i].weak = table_.links[i].outcome == Outcome::weak;
  return found;
}

WhatIfOutcome WhatIfSetting::outcome(std::span<const double> shifts_db,
                                     std::span<WhatIfDevice> devices) const {
  WhatIfOutcome found;
  double worst_lack_db = 0;
  const auto lacks = [&](std::size_t hop) { return shown_[hop].lack_db > shifts_db[hop]; };
  for (std::size_t i = 0; i < table_.links.size(); ++i) {
    const Dbm level = shown_[i].level + Db{shifts_db[i]};
    const double lack_db = shown_[i].lack_db - shifts_db[i];
    const double percent = level >= shown_[i].heard_from ? reading_percent(table_.reading, level) : 0;
    devices[i] = {percent, lacks(i) || std::ranges::any_of(shown_[i].onward, lacks)};
    if (devices[i].weak) ++found.weak_count;
    const bool lower = !found.worst || percent < found.worst_reading_percent ||
                       (percent == found.worst_reading_percent && lack_db > worst_lack_db);
    if (!lower) continue;
    found.worst = i;
    found.worst_reading_percent = percent;
    worst_lack_db = lack_db;
  }
  return found;
}

}  // namespace linkmargin

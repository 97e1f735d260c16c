#include "linkmargin/yaml/readings/known_names.hpp"

#include "linkmargin/text/look_alike.hpp"
#include "linkmargin/text/sheet_number.hpp"

#include <algorithm>

namespace linkmargin::yaml {

void KnownNames::add_name(const std::string& name) {
  if (!names_.insert(name).second) return;
  const auto [place, is_new] = by_look_.emplace(look_of(name), name);
  if (!is_new) place->second.clear();
}

std::optional<std::string> KnownNames::find(const std::string& written) const {
  if (names_.contains(written)) return written;
  const std::string bare(unwrapped(written));
  if (names_.contains(bare)) return bare;
  if (bare.starts_with('\'') && names_.contains(bare.substr(1))) return bare.substr(1);
  const auto alike = by_look_.find(look_of(bare));
  if (alike == by_look_.end() || alike->second.empty()) return {};
  return alike->second;
}

std::vector<std::string> KnownNames::sorted() const {
  std::vector<std::string> sorted(names_.begin(), names_.end());
  std::ranges::sort(sorted);
  return sorted;
}

std::string other_noun_hint(const Site& site, std::string_view column, const std::string& name) {
  if (column == "storey") return {};
  const auto has = [&](const auto& items) {
    return std::ranges::any_of(items, [&](const auto& item) { return item.name == name; });
  };
  if (has(site.hubs)) return "it is a hub";
  if (has(site.repeaters))
    return column == "hub" ? "it is a repeater: name it under via" : "it is a repeater";
  if (has(site.devices)) return "it is a device";
  if (has(site.areas)) return "it is an area; readings are of devices";
  return {};
}

}  // namespace linkmargin::yaml

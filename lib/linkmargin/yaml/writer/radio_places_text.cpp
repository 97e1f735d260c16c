#include "linkmargin/yaml/writer/radio_places_text.hpp"

#include "linkmargin/yaml/writer/field_values.hpp"
#include "linkmargin/yaml/writer/insert_entry.hpp"
#include "linkmargin/yaml/writer/node_value.hpp"

#include <algorithm>
#include <array>

namespace linkmargin::yaml {
namespace {

constexpr std::array<std::string_view, 3> kInWords{"in", "on", "at"};
constexpr std::array<std::string_view, 4> kAsFigures{"profile", "storey", "at_m", "height_m"};

}  // namespace

bool is_short_radio(const Node& radio) {
  const auto given = [&](std::string_view key) { return find(radio, key) != nullptr; };
  return radio.kind == Node::Kind::mapping &&
         (std::ranges::any_of(kInWords, given) || !std::ranges::all_of(kAsFigures, given));
}

std::optional<std::vector<Splice>> long_radio(std::string_view text, const Node& section, const Entry& entry,
                                              const std::string& profile, const Placement& place,
                                              const Site& site) {
  NewValue map = map_value({{"profile", name_value(profile)},
                            {"storey", name_value(site.storeys[place.storey].name)},
                            {"at_m", literal_value(point_text(place.at))},
                            {"height_m", literal_value(shortest_text(place.height_m))}});
  for (NewEntry& part : map.entries) part = with_length_unit(std::move(part), section.length_unit);
  for (const Entry& part : entry.value.entries) {
    const bool written = std::ranges::find(kAsFigures, part.key) != kAsFigures.end() ||
                         std::ranges::find(kInWords, part.key) != kInWords.end();
    if (!written) map.entries.push_back({part.key, value_of(part.value)});
  }
  return replace_entry(text, section, entry, {entry.key, std::move(map)});
}

}  // namespace linkmargin::yaml

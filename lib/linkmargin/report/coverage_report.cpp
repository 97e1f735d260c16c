#include "linkmargin/report/coverage_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/coverage_places.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kNamesMissed = 8;

/// Whole percent, but not nothing where there is some.
double shown_share(double weak_percent) {
  return weak_percent > 0 ? std::max(1.0, weak_percent) : 0;
}

std::string verdict(const CoveragePlaces& places, const CoverageMap& map, std::optional<double> share) {
  const std::string threshold = shortest_text(map.reading.weak_below_percent) + " %";
  if (!share) return "No cell's centre lies in a room: the rooms are not judged.";
  if (places.rooms.empty() && *share == 0)
    return "No spot of the map is weak: each reads " + threshold + " or more.";
  if (places.rooms.empty()) {
    return fixed_text(std::max(0.1, *share), 1) + " % of the map is weak: a reading under " + threshold + ".";
  }
  const PlaceCover& worst = places.rooms.front();
  if (worst.weak_percent == 0) return "No spot in a room is weak: each reads " + threshold + " or more.";
  return fixed_text(std::max(0.1, *share), 1) + " % of the rooms is weak: a reading under " + threshold +
         ". Worst: " + worst.name + ", " + fixed_text(shown_share(worst.weak_percent), 0) + " % of it.";
}

/// Weak is what reads under the threshold, whatever value stands beside it.
std::string weak_title(CoverageValue value) {
  return value == CoverageValue::reading ? "Weak" : "Weak reading";
}

/// A reading is never rounded over the threshold, a chance never to a certainty.
Cell value_cell(double shown, CoverageValue value, double weak_below_percent) {
  if (value == CoverageValue::reading) return {whole_percent(shown, weak_below_percent)};
  if (value == CoverageValue::chance) return {chance_percent(shown / 100)};
  return {shown};
}

Table room_table(const std::vector<PlaceCover>& rooms, CoverageValue value, double weak_below_percent) {
  const auto figures = [&](const char* key, const char* title) {
    return Column{.key = key,
                  .title = title,
                  .unit = value_unit(value),
                  .kind = ColumnKind::number,
                  .right_aligned = true};
  };
  Table table{
      {{.key = "mark"},
       {.key = "room", .title = "Room", .shrinks = true},
       {.key = "weak_share_percent", .title = weak_title(value), .unit = "%", .kind = ColumnKind::number},
       figures("lowest", value == CoverageValue::loss ? "Greatest" : "Lowest"),
       {.key = "lowest_at", .title = "at x, y", .unit = "m", .right_aligned = true, .drop = 1},
       figures("median", "Median")},
      {}};
  for (const PlaceCover& room : rooms) {
    const bool weak = room.weak_percent > 0;
    table.rows.push_back({{{weak ? "!" : " "},
                           {room.name},
                           {shown_share(room.weak_percent)},
                           value_cell(room.lowest, value, weak_below_percent),
                           {fixed_text(room.lowest_at.x, 1) + ", " + fixed_text(room.lowest_at.y, 1)},
                           value_cell(room.median, value, weak_below_percent)},
                          weak ? Tone::weak : Tone::plain});
  }
  return table;
}

Table area_table(const std::vector<CoveragePlaces::AreaShare>& areas, CoverageValue value) {
  Table table{
      {{.key = "mark"},
       {.key = "area", .title = "Area", .shrinks = true},
       {.key = "weak_share_percent", .title = weak_title(value), .unit = "%", .kind = ColumnKind::number},
       {.key = "most_weak_percent", .title = "Allowed", .unit = "%", .kind = ColumnKind::number}},
      {}};
  for (const CoveragePlaces::AreaShare& area : areas) {
    const bool weak = area.weak_percent > area.most_weak_percent;
    table.rows.push_back(
        {{{weak ? "!" : " "}, {area.name}, {shown_share(area.weak_percent)}, {area.most_weak_percent}},
         weak ? Tone::weak : Tone::plain});
  }
  return table;
}

std::string scale_remark(const CoveragePlaces& places, const CoverageMap& map, CoverageValue value) {
  std::string hint = scale_hint(map, value);
  const auto at_the_end = [](const PlaceCover& room) { return room.lowest == 100; };
  if (hint.empty() && value == CoverageValue::reading && !places.rooms.empty() &&
      std::ranges::all_of(places.rooms, at_the_end)) {
    hint = "Every spot in the rooms reads 100 %, where the scale ends.";
  }
  return hint.empty() ? hint : hint + " --value margin tells more.";
}

/// What the tables leave open.
BulletList remarks(const CoveragePlaces& places, const CoverageMap& map, CoverageValue value,
                   std::optional<double> outside_percent) {
  BulletList list;
  const auto say = [&](std::string text) { list.items.push_back({.text = std::move(text)}); };
  if (!places.missed.empty()) {
    std::vector<std::string> names;
    for (const std::string& name : places.missed) names.push_back(quoted_name(name));
    say("No cell's centre lies in " + listed(names, kNamesMissed) + ": for a figure take a smaller --step.");
  }
  if (outside_percent) {
    say("Outside the rooms, as far as the map reaches, " + fixed_text(*outside_percent, 1) + " % is weak.");
  }
  if (!places.areas.empty()) {
    say("Of an area as much may be weak as its share_percent leaves; here it is judged by the map's own "
        "device, "
        "by `check` by the area's remote.");
  }
  const std::string scale = scale_remark(places, map, value);
  if (!scale.empty()) say(scale);
  return list;
}

std::string key_to_marks(const CoveragePlaces& places) {
  std::string text;
  if (!places.rooms.empty()) text = "! marks rooms with weak spots";
  if (!places.areas.empty()) {
    text += text.empty() ? "! marks areas" : ", and areas";
    text += " of which more is weak than is allowed";
  }
  return text + (text.empty() ? "" : ". ") + "--output FILE.svg or FILE.png draws the map.";
}

}  // namespace

Document coverage_document([[maybe_unused]] const Language& language, const Site& site, const CoverageMap& map, CoverageValue value) {
  const CoveragePlaces places = coverage_places(site, map, value);
  const WeakShares shares = weak_shares(map, site);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{map.site + ": " + shortest_text(mhz_from_hz(map.frequency_hz)) + " MHz, " +
                                    doors_phrase(map.doors) + ", storey " + map.storey,
                                Tone::strong});
  const bool fine = shares.rooms_percent == 0.0;
  blocks.emplace_back(
      Paragraph{verdict(places, map, shares.rooms_percent), fine ? Tone::strong : Tone::weak});
  blocks.emplace_back(Paragraph{"The " + value_phrase(map, value) + " for a device of the profile " +
                                quoted_name(map.profile) + " " + shortest_text(map.height_m) +
                                " m over the floor, every " + shortest_text(map.step_m) + " m; " +
                                hubs_phrase(map) + "."});
  if (map.nearby_readings > 0) blocks.emplace_back(Paragraph{nearby_phrase(map, value)});
  if (!places.rooms.empty()) {
    blocks.emplace_back(room_table(places.rooms, value, map.reading.weak_below_percent));
  }
  if (!places.areas.empty()) blocks.emplace_back(area_table(places.areas, value));
  BulletList open = remarks(places, map, value, shares.outside_percent);
  if (!open.items.empty()) blocks.emplace_back(std::move(open));
  blocks.emplace_back(Paragraph{key_to_marks(places), Tone::faint});
  if (!map.warnings.empty()) {
    blocks.emplace_back(Heading{"Cautions"});
    blocks.emplace_back(warning_list(map.warnings));
  }
  blocks.emplace_back(Paragraph{short_warning()});
  return document;
}

}  // namespace linkmargin

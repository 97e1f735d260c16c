#include "linkmargin/report/check_report.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::size_t kNamesInVerdict = 6;
constexpr int kNameLeast = 24;
constexpr int kObstacleLeast = 16;
constexpr const char* kWeakMark = "!";
constexpr const char* kCloseMark = "?";
constexpr const char* kOtherMark = ".";

std::vector<const Link*> worst_first(const LinkTable& table) {
  std::vector<const Link*> order;
  for (const Link& link : table.links) order.push_back(&link);
  const auto rank = [](const Link* link) {
    return std::tie(link->lower().reading_percent, link->weaker().margin, link->device, link->hub);
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](const Link* left, const Link* right) { return rank(left) < rank(right); });
  return order;
}

std::string title(const LinkTable& table) {
  return table.site + ": " + shortest_text(mhz_from_hz(table.frequency_hz)) + " MHz, " +
         doors_phrase(table.doors) + ", model " + model_word(table.model);
}

/// "2 of 3 devices are weak: a and b."
std::string weak_sentence(std::size_t count, const char* one, const char* several,
                       const std::vector<std::string>& weak) {
  return std::to_string(weak.size()) + " of " + counted(count, one, several) +
         (weak.size() == 1 ? " is weak: " : " are weak: ") + listed(weak, kNamesInVerdict) + ".";
}

/// What a reader in a hurry must not miss: weak devices and areas, hubs with too much on them, a model that
/// sees no walls.
Paragraph verdict(const LinkTable& table, const std::vector<const Link*>& order) {
  std::vector<std::string> weak;
  std::vector<std::string> weak_areas;
  std::vector<std::string> full_hubs;
  std::size_t devices = 0;
  for (const Link* link : order) {
    if (!link->serving) continue;
    ++devices;
    if (link->weak) weak.push_back(link->device);
  }
  for (const AreaCover& area : table.areas) {
    if (area.weak) weak_areas.push_back(area.area);
  }
  for (const HubLoad& hub : table.hubs) {
    if (hub.over_capacity) full_hubs.push_back(hub.hub);
  }
  std::string text = devices == 0   ? "No device is placed in this site."
                     : weak.empty() ? "No device is predicted weak."
                                    : weak_sentence(devices, "device", "devices", weak);
  if (!weak_areas.empty()) text += " " + weak_sentence(table.areas.size(), "area", "areas", weak_areas);
  if (!full_hubs.empty()) text += " Over-full: " + listed(full_hubs, kNamesInVerdict) + ".";
  if (!itemises(table.model)) {
    text += " Walls are not counted one by one by the model " + model_word(table.model) + ".";
  }
  const bool bad = !weak.empty() || !weak_areas.empty() || !full_hubs.empty();
  return {text, bad ? Tone::weak : devices == 0 ? Tone::plain : Tone::strong};
}

/// Whether the distance is what a row tells.
bool is_far(const LinkTable& table, const Link& link) {
  return distance_outweighs(link.loss) &&
         (biggest_obstacle(link.loss) != nullptr || link.weak || !itemises(table.model));
}

/// What stands in the way in few words, and what it costs: of a wall what it is made of, for its name is long and
/// tells less.
std::pair<std::string, std::string> obstacle_words(const Language& language, const LinkTable& table, const Link& link) {
  const LossItem* obstacle = biggest_obstacle(link.loss);
  if (is_far(table, link)) return {"distance", ": " + with_unit(link.loss.distance_m, 0, "m")};
  if (obstacle == nullptr) return {itemises(table.model) ? "in sight" : "distance", {}};
  const bool by_material = obstacle->cause == LossCause::wall && !obstacle->material.empty();
  return {by_material ? obstacle->material : item_text(language, *obstacle), ": " + with_unit(obstacle->loss_db, 0, "dB")};
}

/// With the way that it is met on, where that is not the straight line.
Cell obstacle_on_its_way(const Language& language, const LinkTable& table, const Link& link) {
  auto [text, tail] = obstacle_words(language, table, link);
  if (const std::string bends = bends_phrase(language, link.loss); !bends.empty()) {
    const LossItem* biggest = biggest_obstacle(link.loss);
    const bool bends_alone = biggest == nullptr ? itemises(table.model) : biggest->cause == LossCause::bend;
    const bool nothing_else = bends_alone && !is_far(table, link);
    text = (nothing_else ? "" : text + ", ") + "round by " + bends;
  }
  return {text, tail};
}

/// The same, and what the figures of the row do not show: the other direction, where it is weak and lower.
Cell obstacle_cell(const Language& language, const LinkTable& table, const Link& link) {
  Cell cell = obstacle_on_its_way(language, table, link);
  const LinkBudget& lower = link.lower();
  const double weak_below = table.reading.weak_below_percent;
  if (&lower == &link.weaker() || lower.reading_percent >= weak_below) return cell;
  cell.tail = std::string("; ") + (link.lower_is_downlink() ? "down" : "up") + " only " +
              fixed_text(whole_percent(lower.reading_percent, weak_below), 0) + " %";
  return cell;
}

bool is_close(const Link& link) {
  return !link.weak && link.pass_probability < kSureProbability;
}

const char* mark_of(const Link& link) {
  return !link.serving ? kOtherMark : link.weak ? kWeakMark : is_close(link) ? kCloseMark : " ";
}

std::vector<Column> link_columns(bool with_via) {
  std::vector<Column> columns{
      {.key = "mark"},
      {.key = "device", .title = "Device", .shrinks = true, .least = kNameLeast},
      {.key = "hub", .title = "Hub", .shrinks = true},
      {.key = "distance_m",
       .title = "Dist.",
       .unit = "m",
       .kind = ColumnKind::number,
       .decimals = 1,
       .drop = 3},
      {.key = "path_loss_db", .title = "Loss", .unit = "dB", .kind = ColumnKind::number, .drop = 1},
      {.key = "level_dbm", .title = "Level", .unit = "dBm", .kind = ColumnKind::number, .drop = 2},
      {.key = "margin_db", .title = "Margin", .unit = "dB", .kind = ColumnKind::number},
      {.key = "reading_percent", .title = "Reading", .unit = "  %", .kind = ColumnKind::bar, .drop = 4},
      {.key = "range", .title = "Range", .unit = "%", .right_aligned = true, .drop = 6},
      {.key = "chance", .title = "Chance", .unit = "%", .right_aligned = true},
      {.key = "obstacle", .title = "Biggest obstacle", .shrinks = true, .least = kObstacleLeast, .drop = 5}};
  if (with_via) columns.insert(columns.begin() + 3, {.key = "via", .title = "Via", .shrinks = true});
  return columns;
}

/// "8–49": where the reading taken on site lies.
std::string range_text(const LinkTable& table, const Link& link) {
  const auto shown = [&](double percent) {
    return fixed_text(whole_percent(percent, table.reading.weak_below_percent), 0);
  };
  const std::string low = shown(link.low_percent);
  const std::string high = shown(link.high_percent);
  return low == high ? low : low + "\u2013" + high;
}

Table link_table_for_people(const Language& language, const LinkTable& table, const std::vector<const Link*>& order) {
  const bool with_via =
      std::any_of(order.begin(), order.end(), [](const Link* link) { return !link->via.empty(); });
  Table rows{link_columns(with_via), {}};
  for (const Link* link : order) {
    const LinkBudget& way = link->weaker();
    Row row{{{mark_of(*link)},
             {link->device},
             {link->hub},
             {link->loss.distance_m},
             {link->loss.path_loss_db},
             {way.level.value},
             {way.margin.value},
             {whole_percent(way.reading_percent, table.reading.weak_below_percent)},
             {range_text(table, *link)},
             {chance_percent(link->pass_probability)},
             obstacle_cell(language, table, *link)},
            !link->serving ? Tone::faint
            : link->weak   ? Tone::weak
                           : Tone::plain};
    if (with_via) row.cells.insert(row.cells.begin() + 3, Cell{listed(link->via, link->via.size())});
    rows.rows.push_back(std::move(row));
  }
  return rows;
}

std::string key_to_the_table(const LinkTable& table, const std::vector<const Link*>& order) {
  const std::string threshold = shortest_text(table.reading.weak_below_percent) + " %";
  const auto any = [&](auto holds) {
    return std::ranges::any_of(order, [&](const Link* one) { return holds(*one); });
  };
  std::string text = std::string(kWeakMark) + " weak: a predicted reading under " + threshold + ".";
  if (any([](const Link& link) { return link.serving && is_close(link); })) {
    text += std::string(" ") + kCloseMark + " close: enough, but with a chance under " +
            fixed_text(100 * kSureProbability, 0) + " %.";
  }
  if (any([](const Link& link) { return !link.serving; })) {
    text += std::string(" A dot: a hub that does not serve the device.");
  }
  text += " Range: where the reading taken on site lies with a chance of " +
          fixed_text(100 * kIntervalChance, 0) + " %.";
  text += " Chance: that it reaches " + threshold + ".";
  if (any([](const Link& link) { return link.downlink.has_value(); })) {
    text += " Two-way devices: the direction with the smaller margin, and the smaller of the two chances.";
  }
  return text;
}

BulletList area_list(const LinkTable& table) {
  BulletList list;
  for (const AreaCover& area : table.areas) {
    const std::string share = fixed_text(whole_percent(area.share_percent, area.wanted_percent), 0);
    list.items.push_back(
        {area.area + ": expected share " + share + " % served by " + area.hub + ", " +
             shortest_text(area.wanted_percent) + " % wanted" + (area.weak ? ": weak" : "") +
             "; at its edge " + fixed_text(whole_percent(area.edge_share_percent, area.wanted_percent), 0) +
             " %; worst spot reads " +
             fixed_text(whole_percent(area.worst_reading_percent, table.reading.weak_below_percent), 0) +
             " %",
         area.weak ? kWeakMark : "-", area.weak ? Tone::weak : Tone::plain});
  }
  return list;
}

std::string slots_text(int used, std::optional<int> capacity) {
  return capacity ? std::to_string(used) + " of " + std::to_string(*capacity) : std::to_string(used);
}

/// "1 slot used", "9 of 40 slots used".
std::string slots_used_text(int used, std::optional<int> capacity) {
  const int last = capacity.value_or(used);
  return slots_text(used, capacity) + (last == 1 ? " slot used" : " slots used");
}

/// By how much it is over, in the classes that are.
std::string over_capacity_text(const HubLoad& hub) {
  std::vector<std::string> over;
  for (const ClassLoad& load : hub.classes) {
    if (load.slots_used > load.capacity) {
      over.push_back(std::to_string(load.slots_used - load.capacity) + " too many for " + load.device_class);
    }
  }
  if (over.empty()) return std::to_string(hub.slots_used - hub.capacity.value_or(0)) + " too many";
  return listed(over, over.size());
}

BulletList hub_list(const LinkTable& table) {
  BulletList list;
  for (const HubLoad& hub : table.hubs) {
    std::string text = hub.hub + ": " + slots_used_text(hub.slots_used, hub.capacity);
    std::vector<std::string> classes;
    for (const ClassLoad& load : hub.classes) {
      classes.push_back(load.device_class + " " + slots_text(load.slots_used, load.capacity));
    }
    if (!classes.empty()) text += " (" + listed(classes, classes.size()) + ")";
    if (!hub.capacity) text += ", capacity not said";
    if (hub.over_capacity) text += ": " + over_capacity_text(hub);
    list.items.push_back(
        {text, hub.over_capacity ? kWeakMark : "-", hub.over_capacity ? Tone::weak : Tone::plain});
  }
  return list;
}

}  // namespace

Document check_document(const Language& language, const LinkTable& table) {
  const std::vector<const Link*> order = worst_first(table);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{title(table), Tone::strong});
  blocks.emplace_back(verdict(table, order));
  if (table.nearby_readings > 0) blocks.emplace_back(Paragraph{nearby_phrase(table.nearby_readings)});
  if (!order.empty()) {
    blocks.emplace_back(link_table_for_people(language, table, order));
    blocks.emplace_back(Paragraph{key_to_the_table(table, order), Tone::faint});
  }
  if (!table.areas.empty()) {
    blocks.emplace_back(Heading{"Areas"});
    blocks.emplace_back(area_list(table));
  }
  if (!table.hubs.empty()) {
    blocks.emplace_back(Heading{"Hubs"});
    blocks.emplace_back(hub_list(table));
  }
  if (!table.warnings.empty()) {
    blocks.emplace_back(Heading{"Cautions"});
    blocks.emplace_back(warning_list(language, table.warnings));
  }
  blocks.emplace_back(Paragraph{short_warning()});
  return document;
}

}  // namespace linkmargin

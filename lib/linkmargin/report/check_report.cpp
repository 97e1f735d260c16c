#include "linkmargin/report/check_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/cautions.hpp"
#include "linkmargin/report/phrases.hpp"
#include "linkmargin/report/rounding.hpp"

#include <algorithm>
#include <tuple>

namespace linkmargin {
namespace {

constexpr std::size_t kNamesInVerdict = 6;
constexpr const char* kWeakMark = "!";

std::vector<const Link*> worst_first(const LinkTable& table) {
  std::vector<const Link*> order;
  for (const Link& link : table.links) order.push_back(&link);
  const auto rank = [](const Link* link) {
    const Direction& way = link->weaker();
    return std::tie(way.reading_percent, way.margin, link->device, link->hub);
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](const Link* left, const Link* right) { return rank(left) < rank(right); });
  return order;
}

std::string title(const LinkTable& table) {
  return table.site + ": " + shortest_text(mhz_from_hz(table.frequency_hz)) + " MHz, " +
         doors_phrase(table.doors) + ", model " + model_word(table.model);
}

Paragraph device_verdict(const std::vector<const Link*>& order) {
  std::vector<std::string> weak;
  std::size_t devices = 0;
  for (const Link* link : order) {
    if (!link->serving) continue;
    ++devices;
    if (link->weak) weak.push_back(link->device);
  }
  if (devices == 0) return {"No device is placed in this site.", Tone::plain};
  if (weak.empty()) return {"No device is predicted weak.", Tone::strong};
  const std::string verb = weak.size() == 1 ? " is weak: " : " are weak: ";
  return {std::to_string(weak.size()) + " of " + counted(devices, "device", "devices") + verb +
              listed(weak, kNamesInVerdict) + ".",
          Tone::weak};
}

/// The biggest item in few words: of a wall what it is made of, for its name is long and tells less.
Cell cause_cell(const LossBreakdown& loss) {
  if (loss.items.empty()) return {};
  const LossItem& biggest = biggest_item(loss);
  std::string words = biggest.cause == LossCause::wall ? biggest.material : biggest.name;
  if (words.empty() || biggest.cause == LossCause::distance) words = cause_word(biggest.cause);
  return {words, ": " + with_unit(biggest.loss_db, 0, "dB")};
}

std::vector<Column> link_columns(bool with_via) {
  std::vector<Column> columns{
      {.key = "mark"},
      {.key = "device", .title = "Device", .shrinks = true},
      {.key = "hub", .title = "Hub", .shrinks = true},
      {.key = "distance_m", .title = "Dist.", .unit = "m", .kind = ColumnKind::number, .decimals = 1},
      {.key = "path_loss_db", .title = "Loss", .unit = "dB", .kind = ColumnKind::number},
      {.key = "level_dbm", .title = "Level", .unit = "dBm", .kind = ColumnKind::number},
      {.key = "margin_db", .title = "Margin", .unit = "dB", .kind = ColumnKind::number},
      {.key = "reading_percent", .title = "Reading", .unit = "  %", .kind = ColumnKind::bar},
      {.key = "chance", .title = "Chance", .unit = "%", .right_aligned = true},
      {.key = "cause", .title = "Biggest cause", .shrinks = true}};
  if (with_via) columns.insert(columns.begin() + 3, {.key = "via", .title = "Via", .shrinks = true});
  return columns;
}

Table link_table_for_people(const LinkTable& table, const std::vector<const Link*>& order) {
  const bool with_via =
      std::any_of(order.begin(), order.end(), [](const Link* link) { return !link->via.empty(); });
  Table rows{link_columns(with_via), {}};
  for (const Link* link : order) {
    const Direction& way = link->weaker();
    const std::string mark = !link->serving ? "." : link->weak ? kWeakMark : " ";
    Row row{{{mark},
             {link->device},
             {link->hub},
             {link->loss.distance_m},
             {link->loss.path_loss_db},
             {way.level.value},
             {way.margin.value},
             {whole_percent(way.reading_percent, table.reading.weak_below_percent)},
             {chance_percent(link->pass_probability)},
             cause_cell(link->loss)},
            !link->serving ? Tone::faint
            : link->weak   ? Tone::weak
                           : Tone::plain};
    if (with_via) row.cells.insert(row.cells.begin() + 3, Cell{listed(link->via, link->via.size())});
    rows.rows.push_back(std::move(row));
  }
  return rows;
}

std::string key_to_the_table(const LinkTable& table, const std::vector<const Link*>& order) {
  std::string text = std::string(kWeakMark) + " weak: predicted reading under " +
                     shortest_text(table.reading.weak_below_percent) +
                     " %. Chance: that the reading taken on site reaches that.";
  if (std::any_of(order.begin(), order.end(), [](const Link* link) { return link->downlink.has_value(); })) {
    text += " Two-way devices: the weaker direction.";
  }
  if (std::any_of(order.begin(), order.end(), [](const Link* link) { return !link->serving; })) {
    text += " . a hub that does not serve the device.";
  }
  return text;
}

BulletList area_list(const LinkTable& table) {
  BulletList list;
  for (const AreaCover& area : table.areas) {
    const std::string share = fixed_text(whole_percent(area.share_percent, area.wanted_percent), 0);
    list.items.push_back(
        {area.area + ": " + share + " % covered by " + area.hub + ", " + shortest_text(area.wanted_percent) +
             " % wanted" + (area.weak ? ": weak" : "") + "; worst spot reads " +
             fixed_text(whole_percent(area.worst_reading_percent, table.reading.weak_below_percent), 0) +
             " %",
         area.weak ? kWeakMark : "-", area.weak ? Tone::weak : Tone::plain});
  }
  return list;
}

std::string slots_text(int used, std::optional<int> capacity) {
  return capacity ? std::to_string(used) + " of " + std::to_string(*capacity) : std::to_string(used);
}

BulletList hub_list(const LinkTable& table) {
  BulletList list;
  for (const HubLoad& hub : table.hubs) {
    std::string text = hub.hub + ": " + slots_text(hub.slots_used, hub.capacity) + " slots used";
    std::vector<std::string> classes;
    for (const ClassLoad& load : hub.classes) {
      classes.push_back(load.device_class + " " + slots_text(load.slots_used, load.capacity));
    }
    if (!classes.empty()) text += " (" + listed(classes, classes.size()) + ")";
    if (!hub.capacity) text += ", capacity not said";
    if (hub.over_capacity) text += ": more than it has";
    list.items.push_back(
        {text, hub.over_capacity ? kWeakMark : "-", hub.over_capacity ? Tone::weak : Tone::plain});
  }
  return list;
}

BulletList caution_list(const std::vector<std::string>& cautions) {
  BulletList list;
  for (const std::string& caution : cautions) list.items.push_back({caution});
  return list;
}

}  // namespace

Document check_document(const LinkTable& table) {
  const std::vector<const Link*> order = worst_first(table);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{title(table), Tone::strong});
  blocks.emplace_back(device_verdict(order));
  if (!order.empty()) {
    blocks.emplace_back(link_table_for_people(table, order));
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
  blocks.emplace_back(Heading{"Cautions"});
  blocks.emplace_back(caution_list(table.cautions));
  blocks.emplace_back(Paragraph{short_caution()});
  return document;
}

}  // namespace linkmargin

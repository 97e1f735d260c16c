#include "linkmargin/report/check_report.hpp"

#include "linkmargin/prediction/weak_hop.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/link_words/verdict_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/failure_words.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

constexpr int kNameLeast = 24;
constexpr int kCauseLeast = 24;
constexpr int kHubLeast = 16;
constexpr const char* kWeakMark = "!";
constexpr const char* kDoubtfulMark = "?";
constexpr const char* kOtherMark = ".";

std::vector<const Link*> worst_first(const LinkTable& table) {
  std::vector<const Link*> order;
  for (const Link& link : table.links) order.push_back(&link);
  const auto rank = [](const Link* link) {
    const double shown_percent = link->read_percent.value_or(link->lower().reading_percent);
    return std::tuple(-static_cast<int>(link->outcome), shown_percent, link->weaker().margin, link->device,
                      link->hub, link->via);
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](const Link* left, const Link* right) { return rank(left) < rank(right); });
  return order;
}

bool is_doubtful(const Link& link) {
  return link.outcome == Outcome::doubtful;
}

bool is_weak(const Link& link) {
  return link.outcome == Outcome::weak;
}

SiteVerdict site_verdict(const LinkTable& table, const std::vector<const Link*>& order) {
  SiteVerdict verdict{.walls_counted = itemises(table.model)};
  for (const Link* link : order) {
    if (!link->serving) continue;
    ++verdict.devices;
    if (is_weak(*link)) verdict.weak.push_back(link->device);
    if (is_doubtful(*link)) verdict.doubtful.push_back(link->device);
    verdict.lowest_chance = std::min(verdict.lowest_chance,
                                     is_doubtful(*link) && !link->read_percent ? link->pass_probability : 1);
  }
  for (const AreaCover& area : table.areas) {
    if (area.weak) verdict.weak_areas.push_back(area.area);
  }
  for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
    for (const HubLoad& hub : *loads) {
      if (hub.over_capacity) verdict.full_hubs.push_back(hub.hub);
    }
  }
  return verdict;
}

Paragraph verdict(const Wording& wording, const LinkTable& table, const std::vector<const Link*>& order) {
  const SiteVerdict found = site_verdict(table, order);
  return {verdict_words(wording, found), found.bad()          ? Tone::weak
                                         : found.devices == 0 ? Tone::plain
                                                              : Tone::strong};
}

/// Whether the distance is what a row is about.
bool is_far(const LinkTable& table, const Link& link) {
  return distance_outweighs(link.loss) &&
         (biggest_obstacle(link.loss) != nullptr || is_weak(link) || !itemises(table.model));
}

/// Whether a row is about a wall that costs more than straight through.
bool is_aslant(const LinkTable& table, const Link& link) {
  const LossItem* obstacle = is_far(table, link) ? nullptr : biggest_obstacle(link.loss);
  return obstacle != nullptr && obstacle->cause == LossCause::wall && !obstacle->material.empty() &&
         obstacle->incidence_deg >= kObliqueDeg;
}

/// What costs most in few words, and how much: of a wall what it is made of, for its name is long and says
/// less.
Cell straight_cause(const Wording& wording, const LinkTable& table, const Link& link) {
  const LossItem* obstacle = biggest_obstacle(link.loss);
  if (is_far(table, link)) {
    const Language::Place distance{"distance", wording.language().length(link.loss.distance_m, 0)};
    if (link.onward)
      return {wording.say("check.cause.distance_to", {distance, {"station", wording.name(link.heard_by())}})};
    return {wording.say("check.cause.distance", {distance})};
  }
  if (obstacle == nullptr) {
    return {wording.say(itemises(table.model) ? "check.cause.in_sight" : "check.cause.model")};
  }
  const Language& language = wording.language();
  const bool by_material = obstacle->cause == LossCause::wall && !obstacle->material.empty();
  const std::string tail = ", " + wording.with_unit(obstacle->loss_db, 0, "dB");
  if (!by_material) return {wording.name(item_text(language, *obstacle)), tail};
  const std::string material = wording.name(language.material(obstacle->material));
  const char* key = is_aslant(table, link) ? "check.cause.wall_aslant" : "check.cause.wall";
  return {wording.say(key, {{"material", material}}), tail, material};
}

/// The same with the path on which most arrives, where that is not the straight line.
Cell path_cause(const Wording& wording, const LinkTable& table, const Link& link) {
  const Cell straight = straight_cause(wording, table, link);
  const std::string bends = bends_words(wording, link.loss);
  if (bends.empty()) return straight;
  const LossItem* biggest = biggest_obstacle(link.loss);
  const bool bends_alone = biggest == nullptr ? itemises(table.model) : biggest->cause == LossCause::bend;
  if (bends_alone && !is_far(table, link))
    return {wording.say("check.cause.via", {{"bends", bends}}), straight.tail};
  const std::string cause = std::get<std::string>(straight.value);
  return {wording.say("check.cause.cause_via", {{"cause", cause}, {"bends", bends}}), straight.tail, cause};
}

/// The same, and what the figures of the row do not show: the other direction, where it is weak and lower.
Cell cause_cell(const Wording& wording, const LinkTable& table, const Link& link) {
  if (is_weak_farther_on(link)) {
    const Link& hop = first_weak_hop(link);
    const double hop_percent = hop.lower().reading_percent;
    return {wording.say("check.cause.onward",
                        {{"repeater", wording.name(hop.device)},
                         {"station", wording.name(hop.heard_by())},
                         {"percent", wording.percent(hop_percent, table.reading.weak_below_percent)}})};
  }
  Cell cell = path_cause(wording, table, link);
  const LinkBudget& lower = link.lower();
  const double weak_below = table.reading.weak_below_percent;
  if (&lower == &link.weaker() || lower.reading_percent >= weak_below) return cell;
  cell.tail += wording.say(link.lower_is_downlink() ? "check.cause.device_only" : "check.cause.hub_only",
                           {{"hub", wording.name(link.heard_by())},
                            {"percent", wording.percent(lower.reading_percent, weak_below)}});
  return cell;
}

const char* mark_of(const Link& link) {
  return !link.serving ? kOtherMark : is_weak(link) ? kWeakMark : is_doubtful(link) ? kDoubtfulMark : " ";
}

bool in_feet(const Wording& wording) {
  return wording.language().length_unit() == LengthUnit::foot;
}

std::vector<Column> link_columns(const Wording& wording, bool with_via, bool with_read) {
  const auto title = [&](const char* key) { return wording.say(std::string("check.column.") + key); };
  using enum ColumnKind;
  std::vector<Column> columns{
      {.key = "mark"},
      {.key = "device", .title = title("device"), .shrinks = true, .least = kNameLeast},
      {.key = "hub", .title = title("hub"), .shrinks = true, .least = kHubLeast},
      {.key = "distance_m",
       .title = title("distance"),
       .unit = in_feet(wording) ? "" : "m",
       .right_aligned = true,
       .drop = 4},
      {.key = "path_loss_db", .title = title("loss"), .unit = "dB", .kind = number, .drop = 1},
      {.key = "level_dbm", .title = title("level"), .unit = "dBm", .kind = number, .drop = 2},
      {.key = "margin_db", .title = title("margin"), .unit = "dB", .kind = number, .drop = 3},
      {.key = "reading_percent",
       .title = title(with_read ? "expected" : "reading"),
       .unit = "  %",
       .kind = bar,
       .drop = 5},
      {.key = "range", .title = title("range"), .unit = "%", .right_aligned = true, .drop = 6},
      {.key = "chance",
       .title = title("chance"),
       .unit = wording.say("placement.chance_unit"),
       .right_aligned = true},
      {.key = "cause", .title = title("cause"), .shrinks = true, .least = kCauseLeast, .drop = 7}};
  if (with_read) {
    columns.insert(columns.begin() + 7,
                   {.key = "read_percent", .title = title("read"), .unit = "%", .right_aligned = true});
  }
  if (with_via) columns.insert(columns.begin() + 3, {.key = "via", .title = title("via"), .shrinks = true});
  return columns;
}

/// "8 and 49": between what the reading taken on site lies.
std::string range_text(const Wording& wording, const LinkTable& table, const Link& link) {
  const std::string low = wording.percent(link.low_percent, table.reading.weak_below_percent);
  const std::string high = wording.percent(link.high_percent, table.reading.weak_below_percent);
  return low == high ? low : wording.say("check.range", {{"low", low}, {"high", high}});
}

/// "22", or where it was read before at the same place "31, then 44".
std::string read_text(const Wording& wording, const LinkTable& table, const Link& link) {
  if (!link.read_percent) return {};
  const auto figure = [&](double percent) {
    return wording.percent(percent, table.reading.weak_below_percent);
  };
  std::string text = figure(*link.read_percent);
  for (auto earlier = link.earlier_percent.rbegin(); earlier != link.earlier_percent.rend(); ++earlier)
    text = wording.say("check.read_again", {{"earlier", figure(*earlier)}, {"then", text}});
  return text;
}

Table link_table_for_people(const Wording& wording, const LinkTable& table,
                            const std::vector<const Link*>& order) {
  // With one hub and one repeater at most on a way, what hears the device tells the whole way.
  const bool with_via = std::ranges::any_of(order, [](const Link* link) { return link->via.size() > 1; }) ||
                        (table.hubs.size() > 1 &&
                         std::ranges::any_of(order, [](const Link* link) { return !link->via.empty(); }));
  const bool with_read =
      std::ranges::any_of(order, [](const Link* link) { return link->read_percent.has_value(); });
  Table rows{link_columns(wording, with_via, with_read), {}};
  for (const Link* link : order) {
    const LinkBudget& way = link->weaker();
    Row row{{{mark_of(*link)},
             {link->device},
             {with_via ? link->hub : link->heard_by()},
             {in_feet(wording) ? wording.length(link->loss.distance_m)
                               : wording.number(link->loss.distance_m, 1)},
             {link->loss.path_loss_db},
             {way.level.value},
             {way.margin.value},
             {whole_percent(way.reading_percent, table.reading.weak_below_percent)},
             {range_text(wording, table, *link)},
             {wording.chance_figure(link->pass_probability)},
             cause_cell(wording, table, *link)},
            !link->serving   ? Tone::faint
            : is_weak(*link) ? Tone::weak
                             : Tone::plain};
    if (with_read) row.cells.insert(row.cells.begin() + 7, Cell{read_text(wording, table, *link)});
    if (with_via) row.cells.insert(row.cells.begin() + 3, Cell{wording.names(link->via, link->via.size())});
    rows.rows.push_back(std::move(row));
  }
  return rows;
}

/// What marks and columns mean, and which command goes on from here.
void add_key(std::vector<Block>& blocks, const Wording& wording, const LinkTable& table,
             const std::vector<const Link*>& order) {
  const Language::Place threshold{"threshold", wording.number(table.reading.weak_below_percent)};
  const auto any = [&](auto holds) {
    return std::ranges::any_of(order, [&](const Link* one) { return holds(*one); });
  };
  const bool doubtful = any([](const Link& link) { return link.serving && is_doubtful(link); });
  std::string text = std::string(kWeakMark) + " " + wording.say("check.key.weak", {threshold});
  const auto add = [&](bool holds, const std::string& mark, std::string_view key,
                       Language::Places places = {}) {
    if (holds) text += " " + mark + wording.say(key, places);
  };
  add(any([](const Link& link) { return link.read_percent.has_value(); }), "", "check.key.read");
  add(any([](const Link& link) { return !link.via.empty(); }), "", "check.key.by_repeater");
  add(doubtful, std::string(kDoubtfulMark) + " ", "check.key.doubtful",
      {{"sure", wording.number(100 * kSureProbability, 0)}});
  add(any([](const Link& link) { return !link.serving; }), std::string(kOtherMark) + " ",
      "check.key.other_hub");
  add(true, "", "check.key.chance", {threshold});
  add(any([&](const Link& link) { return !is_weak_farther_on(link) && is_aslant(table, link); }), "",
      "check.key.aslant");
  add(any([](const Link& link) { return link.downlink.has_value(); }), "", "check.key.two_way");
  blocks.emplace_back(Paragraph{text, Tone::faint});
}

/// How to go on, with the worst device that is not good, and where remotes do not work.
void add_next(std::vector<Block>& blocks, const Wording& wording, const LinkTable& table,
              const std::vector<const Link*>& order, const TypedSite& typed) {
  std::vector<std::string> next;
  const auto worst = std::ranges::find_if(
      order, [](const Link* link) { return link->serving && (is_weak(*link) || is_doubtful(*link)); });
  if (worst != order.end()) {
    for (const char* key : {"check.plan_visit", "check.show_why"})
      next.push_back(onward_words(wording, key, typed, (*worst)->device));
  }
  if (std::ranges::any_of(table.areas, &AreaCover::weak)) {
    for (const char* key : {"check.place_for_areas", "check.areas_where"})
      next.push_back(onward_words(wording, key, typed));
  }
  if (next.empty()) return;
  blocks.emplace_back(Heading{wording.say("check.next")});
  blocks.emplace_back(bullet_list(next));
}

BulletList area_list(const Wording& wording, const LinkTable& table) {
  BulletList list;
  for (const AreaCover& area : table.areas) {
    list.items.push_back(
        {wording.say(
             area.weak ? "check.area_weak" : "check.area",
             {{"area", wording.name(area.area)},
              {"hub", wording.name(area.via.empty() ? area.hub : area.via.front())},
              {"share", wording.percent(area.share_percent, area.wanted_percent)},
              {"wanted", wording.number(area.wanted_percent)},
              {"edge", wording.percent(area.edge_share_percent, area.wanted_percent)},
              {"worst", wording.percent(area.worst_reading_percent, table.reading.weak_below_percent)}}),
         area.weak ? kWeakMark : "-", area.weak ? Tone::weak : Tone::plain});
  }
  return list;
}

/// By how much a hub is over, in the classes that are.
std::string over_capacity_text(const Wording& wording, const HubLoad& hub) {
  std::vector<std::string> over;
  for (const ClassLoad& load : hub.classes) {
    if (load.slots_used <= load.capacity) continue;
    over.push_back(wording.say("check.slots.too_many_of_class",
                               {{"count", std::to_string(load.slots_used - load.capacity)},
                                {"class", wording.name(load.device_class)}}));
  }
  if (over.empty()) {
    const int count = hub.slots_used - hub.capacity.value_or(0);
    over.push_back(wording.say("check.slots.too_many", {{"count", std::to_string(count)}}));
  }
  return wording.say("check.slots.over", {{"over", wording.listed(over, over.size())}});
}

std::string hub_text(const Wording& wording, const HubLoad& hub) {
  const Language::Place name{"hub", wording.name(hub.hub)};
  std::string text =
      hub.capacity ? wording.counted("check.slots.used", static_cast<std::size_t>(*hub.capacity),
                                     {name, {"used", std::to_string(hub.slots_used)}})
                   : wording.counted("check.slots.unknown", static_cast<std::size_t>(hub.slots_used), {name});
  std::vector<std::string> classes;
  for (const ClassLoad& load : hub.classes) {
    classes.push_back(wording.say("check.slots.of_class", {{"class", wording.name(load.device_class)},
                                                           {"used", std::to_string(load.slots_used)},
                                                           {"capacity", std::to_string(load.capacity)}}));
  }
  if (!classes.empty())
    text += " " + wording.say("check.slots.classes", {{"classes", wording.listed(classes, classes.size())}});
  return hub.over_capacity ? text + " " + over_capacity_text(wording, hub) : text;
}

BulletList hub_list(const Wording& wording, const LinkTable& table) {
  BulletList list;
  for (const auto* loads : {&table.hubs, &table.repeater_loads}) {
    for (const HubLoad& hub : *loads) {
      list.items.push_back({hub_text(wording, hub), hub.over_capacity ? kWeakMark : "-",
                            hub.over_capacity ? Tone::weak : Tone::plain});
    }
  }
  return list;
}

void add_list(std::vector<Block>& blocks, const std::string& title, BulletList list) {
  if (list.items.empty()) return;
  blocks.emplace_back(Heading{title});
  blocks.emplace_back(std::move(list));
}

}  // namespace

Document check_document(const Language& language, const LinkTable& table, const TypedSite& typed) {
  const Wording wording(language);
  const std::vector<const Link*> order = worst_first(table);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{site_line(wording, table), Tone::strong});
  blocks.emplace_back(verdict(wording, table, order));
  if (table.nearby_readings > 0)
    blocks.emplace_back(Paragraph{nearby_phrase(wording, table.nearby_readings)});
  std::vector<const Link*> rows = order;
  for (const Link& repeater : table.repeaters) rows.push_back(&repeater);
  if (!order.empty()) {
    blocks.emplace_back(link_table_for_people(wording, table, rows));
    add_key(blocks, wording, table, order);
  }
  add_next(blocks, wording, table, order, typed);
  add_list(blocks, wording.say("check.title.areas"), area_list(wording, table));
  add_list(blocks, wording.say("check.title.hubs"), hub_list(wording, table));
  add_list(blocks, wording.say("check.title.failures"), failure_list(wording, table.failures));
  add_list(blocks, wording.say("notes.site_cautions"), warning_list(language, table.warnings));
  using enum StandingCaution;
  for (Block& line : closing_cautions(wording, {reading_decides, detectors_stay}))
    blocks.push_back(std::move(line));
  return document;
}

}  // namespace linkmargin

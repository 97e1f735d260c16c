#include "linkmargin/base/joined.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/phrases.hpp"

namespace linkmargin {
namespace {

json::Value areas(const LinkTable& table) {
  json::Value list = json::Value::array();
  for (const AreaCover& area : table.areas) {
    list.push_back({{"area", area.area},
                    {"hub", area.hub},
                    {"via", area.via},
                    {"share_percent", json::number(area.share_percent)},
                    {"edge_share_percent", json::number(area.edge_share_percent)},
                    {"wanted_percent", json::number(area.wanted_percent)},
                    {"worst_reading_percent", json::number(area.worst_reading_percent)},
                    {"points", area.points},
                    {"weak", area.weak}});
  }
  return list;
}

json::Value slots(const std::vector<HubLoad>& loads, const char* name) {
  json::Value list = json::Value::array();
  for (const HubLoad& hub : loads) {
    json::Value classes = json::Value::array();
    for (const ClassLoad& load : hub.classes) {
      classes.push_back(
          {{"class", load.device_class}, {"slots_used", load.slots_used}, {"capacity", load.capacity}});
    }
    list.push_back({{name, hub.hub},
                    {"slots_used", hub.slots_used},
                    {"capacity", hub.capacity ? json::Value(*hub.capacity) : json::Value(nullptr)},
                    {"classes", std::move(classes)},
                    {"over_capacity", hub.over_capacity}});
  }
  return list;
}

json::Value failures(const LinkTable& table) {
  json::Value list = json::Value::array();
  for (const SingleFailure& failure : table.failures) {
    list.push_back({{failure.repeater ? "repeater" : "hub", failure.station},
                    {"lost", failure.lost},
                    {"doubtful", failure.doubtful},
                    {"areas", failure.areas}});
  }
  return list;
}

}  // namespace

Table check_rows(const LinkTable& table, bool with_serving) {
  Table rows;
  for (const char* key : {"device", "hub", "via", "distance_m", "path_loss_db", "level_dbm", "margin_db",
                          "reading_percent", "sigma_db", "pass_probability", "weak", "outcome"}) {
    rows.columns.push_back({.key = key});
  }
  const bool with_read = !table.present.of_device.empty();
  if (with_read) rows.columns.push_back({.key = "read_percent"});
  if (with_serving) rows.columns.push_back({.key = "serving"});
  for (const char* key : {"reading_low_percent", "reading_high_percent", "outage", "k_db"}) {
    rows.columns.push_back({.key = key});
  }
  if (table.nearby_readings > 0) rows.columns.push_back({.key = "nearby_shift_db"});
  std::vector<const Link*> links;
  for (const Link& link : table.links) links.push_back(&link);
  for (const Link& link : table.repeaters) links.push_back(&link);
  for (const Link* of : links) {
    const Link& link = *of;
    const LinkBudget& way = link.weaker();
    const auto reading = [&](double percent) {
      return reading_cell(percent, table.reading.weak_below_percent);
    };
    Row row{{{link.device},
             {link.hub},
             {joined(link.via, "; ")},
             {link.loss.distance_m},
             {link.loss.path_loss_db},
             {way.level.value},
             {way.margin.value},
             reading(way.reading_percent),
             {link.sigma_db},
             {link.pass_probability},
             flag_cell(link.outcome == Outcome::weak),
             {std::string(outcome_code(link.outcome))}}};
    if (with_read) row.cells.push_back(link.read_percent ? reading(*link.read_percent) : Cell{});
    if (with_serving) row.cells.push_back(flag_cell(link.serving));
    row.cells.push_back(reading(link.low_percent));
    row.cells.push_back(reading(link.high_percent));
    row.cells.push_back({link.outage});
    row.cells.push_back({link.k_db});
    if (table.nearby_readings > 0) row.cells.push_back({link.nearby_shift_db.value_or(0)});
    rows.rows.push_back(std::move(row));
  }
  return rows;
}

std::string check_json(const Language& language, const LinkTable& table) {
  json::Value links = json::Value::array();
  for (const Link& link : table.links) links.push_back(json::link(language, link));
  json::Value repeaters = json::Value::array();
  for (const Link& link : table.repeaters) repeaters.push_back(json::link(language, link));
  json::Value value{{"site", table.site},
                    {"frequency_mhz", json::number(mhz_from_hz(table.frequency_hz))},
                    {"doors", doors_word(table.doors)},
                    {"model", model_word(table.model)},
                    {"weak_below_percent", json::number(table.reading.weak_below_percent)},
                    {"links", std::move(links)},
                    {"areas", areas(table)},
                    {"hubs", slots(table.hubs, "hub")},
                    {"weak_devices", table.weak_devices},
                    {"doubtful_devices", table.doubtful_devices},
                    {"cautions", json::warnings(language, table.warnings)}};
  if (!table.repeaters.empty()) {
    value["repeaters"] = std::move(repeaters);
    value["repeater_slots"] = slots(table.repeater_loads, "repeater");
  }
  if (!table.failures.empty()) value["failures"] = failures(table);
  if (table.nearby_readings > 0) value["nearby_readings"] = table.nearby_readings;
  return json::text(value);
}

}  // namespace linkmargin

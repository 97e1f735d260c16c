#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/coverage_report.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

constexpr int kDecibelDecimals = 2;
constexpr int kPercentDecimals = 1;
constexpr int kChanceDecimals = 3;

int decimals(CoverageValue value) {
  switch (value) {
    case CoverageValue::reading:
      return kPercentDecimals;
    case CoverageValue::chance:
      return kChanceDecimals;
    default:
      return kDecibelDecimals;
  }
}

/// Nothing where it is not finite.
std::string figure(double value, int most_decimals) {
  return std::isfinite(value) ? short_text(value, most_decimals) : std::string();
}

/// A reading is never rounded over to the other side of the threshold: what is weak reads under it.
std::string cell_figure(const CoverageMap& map, std::size_t cell, CoverageValue value) {
  double v = known_value(map, cell, value);
  if (value == CoverageValue::reading && v < map.reading.weak_below_percent) {
    const double tenths = std::round(10 * v) / 10;
    if (tenths >= map.reading.weak_below_percent) v = std::floor(10 * v) / 10;
  }
  return figure(v, decimals(value));
}

json::Value rounded(double value, int most_decimals) {
  const std::string text = figure(value, most_decimals);
  return text.empty() ? json::Value(nullptr) : json::Value(parse_number(text).value_or(value));
}

json::Value rounded_share(std::optional<double> percent) {
  return percent ? rounded(*percent, 2) : json::Value(nullptr);
}

json::Value hub_list(const CoverageMap& map) {
  json::Value hubs = json::Value::array();
  for (const CoverageHub& hub : map.hubs) {
    hubs.push_back({{"hub", hub.name}, {"at_m", {hub.at.x, hub.at.y}}, {"z_m", json::number(hub.at.z)}});
  }
  return hubs;
}

/// Appends `"key": [..]`, a line a row of the map.
template <typename Text>
void append_cells(std::string& text, const char* key, const CoverageMap& map, Text cell_text) {
  text.append(",\n  \"").append(key).append("\": [");
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    if (cell > 0) text += ',';
    if (cell % static_cast<std::size_t>(map.columns) == 0) text += "\n    ";
    text += cell_text(cell);
  }
  text += "\n  ]";
}

}  // namespace

std::string coverage_csv(const CoverageMap& map, const CsvStyle& style) {
  struct ColumnOfValue {
    CoverageValue value;
    KnownDigits digits;
  };
  std::string text(style.start());
  CsvWriter line(style, text);
  for (const char* key : {"storey", "x_m", "y_m", "height_m", "hub"}) line.text(key);
  std::vector<ColumnOfValue> figures;
  for (const auto& [key, value] :
       {std::pair("path_loss_db", CoverageValue::loss), std::pair("level_dbm", CoverageValue::level),
        std::pair("margin_db", CoverageValue::margin), std::pair("reading_percent", CoverageValue::reading),
        std::pair("pass_probability", CoverageValue::chance)}) {
    line.text(key);
    figures.push_back({value, known_digits(key)});
  }
  if (!map.nearby_shift_db.empty()) line.text("nearby_shift_db");
  line.end_line();
  const KnownDigits place = known_digits("x_m"), shift = known_digits("nearby_shift_db");
  const std::string storey = csv_text(map.storey, style);
  std::vector<std::string> hubs;
  for (const CoverageHub& hub : map.hubs) hubs.push_back(csv_text(hub.name, style));
  text.reserve(text.size() + map.size() * (storey.size() + hubs.front().size() + 48));
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const Point2 at = map.centre(cell);
    line.ready(storey);
    for (const double metres : {at.x, at.y, map.height_m}) line.number(metres, place);
    line.ready(hubs[map.hub_of.empty() ? 0 : map.hub_of[cell]]);
    for (const ColumnOfValue& one : figures)
      line.number(known_value(map, cell, one.value), one.digits, map.reading.weak_below_percent);
    if (!map.nearby_shift_db.empty()) line.number(map.nearby_shift_db[cell], shift);
    line.end_line();
  }
  return text;
}

std::string coverage_json(const Language& language, const Site& site, const CoverageMap& map,
                          CoverageValue value) {
  const WeakShares shares = weak_shares(map, site);
  json::Value head{{"site", map.site},
                   {"storey", map.storey},
                   {"height_m", json::number(map.height_m)},
                   {"profile", map.profile},
                   {"frequency_mhz", json::number(mhz_from_hz(map.frequency_hz))},
                   {"doors", doors_word(map.doors)},
                   {"weak_below_percent", json::number(map.reading.weak_below_percent)},
                   {"weak_share_percent", rounded_share(shares.rooms_percent)},
                   {"outside_weak_share_percent", rounded_share(shares.outside_percent)},
                   {"hubs", hub_list(map)},
                   {"hub", map.hubs.size() == 1 ? map.hubs.front().name : "best"},
                   {"value", value_word(value)},
                   {"origin_m", {json::number(map.origin.x), json::number(map.origin.y)}},
                   {"step_m", json::number(map.step_m)},
                   {"columns", map.columns},
                   {"rows", map.rows},
                   {"cautions", json::warnings(language, map.warnings)}};
  if (map.nearby_readings > 0) head["nearby_readings"] = map.nearby_readings;
  std::string text = json::text(head);
  text.resize(text.size() - 3);  // "\n}\n": the cells follow, without a tree of them
  text.reserve(text.size() + map.size() * 7);
  append_cells(text, "cells", map, [&](std::size_t cell) {
    std::string number = cell_figure(map, cell, value);
    return number.empty() ? std::string("null") : number;
  });
  if (!map.hub_of.empty()) {
    append_cells(text, "hub_of", map, [&](std::size_t cell) { return std::to_string(map.hub_of[cell]); });
  }
  return text + "\n}\n";
}

}  // namespace linkmargin

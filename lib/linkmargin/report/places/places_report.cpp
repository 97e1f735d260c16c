#include "linkmargin/report/places/places_report.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <cstddef>

namespace linkmargin {
namespace {

constexpr int kPlaceDecimals = 3;
constexpr int kDecibelDecimals = 2;
constexpr int kChanceDecimals = 4;

/// A place and what it comes to.
struct PlaceRow {
  const Device& place;
  const PlacePrediction& level;
};

std::string csv_line(const Site& site, const PlaceRow& row) {
  const auto& [place, level] = row;
  std::string line;
  const auto add = [&](const std::string& field) { line += (line.empty() ? "" : ",") + field; };
  add(csv_text(place.name));
  add(csv_text(place.profile));
  add(csv_text(site.storeys[place.place.storey].name));
  for (const double metres : {place.place.at.x, place.place.at.y, place.place.height_m})
    add(fixed_text(metres, kPlaceDecimals));
  add(csv_text(level.hub));
  add(csv_text(joined(level.via, "; ")));
  for (const double decibels : {level.distance_m, level.path_loss_db, level.level_dbm})
    add(fixed_text(decibels, kDecibelDecimals));
  add(level.received_dbm ? fixed_text(*level.received_dbm, kDecibelDecimals) : std::string());
  for (const double figure : {level.margin_db, level.reading_percent, level.sigma_db})
    add(fixed_text(figure, kDecibelDecimals));
  add(fixed_text(level.pass_probability, kChanceDecimals));
  add(level.weak ? "true" : "false");
  return line.append(kCsvLineEnd);
}

}  // namespace

Document places_document(const Language& language, const Site& site, std::span<const Device> places,
                         std::span<const PlacePrediction> levels) {
  const Wording wording(language);
  const auto figures = [](std::string title, std::string unit) {
    return Column{.title = std::move(title), .unit = std::move(unit), .right_aligned = true};
  };
  Table table{{{.key = "mark"},
               {.title = wording.say("check.places.place"), .shrinks = true, .least = 10},
               {.title = wording.say("placement.hub"), .shrinks = true, .least = 8},
               figures(wording.say("check.places.level"), "dBm"),
               figures(wording.say("check.places.received"), "dBm"),
               {.key = "reading_percent",
                .title = wording.say("placement.reading"),
                .unit = "%",
                .kind = ColumnKind::bar},
               figures(wording.say("placement.chance"), wording.say("placement.chance_unit"))},
              {}};
  for (std::size_t i = 0; i < places.size(); ++i) {
    const PlacePrediction& level = levels[i];
    const auto decibels = [&](double value) { return Cell{wording.number(value, 1)}; };
    table.rows.push_back({{{level.weak ? "!" : " "},
                           {wording.name(places[i].name)},
                           {way_text(wording, level.hub, level.via)},
                           decibels(level.level_dbm),
                           level.received_dbm ? decibels(*level.received_dbm) : Cell{std::string()},
                           {level.reading_percent},
                           {wording.chance_figure(level.pass_probability)}},
                          level.weak ? Tone::weak : Tone::plain});
  }
  Document document;
  document.blocks.emplace_back(Paragraph{site.name, Tone::strong});
  document.blocks.emplace_back(std::move(table));
  document.blocks.emplace_back(Paragraph{wording.say("caution.short.reading_decides")});
  return document;
}

std::string places_csv(const Site& site, std::span<const Device> places,
                       std::span<const PlacePrediction> levels) {
  std::string text =
      "name,profile,storey,x_m,y_m,height_m,hub,via,distance_m,path_loss_db,level_dbm,received_dbm,margin_db,"
      "reading_percent,sigma_db,pass_probability,weak";
  text += kCsvLineEnd;
  for (std::size_t i = 0; i < places.size(); ++i) text += csv_line(site, {places[i], levels[i]});
  return text;
}

std::string places_json(const Site& site, std::span<const Device> places,
                        std::span<const PlacePrediction> levels) {
  json::Value rows = json::Value::array();
  for (std::size_t i = 0; i < places.size(); ++i) {
    const Placement& at = places[i].place;
    const PlacePrediction& level = levels[i];
    rows.push_back(
        {{"name", places[i].name},
         {"profile", places[i].profile},
         {"storey", site.storeys[at.storey].name},
         {"at_m", {json::number(at.at.x), json::number(at.at.y)}},
         {"height_m", json::number(at.height_m)},
         {"hub", level.hub},
         {"via", level.via},
         {"distance_m", json::number(level.distance_m)},
         {"path_loss_db", json::number(level.path_loss_db)},
         {"level_dbm", json::number(level.level_dbm)},
         {"received_dbm", level.received_dbm ? json::number(*level.received_dbm) : json::Value(nullptr)},
         {"margin_db", json::number(level.margin_db)},
         {"reading_percent", json::number(level.reading_percent)},
         {"sigma_db", json::number(level.sigma_db)},
         {"pass_probability", json::number(level.pass_probability)},
         {"weak", level.weak}});
  }
  return json::text({{"site", site.name}, {"places", std::move(rows)}});
}

}  // namespace linkmargin

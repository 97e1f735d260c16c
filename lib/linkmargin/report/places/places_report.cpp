#include "linkmargin/report/places/places_report.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <cstddef>

namespace linkmargin {
namespace {

constexpr const char* kPlaceColumns[] = {"name",       "profile",         "storey",    "x_m",
                                         "y_m",        "height_m",        "hub",       "via",
                                         "distance_m", "path_loss_db",    "level_dbm", "received_dbm",
                                         "margin_db",  "reading_percent", "sigma_db",  "pass_probability",
                                         "weak"};

/// A place and what it comes to.
struct PlaceRow {
  const Device& place;
  const PlacePrediction& level;
};

class PlaceWriter {
 public:
  PlaceWriter(const Site& site, const CsvStyle& style, std::string& text) : site_(&site), line_(style, text) {
    for (const char* key : kPlaceColumns) line_.text(key);
    line_.end_line();
  }

  void write(const PlaceRow& row) {
    const auto& [place, level] = row;
    line_.text(place.name);
    line_.text(place.profile);
    line_.text(site_->storeys[place.place.storey].name);
    for (const double metres : {place.place.at.x, place.place.at.y, place.place.height_m})
      line_.number(metres, kPlace);
    line_.text(level.hub);
    line_.text(joined(level.via, "; "));
    line_.number(level.distance_m, kDistance);
    line_.number(level.path_loss_db, kLevel);
    line_.number(level.level_dbm, kLevel);
    if (level.received_dbm) {
      line_.number(*level.received_dbm, kLevel);
    } else {
      line_.none();
    }
    line_.number(level.margin_db, kLevel);
    line_.number(level.reading_percent, kReading, site_->reading.weak_below_percent);
    line_.number(level.sigma_db, kLevel);
    line_.number(level.pass_probability, kChance);
    line_.text(level.weak ? "true" : "false");
    line_.end_line();
  }

 private:
  const KnownDigits kPlace = known_digits("x_m"), kDistance = known_digits("distance_m"),
                    kLevel = known_digits("level_dbm"), kReading = known_digits("reading_percent"),
                    kChance = known_digits("pass_probability");
  const Site* site_;
  CsvWriter line_;
};

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
                       std::span<const PlacePrediction> levels, const CsvStyle& style) {
  std::string text(style.start());
  PlaceWriter writer(site, style, text);
  for (std::size_t i = 0; i < places.size(); ++i) writer.write({places[i], levels[i]});
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

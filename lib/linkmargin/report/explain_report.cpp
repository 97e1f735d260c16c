#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/advice.hpp"
#include "linkmargin/report/cautions.hpp"
#include "linkmargin/report/json_values.hpp"
#include "linkmargin/report/phrases.hpp"
#include "linkmargin/report/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::string threshold_text(const LinkTable& table) {
  return shortest_text(table.reading.weak_below_percent) + " %";
}

std::string headline(const LinkTable& table, const Link& link) {
  const Direction& way = link.weaker();
  const double percent = whole_percent(way.reading_percent, table.reading.weak_below_percent);
  const bool close = !link.weak && link.pass_probability < kSureProbability;
  std::string text = link.weak ? "Weak: " : close ? "Enough, but close: " : "Fine: ";
  text += quoted_name(link.device) + " should read about " + fixed_text(percent, 0) + " % at hub " +
          quoted_name(link.hub) + ", " + with_unit(link.loss.distance_m, 1, "m") + " away. ";
  const double over_db = (way.level - threshold_level(table.reading)).value;
  text += "That is " + with_unit(std::abs(over_db), 1, "dB") + (over_db < 0 ? " under" : " over") + " the " +
          threshold_text(table) + " it must reach.";
  if (way.margin < Db{0})
    text += " The level is even under the receiver's sensitivity: expect no reading at all.";
  return text;
}

std::string things_in_the_way(const LossBreakdown& loss) {
  const std::size_t things = loss.items.size() - 1;
  return counted(things, "thing", "things") + (things == 1 ? " in the way costs " : " in the way cost ") +
         with_unit(obstruction_db(loss), 1, "dB") + (things == 1 ? "" : " together");
}

bool itemises(PathLossModel model) {
  return model == PathLossModel::walls || model == PathLossModel::multi_wall;
}

std::string dominant(const LinkTable& table, const Link& link) {
  const LossBreakdown& loss = link.loss;
  const double distance_db = loss.path_loss_db - obstruction_db(loss);
  std::string text = "The distance costs " + with_unit(distance_db, 1, "dB");
  if (loss.items.size() < 2) {
    return text + (itemises(table.model)
                       ? ", and nothing stands in the straight line."
                       : ", and the model " + model_word(table.model) + " counts no wall by itself.");
  }
  text += "; " + things_in_the_way(loss) + ". ";
  const LossItem& biggest = biggest_item(loss);
  if (biggest.cause == LossCause::distance) {
    const LossItem& thing = biggest_in_the_way(loss);
    return text + "What dominates is the distance; of the rest, " + quoted_name(thing.name) +
           " costs most, " + with_unit(thing.loss_db, 1, "dB") + ".";
  }
  text += "What dominates is " + quoted_name(biggest.name);
  if (!biggest.material.empty()) text += " (" + biggest.material + ")";
  text += " with " + with_unit(biggest.loss_db, 1, "dB") + ".";
  if (biggest.incidence_deg >= kObliqueDeg) {
    text += " It is met obliquely, " + with_unit(biggest.incidence_deg, 0, "degrees") +
            " from the perpendicular, which makes it dearer.";
  }
  return text;
}

std::string direction_words(const Link& link) {
  if (!link.downlink) return "The device only transmits: there is no way back from the hub.";
  return link.weaker_is_downlink ? "The way down, from hub to device, is the weaker one and counts."
                                 : "The way up, from device to hub, is the weaker one and counts.";
}

std::string chance_words(const LinkTable& table, const Link& link) {
  return "The chance that the reading taken on site reaches " + threshold_text(table) + " is " +
         chance_phrase(link.pass_probability) + ": the level on site differs from the prediction by " +
         with_unit(link.loss.sigma_db, 1, "dB") +
         " (one standard deviation). Over centimetres it varies beside that, which is not counted here.";
}

std::vector<std::string> words(const Site& site, const LinkTable& table, const Link& link) {
  std::vector<std::string> texts{headline(table, link), dominant(table, link), direction_words(link),
                                 chance_words(table, link)};
  for (const std::string& text : advice(site, table, link)) texts.push_back(text);
  return texts;
}

Column number_column(std::string title, std::string unit, int decimals) {
  return {
      .title = std::move(title), .unit = std::move(unit), .kind = ColumnKind::number, .decimals = decimals};
}

Table losses_table(const LossBreakdown& loss) {
  Table table{{{.title = "Cause"},
               {.title = "What", .shrinks = true},
               {.title = "Material", .shrinks = true},
               number_column("Loss", "dB", 2),
               number_column("Spread", "dB", 1),
               number_column("Angle", "deg", 0)},
              {}};
  for (const LossItem& item : loss.items) {
    const bool angled = item.incidence_deg > 0;
    table.rows.push_back({{{cause_word(item.cause)},
                           {item.name},
                           {item.material},
                           {item.loss_db},
                           {item.sigma_db},
                           angled ? Cell{item.incidence_deg} : Cell{std::string()}}});
  }
  const std::string none;
  table.rows.push_back(
      {{{"sum"}, {"path loss"}, {none}, {loss.path_loss_db}, {loss.sigma_db}, {none}}, Tone::strong});
  return table;
}

void add_budget(std::vector<Block>& blocks, const std::string& title, const Direction& way) {
  Table table{{{.title = title}, number_column("Value", "", 2), {.title = "Unit"}}, {}};
  bool first = true;
  for (const BudgetItem& item : way.items) {
    table.rows.push_back({{{item.name}, {item.value_db}, {first ? "dBm" : "dB"}}});
    first = false;
  }
  table.rows.push_back({{{"level at the receiver"}, {way.level.value}, {"dBm"}}, Tone::strong});
  table.rows.push_back({{{"the receiver's sensitivity"}, {(way.level - way.margin).value}, {"dBm"}}});
  table.rows.push_back({{{"margin"}, {way.margin.value}, {"dB"}}, Tone::strong});
  table.rows.push_back({{{"reading"}, {way.reading_percent}, {"%"}}, Tone::strong});
  blocks.emplace_back(std::move(table));
}

/// A caution of the whole site that speaks of another device.
bool of_another(const std::string& caution, const LinkTable& table, const std::string& device) {
  return std::any_of(table.links.begin(), table.links.end(), [&](const Link& other) {
    return other.device != device && caution.starts_with(other.device + ": ");
  });
}

void add_cautions(std::vector<Block>& blocks, const LinkTable& table, const Link& link) {
  blocks.emplace_back(Heading{"Cautions"});
  BulletList list;
  for (const std::string& caution : table.cautions) {
    if (!of_another(caution, table, link.device)) list.items.push_back({caution});
  }
  for (const std::string& caution : standing_cautions()) list.items.push_back({caution});
  blocks.emplace_back(std::move(list));
}

}  // namespace

Document explain_document(const Site& site, const LinkTable& table, const Link& link) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{table.site + ": " + shortest_text(mhz_from_hz(table.frequency_hz)) +
                                    " MHz, " + doors_phrase(table.doors) + ", model " +
                                    model_word(table.model),
                                Tone::plain});
  blocks.emplace_back(Paragraph{headline(table, link), link.weak ? Tone::weak : Tone::strong});
  blocks.emplace_back(Paragraph{dominant(table, link)});
  blocks.emplace_back(losses_table(link.loss));
  add_budget(blocks, "Up: device to hub", link.uplink);
  if (link.downlink) add_budget(blocks, "Down: hub to device", *link.downlink);
  blocks.emplace_back(Paragraph{direction_words(link)});
  blocks.emplace_back(Paragraph{chance_words(table, link)});
  blocks.emplace_back(Heading{"What would help first"});
  BulletList list;
  for (const std::string& text : advice(site, table, link)) list.items.push_back({text});
  blocks.emplace_back(std::move(list));
  add_cautions(blocks, table, link);
  return document;
}

Table explain_rows(const Link& link) {
  Table table;
  for (const char* key :
       {"device", "hub", "cause", "name", "material", "loss_db", "sigma_db", "incidence_deg"}) {
    table.columns.push_back({.key = key});
  }
  for (const LossItem& item : link.loss.items) {
    table.rows.push_back({{{link.device},
                           {link.hub},
                           {cause_word(item.cause)},
                           {item.name},
                           {item.material},
                           {item.loss_db},
                           {item.sigma_db},
                           {item.incidence_deg}}});
  }
  return table;
}

std::string explain_json(const Site& site, const LinkTable& table, const Link& link) {
  json::Value value = json::link(link);
  std::string text;
  for (const std::string& part : words(site, table, link)) text += (text.empty() ? "" : "\n") + part;
  value["text"] = text;
  return json::text(value);
}

}  // namespace linkmargin

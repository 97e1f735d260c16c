#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/prediction/link_warnings.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/mechanism/metal_mount.hpp"
#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/learned_words.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/reading_words.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

std::string threshold_text(const LinkTable& table) {
  return shortest_text(table.reading.weak_below_percent) + " %";
}

/// The direction that the headline is about: the lower reading where that is the trouble, else the weaker
/// one.
bool speaks_of_downlink(const LinkTable& table, const Link& link) {
  const bool low = link.lower().reading_percent < table.reading.weak_below_percent;
  return low ? link.lower_is_downlink() : link.weaker_is_downlink;
}

std::string verdict_word(const Link& link) {
  if (link.weaker().below_sensitivity()) return "Deaf: ";
  if (link.weak) return "Weak: ";
  return link.pass_probability < kSureProbability ? "Enough, but close: " : "Fine: ";
}

std::string headline(const LinkTable& table, const Link& link) {
  const bool down = speaks_of_downlink(table, link);
  const LinkBudget& way = down ? *link.downlink : link.uplink;
  const std::string away = with_unit(link.loss.distance_m, 1, "m");
  const std::string where = down ? "at the device, " + away + " from hub " + quoted_name(link.hub)
                                 : "at hub " + quoted_name(link.hub) + ", " + away + " away";
  if (way.below_sensitivity()) {
    return verdict_word(link) + quoted_name(link.device) + " should give no reading at all " + where +
           ". Its level is " + with_unit(-way.margin.value, 1, "dB") + " under what the receiver hears.";
  }
  const double percent = whole_percent(way.reading_percent, table.reading.weak_below_percent);
  const double over_db = (way.level - threshold_level(table.reading)).value;
  return verdict_word(link) + quoted_name(link.device) + " should read about " + fixed_text(percent, 0) +
         " % " + where + ". That is " + with_unit(std::abs(over_db), 1, "dB") +
         (over_db < 0 ? " under" : " over") + " the " + threshold_text(table) + " it must reach.";
}

std::string things_words(const LossBreakdown& loss) {
  const std::size_t things = things_in_the_way(loss);
  return counted(things, "thing", "things") + (things == 1 ? " in the way costs " : " in the way cost ") +
         with_unit(obstruction_db(loss), 1, "dB") + (things == 1 ? "" : " together");
}

/// The biggest thing in the way by name, what it is made of and how it is met.
std::string obstacle_words(const Language& language, const LossItem& obstacle) {
  std::string text = quoted_name(item_text(language, obstacle));
  if (!obstacle.material.empty()) text += " (" + obstacle.material + ")";
  text += " with " + with_unit(obstacle.loss_db, 1, "dB") + ".";
  if (obstacle.incidence_deg >= kObliqueDeg) {
    text += " It is met obliquely, " + with_unit(obstacle.incidence_deg, 0, "degrees") +
            " from the perpendicular, which makes it lose more.";
  }
  return text;
}

/// Less than this is not worth a word.
constexpr double kLeastBendsDb = 0.5;

std::string bends_words(const LossBreakdown& loss) {
  const double db = bends_db(loss);
  if (std::abs(db) < kLeastBendsDb) return {};
  return db < 0 ? "; ways beside the straight line save " + with_unit(-db, 1, "dB")
                : "; bends and edges add " + with_unit(db, 1, "dB");
}

/// What echoes are, in plain words.
std::string echo_words(const LossBreakdown& loss) {
  const double db = diffuse_db(loss);
  if (db < kLeastBendsDb) return {};
  return " Echoes, what walls, floors and ceilings throw back, bring " + with_unit(db, 1, "dB") +
         "; goods and people in the rooms take part of that up.";
}

std::string makeup(const Language& language, const LinkTable& table, const Link& link) {
  const LossBreakdown& loss = link.loss;
  const double distance_db = loss.path_loss_db - obstruction_db(loss) - bends_db(loss) + diffuse_db(loss);
  const std::string bends = bends_phrase(language, loss);
  std::string text =
      (bends.empty() ? std::string() : "Most of the signal comes round by " + bends + ", not straight. ") +
      "The distance costs " + with_unit(distance_db, 1, "dB");
  if (things_in_the_way(loss) > 0) {
    text += "; " + things_words(loss);
  } else if (!itemises(table.model)) {
    text += ", and the model " + model_word(table.model) + " counts no wall by itself";
  } else if (loss.turns.empty() && biggest_obstacle(loss) == nullptr) {
    text += ", and nothing stands in the straight line";
  }
  text += bends_words(loss) + "." + echo_words(loss);
  const LossItem* biggest = biggest_obstacle(loss);
  if (biggest == nullptr) return text;
  if (distance_outweighs(loss)) {
    text += " At " + with_unit(loss.distance_m, 0, "m") +
            " the distance weighs more than any obstacle; the biggest is ";
  } else {
    text +=
        things_in_the_way(loss) == 1 && stands_in_the_way(biggest->cause) ? " It is " : " The biggest is ";
  }
  return text + obstacle_words(language, *biggest);
}

std::string direction_words(const LinkTable& table, const Link& link) {
  if (!link.downlink) return "The device only transmits: there is no way back from the hub.";
  const auto percent = [&](const LinkBudget& way) {
    return fixed_text(whole_percent(way.reading_percent, table.reading.weak_below_percent), 0) + " %";
  };
  return std::string(link.weaker_is_downlink ? "The way down, from hub to device, has the smaller margin"
                                             : "The way up, from device to hub, has the smaller margin") +
         " and counts. It should read about " + percent(link.uplink) + " at the hub and " +
         percent(*link.downlink) + " at the device" +
         (link.weak ? "; either under " + threshold_text(table) + " makes it weak." : ".");
}

/// What centimetres do to a reading, and whether that is counted.
std::string fade_words(const LinkTable& table, const Link& link) {
  if (std::isinf(link.k_db)) {
    return "Over centimetres it varies beside that, which is not counted here (fading: off).";
  }
  const auto percent = [&](double value) {
    return fixed_text(whole_percent(value, table.reading.weak_below_percent), 0);
  };
  return "Over centimetres it varies beside that, which is counted: with a chance of " +
         fixed_text(100 * kIntervalChance, 0) + " % the reading lies between " + percent(link.low_percent) +
         " and " + percent(link.high_percent) + " %.";
}

std::string chance_words(const LinkTable& table, const Link& link) {
  return "The chance that the reading taken on site reaches " + threshold_text(table) + " is " +
         chance_phrase(link.pass_probability) +
         ": the level on site typically differs from the prediction by " + with_unit(link.sigma_db, 1, "dB") +
         " (one standard deviation" + sure_words(link) + "). " + fade_words(table, link);
}

/// What a mounting on metal does to one end of a link.
std::string mount_words(const std::string& name, const Mount& mount, double frequency_hz) {
  const MetalSheet sheet = *on_mount({}, mount, frequency_hz).metal;
  std::string text = quoted_name(name) + " hangs " + shortest_text(mount.gap_m) +
                     " m before metal: " + with_unit(sheet.front_db, 1, "dB") + " in front of the sheet, " +
                     with_unit(sheet.behind_db, 1, "dB") + " behind it. ";
  text += sheet.faces_deg ? "Which of the two counts follows from faces_deg; near the sheet's plane it is "
                            "something between."
                          : "The site file does not say where the metal faces (faces_deg), so the loss in "
                            "front counts whatever the direction.";
  return text + " Both are a dipole's: a small tuned antenna usually loses more.";
}

/// The same for both ends.
std::vector<std::string> mounts(const Site& site, const Link& link) {
  std::vector<std::string> texts;
  const auto add = [&](const auto& radios, const std::string& name) {
    for (const auto& radio : radios) {
      if (radio.name != name || !radio.mount) continue;
      texts.push_back(mount_words(name, *radio.mount, site.radio.frequency_hz));
    }
  };
  add(site.devices, link.device);
  add(site.hubs, link.hub);
  return texts;
}

/// What readings taught the site, and what those near by say.
std::vector<std::string> taught(const Site& site, const LinkTable& table, const Link& link) {
  std::vector<std::string> texts{learned_words(site, link), nearby_words(table.nearby_readings, link)};
  std::erase(texts, "");
  return texts;
}

std::vector<std::string> words(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                               const ReadingAnswer* read) {
  std::vector<std::string> texts{headline(table, link), makeup(language, table, link), direction_words(table, link),
                                 chance_words(table, link)};
  for (const std::string& text : taught(site, table, link)) texts.insert(texts.end() - 2, text);
  for (const std::string& text : mounts(site, link)) texts.insert(texts.end() - 1, text);
  if (read != nullptr) texts.push_back(reading_text(reading_words(language, site, table, link, *read)));
  for (const std::string& text : advice(language, site, table, link, read)) texts.push_back(text);
  return texts;
}

Table losses_table(const Language& language, const LossBreakdown& loss) {
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
                           {item_text(language, item)},
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

void add_budget(std::vector<Block>& blocks, const std::string& title, const LinkBudget& way) {
  Table table{{{.title = title}, number_column("Value", "", 2), {.title = "Unit"}}, {}};
  bool first = true;
  for (const BudgetItem& item : way.items) {
    table.rows.push_back({{{term_word(item.term)}, {item.value_db}, {first ? "dBm" : "dB"}}});
    first = false;
  }
  table.rows.push_back({{{"level at the receiver"}, {way.level.value}, {"dBm"}}, Tone::strong});
  table.rows.push_back({{{"the receiver's sensitivity"}, {way.sensitivity.value}, {"dBm"}}});
  if (way.noise_rise != Db{0}) {
    table.rows.push_back({{{"noise over the receiver's own"}, {way.noise_rise.value}, {"dB"}}});
  }
  table.rows.push_back({{{"margin"}, {way.margin.value}, {"dB"}}, Tone::strong});
  table.rows.push_back({{{"reading"}, {way.reading_percent}, {"%"}}, Tone::strong});
  blocks.emplace_back(std::move(table));
}

void add_warnings(const Language& language, std::vector<Block>& blocks, const Site& site, const Link& link) {
  blocks.emplace_back(Heading{"Cautions"});
  BulletList list = warning_list(language, link_warnings(site, link));
  for (const std::string& warning : standing_warnings()) list.items.push_back({warning});
  blocks.emplace_back(std::move(list));
}

}  // namespace

Document explain_document(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                          const ReadingAnswer* read) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{table.site + ": " + shortest_text(mhz_from_hz(table.frequency_hz)) +
                                    " MHz, " + doors_phrase(table.doors) + ", model " +
                                    model_word(table.model),
                                Tone::plain});
  blocks.emplace_back(Paragraph{headline(table, link), link.weak ? Tone::weak : Tone::strong});
  blocks.emplace_back(Paragraph{makeup(language, table, link)});
  for (const std::string& text : taught(site, table, link)) blocks.emplace_back(Paragraph{text});
  blocks.emplace_back(losses_table(language, link.loss));
  add_budget(blocks, "Up: device to hub", link.uplink);
  if (link.downlink) add_budget(blocks, "Down: hub to device", *link.downlink);
  blocks.emplace_back(Paragraph{direction_words(table, link)});
  for (const std::string& text : mounts(site, link)) blocks.emplace_back(Paragraph{text});
  blocks.emplace_back(Paragraph{chance_words(table, link)});
  if (read != nullptr) {
    for (Block& block : reading_blocks(reading_words(language, site, table, link, *read), *read))
      blocks.push_back(std::move(block));
  }
  blocks.emplace_back(Heading{"What would help first"});
  BulletList list;
  for (const std::string& text : advice(language, site, table, link, read)) list.items.push_back({text});
  blocks.emplace_back(std::move(list));
  add_warnings(language, blocks, site, link);
  return document;
}

Table explain_rows(const Language& language, const Link& link) {
  Table table;
  for (const char* key :
       {"device", "hub", "cause", "name", "material", "loss_db", "sigma_db", "incidence_deg"}) {
    table.columns.push_back({.key = key});
  }
  for (const LossItem& item : link.loss.items) {
    table.rows.push_back({{{link.device},
                           {link.hub},
                           {cause_code(item.cause)},
                           {item_text(language, item)},
                           {item.material},
                           {item.loss_db},
                           {item.sigma_db},
                           {item.incidence_deg}}});
  }
  return table;
}

std::string explain_json(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                         const ReadingAnswer* read) {
  json::Value value = json::link(language, link);
  std::string text;
  for (const std::string& part : words(language, site, table, link, read)) text += (text.empty() ? "" : "\n") + part;
  value["text"] = text;
  value["reading"] = nullptr;
  if (read != nullptr) {
    value["reading"] = json::reading(*read);
    value["reading"]["text"] = reading_text(reading_words(language, site, table, link, *read));
  }
  return json::text(value);
}

}  // namespace linkmargin

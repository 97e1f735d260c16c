#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/prediction/link_warnings.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/link_words/explain_words.hpp"
#include "linkmargin/report/link_words/reading_words.hpp"
#include "linkmargin/report/link_words/verdict_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <utility>

namespace linkmargin {
namespace {

void add_section(std::vector<Block>& blocks, const Section& section) {
  blocks.emplace_back(Heading{section.title});
  for (const std::string& text : section.lead) blocks.emplace_back(Paragraph{text});
  BulletList list;
  for (const std::string& text : section.list)
    list.items.push_back({text, section.numbered ? std::to_string(list.items.size() + 1) + "." : "-"});
  if (!list.items.empty()) blocks.emplace_back(std::move(list));
  for (const std::string& text : section.remarks) blocks.emplace_back(Paragraph{text});
}

/// A column of figures as the language writes them.
Column figures(std::string title, std::string unit = {}) {
  return {.title = std::move(title), .unit = std::move(unit), .right_aligned = true};
}

Table losses_table(const Wording& wording, const LossBreakdown& loss) {
  const auto title = [&](const char* key) { return wording.say(std::string("explain.column.") + key); };
  const auto figure = [&](double value, int decimals = 2) { return Cell{wording.number(value, decimals)}; };
  Table table{{{.title = title("cause")},
               {.title = title("what"), .shrinks = true},
               {.title = title("material"), .shrinks = true},
               figures(title("loss"), "dB"),
               figures(title("spread"), "dB"),
               figures(title("angle"), title("degrees"))},
              {}};
  const Language& language = wording.language();
  for (const LossItem& item : loss.items) {
    const bool angled = item.incidence_deg > 0;
    table.rows.push_back({{{cause_word(wording, item.cause)},
                           {wording.name(item_text(language, item))},
                           {wording.name(language.material(item.material))},
                           figure(item.loss_db),
                           figure(item.sigma_db, 1),
                           {angled ? wording.number(item.incidence_deg, 0) : std::string()}}});
  }
  const std::string none;
  table.rows.push_back({{{title("sum")},
                         {title("path_loss")},
                         {none},
                         figure(loss.path_loss_db),
                         figure(loss.sigma_db, 1),
                         {none}},
                        Tone::strong});
  return table;
}

void add_budget(std::vector<Block>& blocks, const Wording& wording, std::string_view title,
                const LinkBudget& way) {
  const auto label = [&](const char* key) { return wording.say(std::string("explain.budget.") + key); };
  Table table{{{.title = wording.say(title)}, figures(label("value")), {.title = label("unit")}}, {}};
  const auto add = [&](std::string name, double value, const char* unit, Tone tone = Tone::plain) {
    table.rows.push_back({{{std::move(name)}, {wording.number(value, 2)}, {unit}}, tone});
  };
  for (const BudgetItem& item : way.items)
    add(term_word(wording, item.term), item.value_db, table.rows.empty() ? "dBm" : "dB");
  add(label("level"), way.level.value, "dBm", Tone::strong);
  add(label("sensitivity"), way.sensitivity.value, "dBm");
  if (way.noise_rise != Db{0}) add(label("noise"), way.noise_rise.value, "dB");
  add(label("margin"), way.margin.value, "dB", Tone::strong);
  add(label("reading"), way.reading_percent, "%", Tone::strong);
  blocks.emplace_back(std::move(table));
}

void add_notes(std::vector<Block>& blocks, const Wording& wording, const Site& site, const Link& link) {
  BulletList list = warning_list(wording.language(), link_warnings(site, link));
  if (list.items.empty()) return;
  blocks.emplace_back(Heading{wording.say("notes.site_cautions")});
  blocks.emplace_back(std::move(list));
}

void append(std::vector<Block>& blocks, std::vector<Block> more) {
  for (Block& block : more) blocks.push_back(std::move(block));
}

}  // namespace

Document explain_document(const Language& language, const Site& site, const LinkTable& table,
                          const Link& link, const ReadingAnswer* read, const Relocation* relocation) {
  const Wording wording(language);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{site_line(wording, table)});
  if (read != nullptr) {
    append(blocks, reading_blocks(wording, reading_words(wording, site, table, link, *read), *read));
  } else {
    const std::string headline = explain_headline(wording, site, table, link);
    blocks.emplace_back(Paragraph{headline, link.outcome == Outcome::weak ? Tone::weak : Tone::strong});
  }
  for (const Section& section : explain_sections(wording, site, table, link, read, relocation))
    add_section(blocks, section);
  for (const Link* hop = &link; hop != nullptr; hop = hop->onward.get()) {
    if (link.onward) {
      blocks.emplace_back(Heading{wording.say("explain.title.hop", {{"from", wording.name(hop->device)},
                                                                    {"to", wording.name(hop->heard_by())}})});
    }
    blocks.emplace_back(losses_table(wording, hop->loss));
    add_budget(blocks, wording, "explain.budget.up", hop->uplink);
    if (hop->downlink) add_budget(blocks, wording, "explain.budget.down", *hop->downlink);
  }
  add_notes(blocks, wording, site, link);
  using enum StandingCaution;
  append(blocks, closing_cautions(wording, {reading_decides, detectors_stay, ladders}));
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
                           {link.heard_by()},
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
                         const ReadingAnswer* read, const Relocation* relocation) {
  const Wording wording(language);
  json::Value value = json::link(language, link);
  const std::string first = read == nullptr ? explain_headline(wording, site, table, link)
                                            : reading_text(reading_words(wording, site, table, link, *read));
  std::string text = first;
  for (const Section& section : explain_sections(wording, site, table, link, read, relocation)) {
    text += "\n" + section.title;
    for (const auto* parts : {&section.lead, &section.list, &section.remarks})
      for (const std::string& part : *parts) text += "\n" + part;
  }
  if (link.onward) value["onward"] = json::link(language, *link.onward);
  value["text"] = text;
  value["reading"] = nullptr;
  if (read != nullptr) {
    value["reading"] = json::reading(*read);
    value["reading"]["text"] = first;
  }
  return json::text(value);
}

}  // namespace linkmargin

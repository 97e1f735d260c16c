#include "linkmargin/report/placement_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/placement_words.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

void add_choice(std::vector<Block>& blocks, const Site& site, const PlacementAnswer& answer,
                const PlacementChoice& choice) {
  BulletList list;
  for (const ChosenPart& part : choice.parts) list.items.push_back({placed_words(site, part)});
  blocks.emplace_back(std::move(list));
  Table table;
  table.columns = {{.key = "device", .title = "device", .shrinks = true, .least = 12},
                   {.key = "hub", .title = "with", .shrinks = true, .least = 6, .drop = 2},
                   {.key = "reading_percent", .title = "reading", .unit = "%", .kind = ColumnKind::bar},
                   {.key = "pass_probability", .title = "chance", .unit = "in 100", .right_aligned = true},
                   {.key = "case", .title = "worst with", .shrinks = true, .least = 8, .drop = 1},
                   {.key = "verdict", .title = ""}};
  std::vector<std::size_t> order(choice.services.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return choice.services[i].chance; });
  for (const std::size_t i : order) {
    const ChosenService& service = choice.services[i];
    std::string with = service.hub;
    for (auto via = service.via.rbegin(); via != service.via.rend(); ++via) with += " by " + *via;
    table.rows.push_back({{{service.area ? service.name + " (area)" : service.name},
                           {with},
                           {whole_percent(service.reading_percent, answer.reading.weak_below_percent)},
                           {chance_percent(service.chance)},
                           {service.in_case},
                           {std::string(service.weak ? "weak" : "")}},
                          service.weak ? Tone::weak : Tone::plain});
  }
  blocks.emplace_back(std::move(table));
}

void add_others(std::vector<Block>& blocks, const Site& site, const PlacementAnswer& answer) {
  if (answer.choices.size() < 2) return;
  blocks.emplace_back(Heading{"Other places that are not next to those"});
  BulletList list;
  for (std::size_t c = 1; c < answer.choices.size(); ++c) {
    std::vector<std::string> places;
    for (const ChosenPart& part : answer.choices[c].parts) {
      if (!part.fixed) places.push_back(quoted_name(part.name) + " at " + spot_words(site, part.place));
    }
    list.items.push_back({listed(places, places.size()) + ": " + worst_words(answer, answer.choices[c]) + ".",
                          std::to_string(c + 1) + "."});
  }
  blocks.emplace_back(std::move(list));
}

void add_comparison(std::vector<Block>& blocks, const Site& site, const PlacementAnswer& answer) {
  BulletList list;
  if (answer.present) list.items.push_back({present_words(answer)});
  if (answer.field)
    list.items.push_back({flatness_words(site, answer) + " The picture (--output FILE.svg) shows which."});
  if (answer.middle) list.items.push_back({middle_words(site, answer)});
  for (const CountTradeoff& price : answer.prices) list.items.push_back({price_words(answer, price)});
  if (list.items.empty()) return;
  blocks.emplace_back(Heading{"What it is worth"});
  blocks.emplace_back(std::move(list));
}

void add_advice(std::vector<Block>& blocks) {
  blocks.emplace_back(Heading{"Before a hole is drilled"});
  BulletList list;
  for (const std::string& advice : placement_advice()) list.items.push_back({advice});
  blocks.emplace_back(std::move(list));
}

/// What is proved of a search in which the worst counts to less than 1 and has that.
std::string sum_text(const PlacementAnswer& answer) {
  const double sum = answer.choices.empty() ? 0 : answer.choices.front().sum;
  return "all chances together come to " + fixed_text(sum, 2) + " and can at most be " +
         fixed_text(answer.sum_bound, 2) + ".";
}

std::string parts_text(const FewestParts::Count& count) {
  return counted(static_cast<std::size_t>(count.hubs), "hub", "hubs") + " and " +
         counted(static_cast<std::size_t>(count.repeaters), "repeater", "repeaters");
}

std::string fewest_text(const FewestParts& fewest) {
  std::string text = fewest.reached
                         ? "These are the fewest parts with which every device and area has a chance of "
                         : "No parts that were asked for give every device and area a chance of ";
  text += chance_text(fewest.chance) + ".";
  std::vector<std::string> tried;
  for (const FewestParts::Count& count : fewest.not_enough) {
    const std::string slots =
        counted(static_cast<std::size_t>(count.missing_slots), "slot is missing", "slots are missing");
    tried.push_back(parts_text(count) + " (" +
                    (count.missing_slots > 0 ? slots : "the worst has " + chance_text(count.worst_chance)) +
                    ")");
  }
  if (!tried.empty()) text += " Not enough: " + listed(tried, 6) + ".";
  if (!fewest.reached) text += " What follows is for the fewest parts that come as near as any.";
  if (!fewest.proved)
    text += " That fewer are not enough is not proved: their search ended with the work set aside.";
  return text;
}

std::string bounded_text(const PlacementAnswer& answer, const std::string& grid) {
  std::string text = "Best found of " + grid + " with the work that was set aside.";
  if (!answer.bound_db) return text;
  if (answer.target_probability == 0) return text + " Proved: " + sum_text(answer);
  if (answer.target_probability < 1 && *answer.bound_db == 0)
    return text + " The worst has the " + chance_text(answer.target_probability) +
           " that is enough. Proved: " + sum_text(answer);
  if (*answer.bound_db > 0) {
    return text + " Proved: the worst can be better by no more than " + fixed_text(*answer.bound_db, 1) +
           " dB (a chance of " + chance_text(answer.worst_bound) + ").";
  }
  return text + " Proved: the worst can be no better; " + sum_text(answer);
}

std::string infeasible_text(const PlacementAnswer& answer) {
  if (answer.missing_slots > 0) {
    return "It cannot be: " +
           counted(static_cast<std::size_t>(answer.missing_slots), "slot is missing", "slots are missing") +
           ". Another hub, or fewer devices on these, would do.";
  }
  std::vector<std::string> names;
  for (const std::string& name : answer.without_place) names.push_back(quoted_name(name));
  return "It cannot be: no place of the grid is open to " + listed(names, 4) +
         ". Look at may_move, near_mains_m, keep_out and obstacles, or take a smaller --step.";
}

Paragraph verdict(const PlacementAnswer& answer) {
  if (answer.choices.empty()) return {placement_proof(answer), Tone::weak};
  const PlacementChoice& best = answer.choices.front();
  std::string text = "Worst of all: " + worst_words(answer, best) + ".";
  if (answer.target_probability == 0) text += " All chances together: " + fixed_text(best.sum, 2) + ".";
  if (best.weak_count > 0) text += " Even so, " + weak_words(best.weak_count) + ".";
  return {text, best.weak_count > 0 ? Tone::weak : Tone::strong};
}

}  // namespace

Document placement_document([[maybe_unused]] const Language& language, const Site& site, const PlacementAnswer& answer) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{answer.site + ": " + shortest_text(mhz_from_hz(answer.frequency_hz)) +
                                " MHz. Places for hubs and repeaters, held in: " + listed(answer.cases, 6) +
                                "."});
  blocks.emplace_back(verdict(answer));
  if (!answer.choices.empty()) {
    if (answer.fewest) blocks.emplace_back(Paragraph{fewest_text(*answer.fewest)});
    blocks.emplace_back(Paragraph{placement_proof(answer)});
    blocks.emplace_back(Heading{"Where to"});
    add_choice(blocks, site, answer, answer.choices.front());
    add_others(blocks, site, answer);
  }
  add_comparison(blocks, site, answer);
  if (!answer.choices.empty()) add_advice(blocks);
  blocks.emplace_back(Heading{"Cautions"});
  std::vector<std::string> warnings = placement_warnings(site, answer);
  warnings.insert(warnings.end(), answer.warnings.begin(), answer.warnings.end());
  blocks.emplace_back(warning_list(warnings));
  BulletList standing;
  for (const std::string& warning : standing_warnings()) standing.items.push_back({warning});
  blocks.emplace_back(std::move(standing));
  return document;
}

Table placement_rows(const Site& site, const PlacementAnswer& answer) {
  Table table;
  for (const char* key :
       {"choice", "kind", "name", "storey", "x_m", "y_m", "height_m", "moved_m", "serves", "slots_used",
        "worst", "worst_pass_probability", "worst_reading_percent", "weak_count"}) {
    table.columns.push_back({.key = key});
  }
  for (std::size_t c = 0; c < answer.choices.size(); ++c) {
    const PlacementChoice& choice = answer.choices[c];
    for (const ChosenPart& part : choice.parts) {
      const auto whole = [](auto count) { return Cell{static_cast<double>(count)}; };
      table.rows.push_back({{whole(c + 1),
                             {std::string(part.repeater ? "repeater" : "hub")},
                             {part.name},
                             {site.storeys[part.place.storey].name},
                             {part.place.at.x},
                             {part.place.at.y},
                             {part.place.height_m},
                             part.moved_m ? Cell{*part.moved_m} : Cell{},
                             whole(part.serves),
                             part.load ? whole(part.load->slots_used) : Cell{},
                             {choice.services.empty() ? std::string() : choice.services[choice.worst].name},
                             {choice.worst_chance()},
                             {choice.worst_reading_percent},
                             whole(choice.weak_count)}});
    }
  }
  return table;
}

std::string placement_proof(const PlacementAnswer& answer) {
  const std::string grid = "the " + shortest_text(answer.proved_step_m) + " m grid (" +
                           counted(answer.places, "place", "places") + ")";
  std::string text;
  switch (answer.status) {
    case PlacementStatus::optimal:
      return "Proved: no places of " + grid + " are better.";
    case PlacementStatus::bounded:
      text = answer.proved ? "Proved: no places of " + grid + " are better." : bounded_text(answer, grid);
      break;
    case PlacementStatus::stopped:
      if (answer.choices.empty()) return "Stopped before any place was weighed.";
      text = "Stopped: the best so far of " + grid + "; nothing is proved of what was not looked at.";
      break;
    case PlacementStatus::infeasible:
      return infeasible_text(answer);
  }
  if (answer.proved_step_m > answer.step_m * 1.001) {
    text += " A grid of " + shortest_text(answer.step_m) +
            " m was asked for, which takes too long where ways round are counted: from the best of the "
            "coarser one "
            "each place was bettered in ever smaller steps, and something better between is not excluded.";
  }
  return text;
}

}  // namespace linkmargin

#include "linkmargin/report/placement_report.hpp"

#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/placement_words.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::string fewest_text(const Wording& wording, const FewestParts& fewest) {
  std::string text = wording.say(fewest.reached ? "placement.fewest.reached" : "placement.fewest.missed",
                                 {{"chance", wording.chance(fewest.chance)}});
  std::vector<std::string> tried;
  for (const FewestParts::Count& count : fewest.not_enough) {
    const Language::Place parts{"parts", parts_words(wording, count.hubs, count.repeaters)};
    tried.push_back(count.missing_slots > 0
                        ? wording.counted("placement.fewest.slots",
                                          static_cast<std::size_t>(count.missing_slots), {parts})
                        : wording.say("placement.fewest.chance",
                                      {parts, {"chance", wording.chance(count.worst_chance)}}));
  }
  if (!tried.empty()) text += " " + wording.say("placement.fewest.tried", {{"tried", wording.listed(tried)}});
  return fewest.proved ? text : text + " " + wording.say("placement.fewest.unproved");
}

/// The answer of `place` in words.
class PlacementTeller {
 public:
  PlacementTeller(const Wording& wording, const Site& site, const PlacementAnswer& answer)
      : wording_(wording), site_(site), answer_(answer) {}

  Document document() {
    say("placement.title",
        {{"site", wording_.name(answer_.site)},
         {"frequency", wording_.with_unit(mhz_from_hz(answer_.frequency_hz), "MHz")},
         {"cases", held_words(wording_, answer_)}},
        Tone::strong);
    if (answer_.choices.empty()) {
      blocks_.emplace_back(Paragraph{placement_proof(wording_.language(), answer_), Tone::weak});
    } else {
      verdict(answer_.choices.front());
      services(shown());
      alternatives();
      worth();
      exact();
      list("placement.fix.title", placement_advice(wording_));
    }
    std::vector<Warning> notes = placement_warnings(site_, answer_);
    notes.insert(notes.end(), answer_.warnings.begin(), answer_.warnings.end());
    list("notes.site_cautions", warning_texts(wording_.language(), notes));
    for (Block& line : closing_cautions(
             wording_,
             {StandingCaution::reading_decides, StandingCaution::detectors_stay, StandingCaution::drilling}))
      blocks_.push_back(std::move(line));
    return {std::move(blocks_)};
  }

 private:
  void say(std::string_view key, Language::Places places = {}, Tone tone = Tone::plain) {
    blocks_.emplace_back(Paragraph{wording_.say(key, places), tone});
  }

  /// Under a heading; nothing where there is nothing to list.
  void list(std::string_view title, const std::vector<std::string>& texts) {
    if (texts.empty()) return;
    blocks_.emplace_back(Heading{wording_.say(title)});
    BulletList items;
    for (const std::string& text : texts) items.items.push_back({text});
    blocks_.emplace_back(std::move(items));
  }

  /// What is to be done, before anything else.
  void verdict(const PlacementChoice& best) {
    not_needed("placement.not_needed.hub", answer_.hubs_not_needed);
    not_needed("placement.not_needed.repeater", answer_.repeaters_not_needed);
    const bool all_stay = std::ranges::all_of(best.parts, stays);
    if (leaves() || all_stay) {
      blocks_.emplace_back(Paragraph{wording_.counted("placement.leave", best.parts.size()), Tone::strong});
    } else {
      for (const ChosenPart& part : best.parts)
        blocks_.emplace_back(
            Paragraph{move_words(wording_, site_, part), stays(part) ? Tone::plain : Tone::strong});
    }
    const PlacementChoice& shown = this->shown();
    const std::string weakest = leaves() ? today_words(wording_, answer_) : better_words(wording_, answer_);
    blocks_.emplace_back(Paragraph{weakest + " " + standing_words(wording_, shown),
                                   shown.weak_count > 0 ? Tone::weak : Tone::plain});
    if (leaves() && !all_stay) blocks_.emplace_back(Paragraph{little_gain_words(wording_, site_, answer_)});
    if (answer_.target_probability == 0)
      say("placement.average",
          {{"sum", wording_.number(shown.sum, 1)}, {"all", std::to_string(shown.services.size())}});
    if (answer_.fewest) blocks_.emplace_back(Paragraph{fewest_text(wording_, *answer_.fewest)});
    blocks_.emplace_back(Paragraph{placement_proof(wording_.language(), answer_)});
  }

  bool leaves() const { return gains_little(answer_); }
  const PlacementChoice& shown() const { return leaves() ? *answer_.present : answer_.choices.front(); }

  void not_needed(std::string_view key, int count) {
    if (count > 0)
      blocks_.emplace_back(Paragraph{wording_.counted(key, static_cast<std::size_t>(count),
                                                      {{"chance", wording_.chance(kSureProbability)}}),
                                     Tone::strong});
  }

  std::vector<Column> columns() const {
    return {{.key = "mark"},
            {.key = "device", .title = wording_.say("placement.device"), .shrinks = true, .least = 12},
            {.key = "hub", .title = wording_.say("placement.hub"), .shrinks = true, .least = 6, .drop = 2},
            {.key = "reading_percent",
             .title = wording_.say("placement.reading"),
             .unit = "%",
             .kind = ColumnKind::bar},
            {.key = "pass_probability",
             .title = wording_.say("placement.chance"),
             .unit = wording_.say("placement.chance_unit"),
             .right_aligned = true},
            {.key = "case",
             .title = wording_.say("placement.case_title"),
             .shrinks = true,
             .least = 8,
             .drop = 1}};
  }

  Row row(const ChosenService& service) const {
    const std::string name = wording_.name(service.name);
    return {{{service.weak           ? "!"
              : is_doubtful(service) ? "?"
                                     : " "},
             {service.area ? wording_.say("placement.area", {{"area", name}}) : name},
             {way_text(wording_, service.hub, service.via)},
             {whole_percent(service.reading_percent, answer_.reading.weak_below_percent)},
             {wording_.chance_figure(service.chance)},
             {case_words(wording_, answer_.cases[service.in_case])}},
            service.weak ? Tone::weak : Tone::plain};
  }

  /// Every device and area, the weakest first.
  void services(const PlacementChoice& choice) {
    std::vector<const ChosenService*> order;
    for (const ChosenService& service : choice.services) order.push_back(&service);
    std::ranges::stable_sort(order, {}, &ChosenService::chance);
    Table table{columns(), {}};
    for (const ChosenService* service : order) table.rows.push_back(row(*service));
    blocks_.emplace_back(std::move(table));
    say("placement.key",
        {{"threshold", wording_.number(answer_.reading.weak_below_percent)},
         {"sure", wording_.number(100 * kSureProbability, 0)}},
        Tone::faint);
    BulletList loads;
    for (const ChosenPart& part : choice.parts) loads.items.push_back({load_words(wording_, part)});
    blocks_.emplace_back(std::move(loads));
  }

  void alternatives() {
    if (answer_.choices.size() < 2) return;
    blocks_.emplace_back(Heading{wording_.say("placement.alternatives")});
    BulletList items;
    for (std::size_t c = 1; c < answer_.choices.size(); ++c) {
      std::string moves;
      for (const ChosenPart& part : answer_.choices[c].parts) {
        if (!part.fixed) moves += (moves.empty() ? "" : " ") + move_words(wording_, site_, part);
      }
      const std::string weakest = weakest_words(wording_, answer_, answer_.choices[c]);
      items.items.push_back({wording_.say("placement.alternative", {{"moves", moves}, {"weakest", weakest}}),
                             std::to_string(c + 1) + "."});
    }
    blocks_.emplace_back(std::move(items));
  }

  void worth() {
    std::vector<std::string> texts;
    for (const CountTradeoff& tradeoff : answer_.prices)
      texts.push_back(tradeoff_words(wording_, answer_, tradeoff));
    list("placement.worth.title", texts);
  }

  void exact() {
    std::vector<std::string> texts;
    if (answer_.field)
      texts.push_back(exact_words(wording_, site_, answer_) + " " + wording_.say("placement.exact.picture"));
    if (answer_.middle) {
      const std::string middle = middle_words(wording_, site_, answer_);
      if (!middle.empty()) texts.push_back(middle);
    }
    list("placement.exact.title", texts);
  }

  const Wording& wording_;
  const Site& site_;
  const PlacementAnswer& answer_;
  std::vector<Block> blocks_{};
};

}  // namespace

Document placement_document(const Language& language, const Site& site, const PlacementAnswer& answer) {
  const Wording wording(language);
  return PlacementTeller(wording, site, answer).document();
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
                             reading_cell(choice.worst_reading_percent, answer.reading.weak_below_percent),
                             whole(choice.weak_count)}});
    }
  }
  return table;
}

}  // namespace linkmargin

#include "linkmargin/report/what_if/what_if_report.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/what_if/what_if_words.hpp"
#include "linkmargin/report/words/cautions.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr std::size_t kSwingsNamed = 3;  // in a sentence

Table change_table(const Wording& wording, const SiteSummary& site) {
  const auto title = [&](const char* key) { return wording.say(std::string("what_if.changes.") + key); };
  Table table;
  table.columns = {
      {.title = title("change"), .shrinks = true, .least = 12},
      {.title = title("weakest"), .shrinks = true, .least = 10},
      {.title = title("reading"), .unit = "%", .kind = ColumnKind::bar},
      {.title = title("difference"), .unit = "%", .right_aligned = true, .drop = 1},
      {.title = title("chance"), .unit = wording.say("placement.chance_unit"), .right_aligned = true},
      {.title = title("weak"), .kind = ColumnKind::number}};
  const auto shown = [&](const CaseChange& of) {
    return whole_percent(of.worst_reading_percent, site.reading.weak_below_percent);
  };
  for (const CaseChange& of : site.cases) {
    const double change = shown(of) - shown(site.cases.front());
    const std::string difference = of.name.empty() ? "" : (change > 0 ? "+" : "") + wording.number(change, 0);
    const bool known = !of.worst_device.empty();
    table.rows.push_back({{{case_name(wording, of.name)},
                           {of.worst_device},
                           known ? Cell{shown(of)} : Cell{},
                           {difference},
                           {known ? wording.chance_figure(of.worst_pass_probability) : ""},
                           {static_cast<double>(of.weak_count)}},
                          of.weak_count > 0 ? Tone::weak : Tone::plain});
  }
  return table;
}

/// What each change does that makes a difference.
BulletList change_list(const Wording& wording, const SiteSummary& site) {
  BulletList list;
  for (const CaseChange& of : site.cases) {
    if (of.name.empty() || (makes_no_difference(site, of) && !of.same_figures)) continue;
    list.items.push_back(
        {wording.say("what_if.changes.item",
                     {{"change", wording.name(of.name)}, {"effect", effect_words(wording, site, of)}})});
  }
  return list;
}

std::string quantile_text(const Wording& wording, const ReadingHistogram& of, double share) {
  const auto percent = of.quantile(share);
  return percent ? wording.number(*percent, 0) : "";
}

Table statistics_table(const Wording& wording, const WhatIfSummary& summary) {
  const auto title = [&](const char* key) { return wording.say(std::string("what_if.spread.") + key); };
  Table table;
  table.columns = {
      {.title = wording.say("what_if.changes.change"), .shrinks = true, .least = 12},
      {.title = title("runs"), .kind = ColumnKind::number},
      {.title = title("passed"), .unit = wording.say("placement.chance_unit"), .right_aligned = true}};
  for (const char* key : {"low", "middle", "high"})
    table.columns.push_back({.title = title(key), .unit = title("under"), .right_aligned = true});
  for (std::size_t i = 0; i < summary.statistics.size(); ++i) {
    const CaseStatistics& of = summary.statistics[i];
    const ReadingHistogram& spread = summary.draws ? of.draws : of.predictions;
    const std::uint64_t runs = summary.draws ? of.drawn : of.predicted;
    const std::uint64_t passed = summary.draws ? of.drawn_pass : of.predicted_pass;
    const double share = runs > 0 ? static_cast<double>(passed) / static_cast<double>(runs) : 0;
    table.rows.push_back({{{case_name(wording, summary.cases[i])},
                           {static_cast<double>(runs)},
                           {runs > 0 ? wording.number(100 * share, 1) : ""},
                           {quantile_text(wording, spread, 0.05)},
                           {quantile_text(wording, spread, 0.5)},
                           {quantile_text(wording, spread, 0.95)}}});
  }
  return table;
}

Table sensitivity_table(const Wording& wording, const SiteSummary& site) {
  const auto title = [&](const char* key) { return wording.say(std::string("what_if.sensitivity.") + key); };
  Table table;
  table.columns = {{.title = title("input"), .shrinks = true, .least = 20},
                   {.title = title("low_at"), .right_aligned = true, .shrinks = true, .least = 4, .drop = 1},
                   {.title = title("low"), .unit = "%", .kind = ColumnKind::number},
                   {.title = title("high"), .unit = "%", .kind = ColumnKind::number},
                   {.title = title("high_at"), .right_aligned = true, .shrinks = true, .least = 4, .drop = 1},
                   {.title = title("swing"), .unit = "%", .kind = ColumnKind::bar}};
  for (const Sensitivity& of : worth_swings(site)) {
    const double low = whole_percent(of.low_percent, site.reading.weak_below_percent);
    const double high = whole_percent(of.high_percent, site.reading.weak_below_percent);
    table.rows.push_back(
        {{{swing_words(wording, of)}, {of.low_at}, {low}, {high}, {of.high_at}, {high - low}}});
  }
  return table;
}

/// Nothing where nothing swings.
std::string depends_words(const Wording& wording, const SiteSummary& site) {
  std::vector<std::string> names;
  for (const Sensitivity& of : worth_swings(site)) {
    if (names.size() == kSwingsNamed) break;
    const double threshold = site.reading.weak_below_percent;
    names.push_back(
        wording.say("what_if.depends_on", {{"name", swing_words(wording, of)},
                                           {"low", wording.percent(of.low_percent, threshold)},
                                           {"high", wording.percent(of.high_percent, threshold)}}));
  }
  return names.empty() ? std::string() : wording.say("what_if.depends", {{"names", wording.listed(names)}});
}

/// The verdict on one site.
void add_verdict(const Wording& wording, const SiteSummary& site, std::vector<Block>& blocks) {
  const auto add = [&](const std::string& text) {
    if (!text.empty()) blocks.emplace_back(Paragraph{text});
  };
  add(best_words(wording, site));
  add(worst_words(wording, site));
  add(no_difference_words(wording, site));
  add(depends_words(wording, site));
}

void add_site(const Wording& wording, const WhatIfSummary& summary, const SiteSummary& site,
              std::vector<Block>& blocks) {
  if (summary.sites > 1) blocks.emplace_back(Heading{wording.name(site.file)});
  add_verdict(wording, site, blocks);
  blocks.emplace_back(Heading{wording.say("what_if.changes.title")});
  blocks.emplace_back(Paragraph{wording.say("what_if.changes.intro"), Tone::faint});
  blocks.emplace_back(change_table(wording, site));
  if (site.cases.size() > 1) blocks.emplace_back(change_list(wording, site));
  if (site.sensitivity.empty()) return;
  blocks.emplace_back(Heading{wording.say("what_if.sensitivity.title")});
  blocks.emplace_back(
      Paragraph{wording.say(summary.draws ? "what_if.sensitivity.intro_draws" : "what_if.sensitivity.intro"),
                Tone::faint});
  blocks.emplace_back(sensitivity_table(wording, site));
}

}  // namespace

WhatIfSummary what_if_summary(const WhatIf& what_if, const WhatIfOptions& options) {
  WhatIfSummary summary{.runs = WhatIfRuns(what_if).count(),
                        .sites = what_if.sites.size(),
                        .cases = {{}},
                        .draws = what_if.draws.has_value(),
                        .of_sites = {},
                        .statistics = {}};
  for (const WhatIfCase& of : what_if.sites.front().cases) summary.cases.push_back(of.name);
  for (std::size_t i = 0; i < std::min(kSummarySites, what_if.sites.size()); ++i) {
    summary.of_sites.push_back({what_if.sites[i].file, what_if.sites[i].site.reading,
                                what_if_changes(what_if, i, options),
                                what_if_sensitivity(what_if, i, options)});
  }
  return summary;
}

WhatIfSummary what_if_runs_summary(const WhatIf& what_if, const WhatIfOptions& options) {
  WhatIfSummary summary = what_if_summary(what_if, options);
  if (summary.runs <= summary.sites * summary.cases.size()) return summary;
  WhatIfStatistics statistics(what_if);
  linkmargin::what_if(what_if, options, {}, [&](const WhatIfBlock& block) {
    for (const WhatIfRow& row : block.rows)
      statistics.add(row.run, row.worst_reading_percent, row.weak_count);
    return true;
  });
  summary.statistics = statistics.cases();
  return summary;
}

Document what_if_document(const Language& language, const WhatIfSummary& summary) {
  const Wording wording(language);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Heading{wording.say("what_if.title")});
  blocks.emplace_back(Paragraph{runs_words(wording, summary), Tone::strong});
  for (const SiteSummary& site : summary.of_sites) add_site(wording, summary, site, blocks);
  const std::size_t others = summary.sites - summary.of_sites.size();
  if (others > 0) blocks.emplace_back(Paragraph{wording.counted("what_if.more_sites", others)});
  if (!summary.statistics.empty()) {
    blocks.emplace_back(Heading{wording.say("what_if.spread.title")});
    blocks.emplace_back(Paragraph{
        wording.say(summary.draws ? "what_if.spread.intro_draws" : "what_if.spread.intro"), Tone::faint});
    blocks.emplace_back(statistics_table(wording, summary));
  }
  for (Block& line : closing_cautions(
           wording,
           {StandingCaution::reading_decides, StandingCaution::detectors_stay, StandingCaution::local_rules}))
    blocks.push_back(std::move(line));
  return document;
}

}  // namespace linkmargin

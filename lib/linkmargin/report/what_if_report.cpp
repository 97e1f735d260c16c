#include "linkmargin/report/what_if_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr std::size_t kMostSwings = 12;

std::string case_name(const std::string& name) {
  return name.empty() ? "(as it is)" : name;
}

std::string percent_text(double percent, const ReadingScale& scale) {
  return fixed_text(whole_percent(percent, scale.weak_below_percent), 0) + " %";
}

Table case_table(const SiteSummary& site) {
  Table table;
  table.columns = {
      {.key = "case", .title = "case", .shrinks = true, .least = 12},
      {.key = "worst_device", .title = "lowest", .shrinks = true, .least = 10},
      {.key = "worst_reading_percent", .title = "reading", .unit = "%", .kind = ColumnKind::bar},
      {.key = "worst_change_percent", .title = "change", .unit = "%", .right_aligned = true, .drop = 1},
      {.key = "worst_pass_probability", .title = "chance", .unit = "in 100", .right_aligned = true},
      {.key = "weak_count", .title = "weak", .kind = ColumnKind::number}};
  const auto shown = [&](const CaseChange& of) {
    return whole_percent(of.worst_reading_percent, site.reading.weak_below_percent);
  };
  for (const CaseChange& of : site.cases) {
    const double change = shown(of) - shown(site.cases.front());
    const std::string change_text = of.name.empty() ? "" : (change > 0 ? "+" : "") + fixed_text(change, 0);
    const bool known = !of.worst_device.empty();
    table.rows.push_back(
        {{{case_name(of.name)},
          {of.worst_device},
          known ? Cell{shown(of)} : Cell{},
          {change_text},
          {known ? chance_percent(of.worst_pass_probability) : ""},
          {static_cast<double>(of.weak_count)}},
         of.weak_count > 0 ? Tone::weak : Tone::plain});
  }
  return table;
}

/// "'hall keypad' (52 to 33 %)"
std::vector<std::string> with_readings(const CaseChange& of, const std::vector<std::string>& names,
                                       const ReadingScale& scale) {
  std::vector<std::string> texts;
  for (const std::string& name : names) {
    const auto device = std::ranges::find(of.devices, name, &DeviceChange::device);
    const std::string after = percent_text(*device->after_percent, scale);
    const std::string before =
        device->before_percent ? percent_text(*device->before_percent, scale) + " to " : "";
    texts.push_back(quoted_name(name) + " (" + before + after + ")");
  }
  return texts;
}

/// "; most changed: 'hall keypad' (71 % to 62 %)", or nothing where no reading moves by a percent.
std::string largest_words(const CaseChange& of, const ReadingScale& scale) {
  const auto moved = [](const DeviceChange& device) {
    return device.before_percent && device.after_percent
               ? std::abs(*device.after_percent - *device.before_percent)
               : 0;
  };
  const auto most = std::ranges::max_element(of.devices, {}, moved);
  if (most == of.devices.end() || moved(*most) < 1) return {};
  return "; most changed: " + with_readings(of, {most->device}, scale).front();
}

BulletList change_list(const SiteSummary& site) {
  BulletList list;
  for (const CaseChange& of : site.cases) {
    if (of.name.empty()) continue;
    std::string text;
    const auto add = [&](const std::string& what, const std::vector<std::string>& names) {
      if (!names.empty()) text += (text.empty() ? " " : "; ") + what + " " + listed(names, kMostNames);
    };
    add("weak now:", with_readings(of, of.turns_weak(), site.reading));
    add("no longer weak:", with_readings(of, of.recovers(), site.reading));
    add("areas not covered:", of.weak_areas);
    add("over capacity:", of.over_capacity);
    if (of.same_figures)
      text = " no figure changes at all; look at what it sets: that may stand there already, or no link passes it";
    if (text.empty()) text = " no device becomes weak or recovers" + largest_words(of, site.reading);
    list.items.push_back({of.name + ":" + text + "."});
  }
  return list;
}

std::string quantile_text(const ReadingHistogram& of, double share) {
  const auto percent = of.quantile(share);
  return percent ? fixed_text(*percent, 0) : "";
}

Table statistics_table(const WhatIfSummary& summary) {
  Table table;
  table.columns = {{.key = "case", .title = "case", .shrinks = true, .least = 12},
                   {.key = "runs", .title = "runs", .kind = ColumnKind::number},
                   {.key = "passed", .title = "none weak", .unit = "in 100", .right_aligned = true},
                   {.key = "low", .title = "1 in 20", .unit = "under %", .right_aligned = true},
                   {.key = "middle", .title = "half", .unit = "under %", .right_aligned = true},
                   {.key = "high", .title = "19 in 20", .unit = "under %", .right_aligned = true}};
  for (std::size_t i = 0; i < summary.statistics.size(); ++i) {
    const CaseStatistics& of = summary.statistics[i];
    const ReadingHistogram& spread = summary.draws ? of.draws : of.predictions;
    const std::uint64_t runs = summary.draws ? of.drawn : of.predicted;
    const std::uint64_t passed = summary.draws ? of.drawn_pass : of.predicted_pass;
    const double share = runs > 0 ? static_cast<double>(passed) / static_cast<double>(runs) : 0;
    table.rows.push_back({{{case_name(summary.cases[i])},
                           {static_cast<double>(runs)},
                           {runs > 0 ? fixed_text(100 * share, 1) : ""},
                           {quantile_text(spread, 0.05)},
                           {quantile_text(spread, 0.5)},
                           {quantile_text(spread, 0.95)}}});
  }
  return table;
}

std::string swing_name(const Sensitivity& of) {
  switch (of.kind) {
    case Sensitivity::Kind::swept:
      return of.name;
    case Sensitivity::Kind::element:
      return "loss of " + of.name;
    case Sensitivity::Kind::model:
      return "what the model does not know";
    case Sensitivity::Kind::parameter:
      return "what readings left open";
    case Sensitivity::Kind::spot:
      return "the spot, to a few centimetres";
  }
  return {};
}

Table sensitivity_table(const SiteSummary& site) {
  Table table;
  table.columns = {
      {.key = "input", .title = "what is changed alone", .shrinks = true, .least = 20},
      {.key = "low_at", .title = "lowest at", .right_aligned = true, .shrinks = true, .least = 4, .drop = 1},
      {.key = "low_percent", .title = "from", .unit = "%", .kind = ColumnKind::number},
      {.key = "high_percent", .title = "to", .unit = "%", .kind = ColumnKind::number},
      {.key = "high_at",
       .title = "highest at",
       .right_aligned = true,
       .shrinks = true,
       .least = 4,
       .drop = 1},
      {.key = "swing_percent", .title = "swing", .unit = "%", .kind = ColumnKind::bar}};
  for (std::size_t i = 0; i < std::min(kMostSwings, site.sensitivity.size()); ++i) {
    const Sensitivity& of = site.sensitivity[i];
    if (of.swing_percent() < 0.5) break;
    const double low = whole_percent(of.low_percent, site.reading.weak_below_percent);
    const double high = whole_percent(of.high_percent, site.reading.weak_below_percent);
    table.rows.push_back({{{swing_name(of)},
                           {of.low_at},
                           {low},
                           {high},
                           {of.high_at},
                           {high - low}}});
  }
  return table;
}

void add_site(const WhatIfSummary& summary, const SiteSummary& site, std::vector<Block>& blocks) {
  blocks.emplace_back(
      Heading{summary.sites > 1 ? site.file + ": what each case does" : "What each case does"});
  blocks.emplace_back(
      Paragraph{"As predicted, without swept values and draws: the device that reads lowest, and how "
                "many are weak.",
                Tone::faint});
  blocks.emplace_back(case_table(site));
  if (site.cases.size() > 1) blocks.emplace_back(change_list(site));
  if (site.sensitivity.empty()) return;
  blocks.emplace_back(Heading{"What the lowest reading hangs on"});
  std::string text = "Each changed alone, all else as predicted for the site as it is";
  if (summary.draws)
    text += "; losses and spots between the values that one in ten stays under and one in ten over";
  blocks.emplace_back(Paragraph{text + ".", Tone::faint});
  blocks.emplace_back(sensitivity_table(site));
}

std::string head_text(const WhatIfSummary& summary) {
  std::string text = counted(summary.runs, "run", "runs") + ": ";
  text += summary.sites == 1 ? "the site as it is" : counted(summary.sites, "site", "sites") + " as they are";
  if (summary.cases.size() > 1) text += " and in " + counted(summary.cases.size() - 1, "case", "cases");
  const std::uint64_t settings = summary.sites * summary.cases.size();
  if (summary.runs > settings)
    text += ", " + shortest_text(static_cast<double>(summary.runs / settings)) + " runs each";
  return text + ".";
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

Document what_if_document([[maybe_unused]] const Language& language, const WhatIfSummary& summary) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Heading{"What if"});
  blocks.emplace_back(Paragraph{head_text(summary), Tone::strong});
  for (const SiteSummary& site : summary.of_sites) add_site(summary, site, blocks);
  if (summary.sites > summary.of_sites.size()) {
    blocks.emplace_back(Paragraph{"The other " + std::to_string(summary.sites - summary.of_sites.size()) +
                                  " sites are in the rows (--output FILE.csv)."});
  }
  if (!summary.statistics.empty()) {
    blocks.emplace_back(Heading{"How the runs are spread"});
    blocks.emplace_back(
        Paragraph{std::string("The lowest reading of each run, ") +
                      (summary.draws ? "in the draws, over all swept values: " : "over all swept values: ") +
                      "in how many no device is weak, and what it stays under.",
                  Tone::faint});
    blocks.emplace_back(statistics_table(summary));
  }
  blocks.emplace_back(Paragraph{short_warning(), Tone::faint});
  return document;
}

}  // namespace linkmargin

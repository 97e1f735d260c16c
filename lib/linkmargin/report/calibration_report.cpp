#include "linkmargin/report/calibration_report.hpp"

#include "linkmargin/report/calibration_tables.hpp"
#include "linkmargin/report/words/calibration_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using Jobs = std::vector<CalibrationJob>;
using Blocks = std::vector<Block>;

constexpr std::size_t kMostPairs = 8;
constexpr std::size_t kMostOutliers = 10;  // of one reason

bool told(const CalibratedParameter& parameter) {
  return parameter.is_informed();
}

/// Found farther from what was assumed than is still open of it.
bool moved(const CalibratedParameter& parameter) {
  return told(parameter) && std::abs(parameter.value - parameter.prior) > parameter.sigma;
}

Paragraph verdict(const Wording& wording, const CalibrationReport& report) {
  const std::size_t readings = report.readings.size();
  const auto pinned = std::ranges::count_if(report.parameters, told);
  if (readings == 0) return {wording.say("calibrate.verdict.no_readings"), Tone::strong};
  std::string text = pinned == 0 ? wording.counted("calibrate.verdict.nothing", readings)
                                 : wording.counted("calibrate.verdict.pinned", readings,
                                                   {{"pinned", std::to_string(pinned)},
                                                    {"unknowns", std::to_string(report.parameters.size())}});
  const std::string misfit = misfit_words(wording, report);
  if (!misfit.empty()) text += " " + misfit;
  return {text, Tone::strong};
}

/// What moved, and that nothing else did.
void add_changes(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  if (std::ranges::none_of(report.parameters, told)) return;
  BulletList list;
  for (const CalibratedParameter& parameter : report.parameters) {
    if (moved(parameter)) list.items.push_back({finding_words(wording, jobs, parameter)});
  }
  const bool any = !list.items.empty();
  const bool all =
      std::ranges::all_of(report.parameters, [](const auto& one) { return !told(one) || moved(one); });
  if (!all)
    list.items.push_back({wording.say(any ? "calibrate.changed.nothing_else" : "calibrate.changed.nothing")});
  blocks.emplace_back(Heading{wording.say("calibrate.changed.title")});
  blocks.emplace_back(std::move(list));
}

/// Those of one reason, then what to check.
void add_outliers_by(Blocks& blocks, const Wording& wording, const Jobs& jobs,
                     const CalibrationReport& report, OutlierReason reason) {
  BulletList list;
  std::size_t more = 0;
  for (const CalibratedReading& found : report.readings) {
    if (found.outlier != reason) continue;
    if (list.items.size() == kMostOutliers) {
      ++more;
      continue;
    }
    list.items.push_back(
        {wording.say("calibrate.outlier.at", {{"row", row_words(wording, jobs, found)},
                                              {"text", outlier_words(wording, jobs, report, found)}}),
         "!", Tone::weak});
  }
  if (list.items.empty()) return;
  if (more > 0) list.items.push_back({wording.counted("calibrate.outlier.more", more)});
  blocks.emplace_back(std::move(list));
  blocks.emplace_back(Paragraph{look_words(wording, reason)});
}

void add_outliers(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  const auto none = [](const CalibratedReading& found) { return found.outlier == OutlierReason::none; };
  if (std::ranges::all_of(report.readings, none)) return;
  blocks.emplace_back(Heading{wording.say("calibrate.outlier.title")});
  for (const OutlierReason reason : {OutlierReason::spot, OutlierReason::device, OutlierReason::alone,
                                     OutlierReason::open_way, OutlierReason::plan})
    add_outliers_by(blocks, wording, jobs, report, reason);
}

/// The heading of what is of one site, which is named where there are several.
Heading site_heading(const Wording& wording, const std::string& key, const Jobs& jobs, std::size_t job) {
  if (jobs.size() == 1) return {wording.say(key)};
  return {wording.say(key + "_at", {{"site", site_words(wording, jobs, job)}})};
}

void add_advice(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                const std::vector<ReadingAdvice>& advice) {
  for (std::size_t job = 0; job < advice.size(); ++job) {
    const Site& site = report.sites.at(job);
    blocks.emplace_back(site_heading(wording, "calibrate.next.title", jobs, job));
    std::string text = wording.counted("calibrate.next.now", site.devices.size(),
                                       {{"doubt", wording.number(advice[job].doubt, 2)},
                                        {"deviation", wording.decibels(advice[job].deviation_db)}});
    if (advice[job].readings.size() > 1) text += " " + wording.say("calibrate.next.each");
    if (advice[job].readings.empty()) text += " " + wording.say("calibrate.next.nothing");
    blocks.emplace_back(Paragraph{text});
    BulletList list;
    for (const AdvisedReading& advised : advice[job].readings)
      list.items.push_back(
          {advised_words(wording, site, advised), std::to_string(list.items.size() + 1) + "."});
    blocks.emplace_back(std::move(list));
  }
}

using Parameters = std::vector<const CalibratedParameter*>;

/// Those that no reading says anything of, by the sites where they play together; what plays at all of them
/// first.
std::vector<Parameters> open_by_sites(const Jobs& jobs, const CalibrationReport& report) {
  std::vector<Parameters> groups;
  for (const CalibratedParameter& parameter : report.parameters) {
    if (told(parameter)) continue;
    const auto same = std::ranges::find_if(
        groups, [&](const Parameters& group) { return group.front()->jobs == parameter.jobs; });
    if (same != groups.end()) {
      same->push_back(&parameter);
    } else {
      groups.push_back({&parameter});
    }
  }
  std::stable_partition(groups.begin(), groups.end(),
                        [&](const Parameters& group) { return group.front()->jobs.size() == jobs.size(); });
  return groups;
}

void add_open_of(BulletList& list, const Wording& wording, const Jobs& jobs, const Parameters& group) {
  std::vector<std::string> values, losses;
  for (const CalibratedParameter* parameter : group) {
    const std::string material = material_words(wording, *parameter);
    (material.empty() ? values : losses)
        .push_back(material.empty() ? unknown_words(wording, *parameter) : material);
  }
  const std::string sites = where_words(wording, jobs, *group.front());
  const auto add = [&](const char* key, const std::vector<std::string>& names) {
    if (names.empty()) return;
    const std::string text = wording.counted(key, names.size(), {{"names", wording.listed(names)}});
    list.items.push_back(
        {sites.empty() ? text : wording.say("calibrate.at_site", {{"sites", sites}, {"text", text}})});
  };
  add("calibrate.open.values", values);
  add("calibrate.open.losses", losses);
}

void add_open(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  BulletList list;
  for (const Parameters& group : open_by_sites(jobs, report)) add_open_of(list, wording, jobs, group);
  for (std::size_t i = 0; i < std::min(report.pairs.size(), kMostPairs); ++i)
    list.items.push_back({pair_words(wording, jobs, report, report.pairs[i])});
  if (report.pairs.size() > kMostPairs)
    list.items.push_back({wording.counted("calibrate.open.more_pairs", report.pairs.size() - kMostPairs)});
  if (list.items.empty()) return;
  blocks.emplace_back(Heading{wording.say("calibrate.open.title")});
  blocks.emplace_back(std::move(list));
}

void add_pinned(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  Table table = pinned_table(wording, jobs, report);
  if (table.rows.empty()) return;
  blocks.emplace_back(Heading{wording.say("calibrate.pinned.title")});
  blocks.emplace_back(std::move(table));
  blocks.emplace_back(Paragraph{wording.say("calibrate.pinned.legend"), Tone::faint});
}

void add_readings(Blocks& blocks, const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    const std::size_t all = jobs[job].readings.size();
    if (all == 0) continue;
    blocks.emplace_back(site_heading(wording, "calibrate.readings.title", jobs, job));
    if (all > kMostReadingRows) {
      blocks.emplace_back(
          Paragraph{wording.say("calibrate.readings.some", {{"shown", std::to_string(kMostReadingRows)},
                                                            {"all", std::to_string(all)}})});
    }
    blocks.emplace_back(reading_table(wording, jobs, report, job));
  }
  if (report.readings.empty()) return;
  blocks.emplace_back(Paragraph{wording.say("calibrate.readings.legend"), Tone::faint});
  const std::size_t bounds = report.readings.size() - count_values(report);
  if (bounds > 0) blocks.emplace_back(Paragraph{wording.counted("calibrate.limits", bounds), Tone::faint});
}

std::string held_back_words(const Wording& wording, const HoldOut& held) {
  return wording.counted("calibrate.spread.held_back", held.readings,
                         {{"before", wording.decibels(held.rmse_before_db)},
                          {"now", wording.decibels(held.rmse_after_db)},
                          {"inside", wording.number(held.inside_percent, 0)}});
}

void add_spread(Blocks& blocks, const Wording& wording, const CalibrationReport& report,
                const CalibrationNotes& notes) {
  if (count_values(report) == 0) return;
  const double scale = report.spread_scale;
  constexpr double shown_as_one = 0.05;
  std::string text = std::abs(scale - 1) < shown_as_one
                         ? wording.say("calibrate.spread.as_assumed")
                         : wording.say("calibrate.spread.times", {{"times", wording.number(scale, 1)}});
  if (report.sites.size() == 1 && report.sites.front().radio.model_sigma_db) {
    const double sigma = *report.sites.front().radio.model_sigma_db;
    text += " " + wording.say("calibrate.spread.model", {{"sigma", wording.decibels(sigma)}});
  }
  const bool fades = std::ranges::any_of(report.sites, [](const Site& site) { return site.fading.on; });
  if (fades) text += " " + wording.say("calibrate.spread.fades");
  blocks.emplace_back(Heading{wording.say("explain.title.how_sure")});
  blocks.emplace_back(Paragraph{text});
  if (notes.held_back) blocks.emplace_back(Paragraph{held_back_words(wording, *notes.held_back)});
}

void add_list(Blocks& blocks, std::string title, const std::vector<std::string>& texts) {
  if (texts.empty()) return;
  blocks.emplace_back(Heading{std::move(title)});
  blocks.emplace_back(bullet_list(texts));
}

}  // namespace

Document calibration_document(const Language& language, const Jobs& jobs, const CalibrationReport& report,
                              const std::vector<ReadingAdvice>& advice, const CalibrationNotes& notes) {
  const Wording wording(language);
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Heading{sites_words(wording, jobs)});
  blocks.emplace_back(verdict(wording, report));
  add_changes(blocks, wording, jobs, report);
  add_outliers(blocks, wording, jobs, report);
  add_advice(blocks, wording, jobs, report, advice);
  add_pinned(blocks, wording, jobs, report);
  add_open(blocks, wording, jobs, report);
  add_readings(blocks, wording, jobs, report);
  add_spread(blocks, wording, report, notes);
  std::vector<Warning> warnings = calibration_warnings(jobs, report);
  warnings.insert(warnings.end(), notes.cautions.begin(), notes.cautions.end());
  add_list(blocks, wording.say("notes.cautions"), warning_texts(language, warnings));
  add_list(blocks, wording.say("calibrate.files.title"), notes.files);
  for (Block& line :
       closing_cautions(wording, {StandingCaution::reading_decides, StandingCaution::detectors_stay}))
    blocks.push_back(std::move(line));
  return document;
}

}  // namespace linkmargin

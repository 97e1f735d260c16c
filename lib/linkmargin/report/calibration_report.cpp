#include "linkmargin/report/calibration_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/calibration_words.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using Jobs = std::vector<CalibrationJob>;

constexpr std::size_t kMostRows = 40;  // of one site's readings
constexpr std::size_t kMostPairs = 8;
constexpr std::size_t kMostOutliers = 10;  // of one reason

Paragraph headline(const Jobs& jobs, const CalibrationReport& report) {
  const std::string where = jobs.size() == 1 ? jobs.front().site.name : counted(jobs.size(), "site", "sites");
  const std::size_t all = report.readings.size();
  const std::size_t bounds = all - count_values(report);
  std::string text = where + ": " + counted(all, "reading", "readings");
  if (bounds > 0) {
    text += ", " +
            std::string(bounds == all
                            ? (all == 1 ? "a bound" : "all of them bounds")
                            : std::to_string(bounds) + " of them " + (bounds == 1 ? "a bound" : "bounds")) +
            " (0 or 100 %)";
  }
  return {text};
}

/// "; 4.3 dB before and 4.1 dB now without what is far off". Nothing where nothing is.
std::string kept_words(const CalibrationReport& report) {
  double before = 0, now = 0, count = 0;
  bool all = true;
  for (const CalibratedReading& found : report.readings) {
    if (found.kind != ReadingKind::exact) continue;
    if (found.outlier != OutlierReason::none) {
      all = false;
      continue;
    }
    const double was_db = found.read_before_dbm - found.before_dbm;
    before += was_db * was_db;
    now += found.residual_db() * found.residual_db();
    count += 1;
  }
  if (all || count == 0) return {};
  return "; without what is far off " + with_unit(std::sqrt(before / count), 1, "dB") + " before, " +
         with_unit(std::sqrt(now / count), 1, "dB") + " now";
}

Paragraph verdict(const CalibrationReport& report) {
  const auto told = std::ranges::count_if(report.parameters, &CalibratedParameter::is_informed);
  std::string text = told == 0 ? "The readings tell too little to teach anything: all stays about as it was."
                               : "The readings taught " + std::to_string(told) + " of the " +
                                     counted(report.parameters.size(), "thing", "things") + " asked of them.";
  const std::string misfit = misfit_words(report);
  if (!misfit.empty())
    text += " Predictions were " + misfit + " (root mean square)" + kept_words(report) + ".";
  return {text, Tone::strong};
}

using Parameters = std::vector<const CalibratedParameter*>;

/// Those that play at the same sites together, what plays at all of them first.
std::vector<Parameters> by_sites(const Jobs& jobs, const CalibrationReport& report) {
  std::vector<Parameters> groups;
  for (const CalibratedParameter& parameter : report.parameters) {
    const auto same = std::ranges::find_if(
        groups, [&](const Parameters& group) { return group.front()->jobs == parameter.jobs; });
    if (same != groups.end()) {
      same->push_back(&parameter);
    } else {
      groups.push_back({&parameter});
    }
  }
  std::stable_partition(groups.begin(), groups.end(), [&](const Parameters& group) {
    return group.front()->jobs.size() == jobs.size();
  });
  return groups;
}

/// Materials by their names alone, after all else. Nothing where all was told.
std::string open_words(const Jobs& jobs, const Parameters& parameters) {
  std::vector<std::string> names;
  std::vector<std::string> materials;
  for (const CalibratedParameter* parameter : parameters) {
    if (parameter->is_informed()) continue;
    const std::string loss = loss_name(*parameter);
    (loss.empty() ? names : materials).push_back(loss.empty() ? parameter_name(*parameter) : loss);
  }
  if (names.empty() && materials.empty()) return {};
  std::string text = listed(names, kMostNames);
  if (!materials.empty()) {
    text += (names.empty() ? "" : "; and of ") +
            std::string(materials.size() == 1 ? "the loss of " : "the losses of ") +
            listed(materials, kMostNames);
  }
  const bool one = names.size() + materials.size() == 1;
  return "Too little is told of " + text + at_sites(jobs, *parameters.front()) + ": " +
         (one ? "it stays" : "they stay") + " about as assumed, and as unsure.";
}

/// Whether anything was found farther from what was assumed than is still open of it.
bool any_beyond(const CalibrationReport& report) {
  return std::ranges::any_of(report.parameters, [](const CalibratedParameter& parameter) {
    return std::abs(parameter.value - parameter.prior) > parameter.sigma;
  });
}

void add_taught(std::vector<Block>& blocks, const Jobs& jobs, const CalibrationReport& report) {
  bool any = false;
  BulletList not_told;
  for (const Parameters& group : by_sites(jobs, report)) {
    BulletList taught;
    for (const CalibratedParameter* parameter : group) {
      if (parameter->is_informed()) taught.items.push_back({begun(parameter_words(*parameter)) + "."});
    }
    const std::string open = open_words(jobs, group);
    if (!open.empty()) not_told.items.push_back({open});
    if (taught.items.empty()) continue;
    any = true;
    blocks.emplace_back(Heading{"What the readings taught" + at_sites(jobs, *group.front())});
    blocks.emplace_back(std::move(taught));
  }
  if (any) {
    std::string text = "Give or take: in two cases of three it lies no farther off.";
    if (!any_beyond(report))
      text += " Nothing here differs from what was assumed by more than that: data sheets and tables hold.";
    blocks.emplace_back(Paragraph{text, Tone::faint});
  }
  for (std::size_t i = 0; i < std::min(report.pairs.size(), kMostPairs); ++i)
    not_told.items.push_back({pair_words(jobs, report, report.pairs[i])});
  if (report.pairs.size() > kMostPairs) {
    not_told.items.push_back({counted(report.pairs.size() - kMostPairs, "more pair", "more pairs") +
                              " like these; JSON has all."});
  }
  if (not_told.items.empty()) return;
  blocks.emplace_back(Heading{"What they did not tell"});
  blocks.emplace_back(std::move(not_told));
}

double deviations_off(const CalibratedReading& found) {
  return std::abs(off_db(found).value_or(0)) / std::max(found.sigma_db, 1e-9);
}

/// Of one site, in the order of the file; of many the farthest off.
std::vector<const CalibratedReading*> shown_readings(const CalibrationReport& report, std::size_t job) {
  std::vector<const CalibratedReading*> shown;
  for (const CalibratedReading& found : report.readings) {
    if (found.job == job) shown.push_back(&found);
  }
  if (shown.size() <= kMostRows) return shown;
  std::ranges::stable_sort(shown, [](const CalibratedReading* a, const CalibratedReading* b) {
    return deviations_off(*a) > deviations_off(*b);
  });
  shown.resize(kMostRows);
  std::ranges::sort(shown, {}, &CalibratedReading::reading);
  return shown;
}

std::string read_cell(const CalibratedReading& found, const Reading& reading) {
  const std::string sign = found.kind == ReadingKind::at_most    ? "\u2264 "
                           : found.kind == ReadingKind::at_least ? "\u2265 "
                                                                 : "";
  return sign + read_words(reading);
}

Table reading_table(const Jobs& jobs, const CalibrationReport& report, std::size_t job) {
  Table table;
  table.columns = {{},
                   {.title = "Line", .right_aligned = true, .drop = 2},
                   {.title = "Device", .shrinks = true, .least = 16},
                   {.title = "Hub", .shrinks = true, .drop = 1},
                   {.title = "Read", .right_aligned = true},
                   {.title = "Before", .right_aligned = true},
                   {.title = "Now", .right_aligned = true},
                   {.title = "Off by", .unit = "dB", .kind = ColumnKind::number, .decimals = 1},
                   {.title = "Usual", .unit = "dB", .kind = ColumnKind::number, .decimals = 1, .drop = 3}};
  for (const CalibratedReading* found : shown_readings(report, job)) {
    const Reading& reading = reading_of(jobs, *found);
    const bool outlier = found->outlier != OutlierReason::none;
    const auto off = off_db(*found);
    Row row{{{std::string(outlier ? "!" : "")},
             {reading.line > 0 ? std::to_string(reading.line) : "-"},
             {reading.device},
             {found->hub},
             {read_cell(*found, reading)},
             {expected_words(reading, jobs[job].site.reading, found->before_dbm)},
             {expected_words(reading, report.sites[job].reading, found->after_dbm)},
             off ? Cell{*off} : Cell{},
             {found->sigma_db}},
            outlier ? Tone::weak : Tone::plain};
    table.rows.push_back(std::move(row));
  }
  return table;
}

void add_readings(std::vector<Block>& blocks, const Jobs& jobs, const CalibrationReport& report) {
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    if (jobs[job].readings.empty()) continue;
    blocks.emplace_back(Heading{"Each reading, expected before and now" +
                                (jobs.size() > 1 ? ": " + site_words(jobs, job) : std::string())});
    if (jobs[job].readings.size() > kMostRows) {
      blocks.emplace_back(Paragraph{"The " + std::to_string(kMostRows) + " farthest off of " +
                                    std::to_string(jobs[job].readings.size()) + "; CSV and JSON have all."});
    }
    blocks.emplace_back(reading_table(jobs, report, job));
  }
}

/// Those of one reason, then what to look at.
void add_outliers_by(std::vector<Block>& blocks, const Jobs& jobs, const CalibrationReport& report,
                     OutlierReason reason) {
  BulletList list;
  std::size_t more = 0;
  for (const CalibratedReading& found : report.readings) {
    if (found.outlier != reason) continue;
    if (list.items.size() == kMostOutliers) {
      ++more;
      continue;
    }
    list.items.push_back(
        {begun(row_words(jobs, found)) + ": " + outlier_words(jobs, report, found), "!", Tone::weak});
  }
  if (list.items.empty()) return;
  if (more > 0) list.items.push_back({counted(more, "more", "more") + "; JSON has all."});
  blocks.emplace_back(std::move(list));
  blocks.emplace_back(Paragraph{look_words(reason)});
}

void add_outliers(std::vector<Block>& blocks, const Jobs& jobs, const CalibrationReport& report) {
  const auto none = [](const CalibratedReading& found) { return found.outlier == OutlierReason::none; };
  if (std::ranges::all_of(report.readings, none)) return;
  blocks.emplace_back(Heading{"Far off, and held back"});
  for (const OutlierReason reason : {OutlierReason::spot, OutlierReason::device, OutlierReason::alone,
                                     OutlierReason::open_way, OutlierReason::plan})
    add_outliers_by(blocks, jobs, report, reason);
}

void add_advice(std::vector<Block>& blocks, const Jobs& jobs, const CalibrationReport& report,
                const std::vector<ReadingAdvice>& advice) {
  for (std::size_t job = 0; job < advice.size(); ++job) {
    const Site& site = report.sites.at(job);
    blocks.emplace_back(
        Heading{"Where to read next" + (jobs.size() > 1 ? ": " + site_words(jobs, job) : std::string())});
    blocks.emplace_back(Paragraph{
        "As things stand, " + fixed_text(advice[job].doubt, 2) +
        " wrong decisions (weak or not) are to be expected over " +
        counted(site.devices.size(), "device", "devices") + ", and levels are known to " +
        with_unit(advice[job].deviation_db, 1, "dB") + ". Each of these goes with those before it:"});
    BulletList list;
    for (const AdvisedReading& advised : advice[job].readings)
      list.items.push_back({advised_words(site, advised), std::to_string(list.items.size() + 1) + "."});
    if (list.items.empty()) list.items.push_back({"No further reading would tell anything."});
    blocks.emplace_back(std::move(list));
  }
}

std::string spread_words(const CalibrationReport& report) {
  const double scale = report.spread_scale;
  std::string text = "Readings lie about what is expected of them ";
  text += std::abs(scale - 1) < 0.05 ? "as widely as was assumed"
                                     : fixed_text(scale, 1) + " times as widely as was assumed";
  text += "; the calibrated site's chances and ranges count it";
  if (report.sites.size() == 1 && report.sites.front().radio.model_sigma_db) {
    text += ": the model's own spread (model_sigma_db) is " +
            with_unit(*report.sites.front().radio.model_sigma_db, 1, "dB") + " there";
  }
  text += ".";
  const bool fades = std::ranges::any_of(report.sites, [](const Site& site) { return site.fading.on; });
  if (fades)
    text +=
        " Expected here is the mean of spots about the place, a little under the level that check prints.";
  return text;
}

}  // namespace

Document calibration_document([[maybe_unused]] const Language& language, const Jobs& jobs, const CalibrationReport& report,
                              const std::vector<ReadingAdvice>& advice) {
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(headline(jobs, report));
  blocks.emplace_back(verdict(report));
  add_taught(blocks, jobs, report);
  add_readings(blocks, jobs, report);
  if (count_values(report) > 0) blocks.emplace_back(Paragraph{spread_words(report)});
  add_outliers(blocks, jobs, report);
  add_advice(blocks, jobs, report, advice);
  blocks.emplace_back(Heading{"Cautions"});
  blocks.emplace_back(warning_list(calibration_warnings(jobs, report)));
  blocks.emplace_back(Paragraph{short_warning(), Tone::faint});
  return document;
}

}  // namespace linkmargin

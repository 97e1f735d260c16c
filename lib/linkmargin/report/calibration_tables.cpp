#include "linkmargin/report/calibration_tables.hpp"

#include "linkmargin/report/words/calibration_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using Jobs = std::vector<CalibrationJob>;

double deviations_off(const CalibratedReading& found) {
  return std::abs(off_db(found).value_or(0)) / std::max(found.sigma_db, 1e-9);
}

std::vector<const CalibratedReading*> shown_readings(const CalibrationReport& report, std::size_t job) {
  std::vector<const CalibratedReading*> shown;
  for (const CalibratedReading& found : report.readings) {
    if (found.job == job) shown.push_back(&found);
  }
  if (shown.size() <= kMostReadingRows) return shown;
  std::ranges::stable_sort(shown, [](const CalibratedReading* a, const CalibratedReading* b) {
    return deviations_off(*a) > deviations_off(*b);
  });
  shown.resize(kMostReadingRows);
  std::ranges::sort(shown, {}, &CalibratedReading::reading);
  return shown;
}

std::string read_cell(const Wording& wording, const CalibratedReading& found, const Reading& reading) {
  const std::string sign = found.kind == ReadingKind::at_most    ? "\u2264 "
                           : found.kind == ReadingKind::at_least ? "\u2265 "
                                                                 : "";
  return sign + read_words(wording, reading);
}

}  // namespace

Table pinned_table(const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  const auto title = [&](const char* key) { return wording.say(std::string("calibrate.pinned.") + key); };
  const bool several = jobs.size() > 1;
  Table table;
  table.columns = {{.title = title("unknown"), .shrinks = true, .least = 16}};
  if (several) table.columns.push_back({.title = title("sites"), .shrinks = true, .least = 10});
  for (const char* key : {"assumed", "found", "within", "within_before"})
    table.columns.push_back({.title = title(key), .right_aligned = true});
  for (const CalibratedParameter& parameter : report.parameters) {
    if (!parameter.is_informed()) continue;
    Row row{{{unknown_words(wording, parameter)}}};
    if (several) {
      const std::string sites = where_words(wording, jobs, parameter);
      row.cells.push_back({sites.empty() ? title("all_sites") : sites});
    }
    row.cells.push_back({value_words(wording, parameter, parameter.prior)});
    row.cells.push_back({value_words(wording, parameter, parameter.value)});
    row.cells.push_back({sigma_words(wording, parameter, parameter.sigma)});
    row.cells.push_back({sigma_words(wording, parameter, parameter.prior_sigma)});
    table.rows.push_back(std::move(row));
  }
  return table;
}

Table reading_table(const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                    std::size_t job) {
  const auto title = [&](const char* key) { return wording.say(std::string("calibrate.readings.") + key); };
  Table table;
  table.columns = {{},
                   {.title = title("line"), .right_aligned = true, .drop = 2},
                   {.title = title("device"), .shrinks = true, .least = 16},
                   {.title = title("hub"), .shrinks = true, .drop = 1},
                   {.title = title("read"), .right_aligned = true},
                   {.title = title("before"), .right_aligned = true},
                   {.title = title("now"), .right_aligned = true},
                   {.title = title("off_by"), .unit = "dB", .right_aligned = true},
                   {.title = title("usual"), .unit = "dB", .right_aligned = true, .drop = 3}};
  for (const CalibratedReading* found : shown_readings(report, job)) {
    const Reading& reading = reading_of(jobs, *found);
    const bool outlier = found->outlier != OutlierReason::none;
    const auto off = off_db(*found);
    Row row{
        {{std::string(outlier ? "!" : "")},
         {reading.line > 0 ? std::to_string(reading.line) : "-"},
         {reading.device},
         {found->hub},
         {read_cell(wording, *found, reading)},
         {expected_words(wording, reading, jobs[job].site.reading, found->before_dbm - found->spot_mean_db)},
         {expected_words(wording, reading, report.sites[job].reading,
                         found->after_dbm - found->spot_mean_db)},
         off ? Cell{wording.number(*off, 1)} : Cell{},
         {wording.number(found->sigma_db, 1)}},
        outlier ? Tone::weak : Tone::plain};
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace linkmargin

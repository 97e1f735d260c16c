#include "linkmargin/analysis/calibration/hold_out.hpp"

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/base/random.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include <cmath>

namespace linkmargin {
namespace {

constexpr std::uint64_t kSeed = 1;

/// A job's readings in two parts.
struct Parted {
  CalibrationJob learned;
  std::vector<Reading> held;
};

Parted parted(const CalibrationJob& job, const CalibrationOptions& options, double share) {
  const ReadingLinks links = reading_links(job.site, job.readings, options.doors);
  Parted parts{{job.site, {}}, {}};
  for (std::size_t i = 0; i < job.readings.size(); ++i) {
    const AskedLink& link = links.links[links.of_reading[i]];
    const std::string name = job.site.name + "/" + job.readings[i].device + "/" +
                             station_name(job.site, link.station) + "/" + std::to_string(link.place.storey) +
                             "/" + std::to_string(link.place.at.x) + "/" + std::to_string(link.place.at.y);
    const bool held = RandomStream(kSeed, named_stream(name)).uniform(0) < share;
    (held ? parts.held : parts.learned.readings).push_back(job.readings[i]);
  }
  return parts;
}

/// Adds up what readings lie off a site.
struct Misfit {
  double squares = 0;
  double inside = 0;
  std::size_t count = 0;

  void add(const Site& site, const std::vector<Reading>& readings, const CalibrationOptions& options) {
    static const double interval = normal_quantile(0.95);  // nine of ten
    const ReadingLinks links = reading_links(site, readings, options.doors);
    const std::vector<PredictedReading> predicted = predict_readings(site, links.links, options.threads);
    for (std::size_t i = 0; i < readings.size(); ++i) {
      const PredictedReading& link = predicted[links.of_reading[i]];
      const ReadLevel read = level_of(readings[i], site.reading, link.floor_dbm);
      if (read.kind != ReadingKind::exact) continue;
      const double off_db = read.level.value - link.level_dbm;
      squares += off_db * off_db;
      inside += std::abs(off_db) <= interval * std::hypot(link.sigma_db, link.spot_db) ? 1 : 0;
      ++count;
    }
  }
  double rmse_db() const { return std::sqrt(squares / static_cast<double>(count)); }
};

}  // namespace

std::optional<HoldOut> hold_out(const std::vector<CalibrationJob>& jobs, const CalibrationOptions& options,
                                double share) {
  require_in(kHoldOutShare, share);
  std::vector<CalibrationJob> learned;
  std::vector<std::vector<Reading>> held;
  std::size_t left = 0;
  for (const CalibrationJob& job : jobs) {
    Parted parts = parted(job, options, share);
    left += parts.learned.readings.size();
    learned.push_back(std::move(parts.learned));
    held.push_back(std::move(parts.held));
  }
  if (left == 0) return {};
  const CalibrationReport report = calibration(learned, options);
  Misfit before, after;
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    before.add(jobs[job].site, held[job], options);
    after.add(report.sites[job], held[job], options);
  }
  if (after.count == 0) return {};
  return HoldOut{.readings = after.count,
                 .rmse_before_db = before.rmse_db(),
                 .rmse_after_db = after.rmse_db(),
                 .inside_percent = 100 * after.inside / static_cast<double>(after.count)};
}

}  // namespace linkmargin

#include "linkmargin/analysis/calibration/calibration.hpp"

#include "linkmargin/analysis/calibration/calibration_fit.hpp"
#include "linkmargin/analysis/calibration/calibration_site.hpp"
#include "linkmargin/analysis/calibration/calibration_warnings.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace calibrating {
namespace {

/// Off by more deviations than this is worth naming: 3 readings of 1,000 are by chance.
constexpr double kOutlierDeviations = 3;

/// The slopes are found anew after so many looks that did not settle.
constexpr int kLooksPerSlope = 4;

class Calibrating {
 public:
  Calibrating(const std::vector<CalibrationJob>& jobs, const CalibrationOptions& options)
      : jobs_(jobs), options_(options), parameters_(parameters_of(jobs)) {
    for (std::size_t job = 0; job < jobs_.size(); ++job) {
      links_.push_back(reading_links(jobs_[job].site, jobs_[job].readings, options_.doors));
      for (std::size_t i = 0; i < jobs_[job].readings.size(); ++i) rows_.push_back({job, i});
      if (!options_.reading_sigma_db) add_radios(parameters_, jobs_[job], links_[job], job);
    }
    const auto count = static_cast<Eigen::Index>(parameters_.size());
    prior_.mean.resize(count);
    prior_.sigma.resize(count);
    for (Eigen::Index p = 0; p < count; ++p) {
      prior_.mean[p] = parameter(p).prior;
      prior_.sigma[p] = parameter(p).sigma;
      prior_.heavy_tail.push_back(parameter(p).heavy_tail);
    }
  }

  CalibrationReport run() {
    CalibrationReport report;
    Eigen::VectorXd value = prior_.mean;
    look_at(value);
    before_ = predicted_;
    find_slopes(value);
    PosteriorFit fit;
    report.stop = CalibrationStop::max_iterations;
    for (int looks = 1; looks <= options_.max_iterations; ++looks) {
      fit = posterior_fit(linear(value), prior_);
      const Eigen::VectorXd sigma = fit.covariance.diagonal().cwiseSqrt();
      const Eigen::VectorXd next = held(fit.value);
      const double moved = value.size() > 0 ? ((next - value).array() / sigma.array()).abs().maxCoeff() : 0;
      value = next;
      look_at(value);
      if (moved <= options_.tolerance) {
        report.stop = CalibrationStop::converged;
        break;
      }
      if (looks % kLooksPerSlope == 0) find_slopes(value);
    }
    find_covariance(fit, value);
    conclude(report, fit, value);
    return report;
  }

 private:
  struct Row {
    std::size_t job;
    std::size_t reading;
  };

  /// How sure the values are, by shadows that are alike as far as the readings show.
  void find_covariance(PosteriorFit& fit, const Eigen::VectorXd& value) {
    spread_ = refitted_spread(linear(value), spread_);
    const PosteriorFit wide = posterior_fit(linear(value), prior_);
    fit.covariance = wide.covariance;
    fit.leverage = wide.leverage;
    fit.scale = wide.scale;
  }

  Eigen::VectorXd held(Eigen::VectorXd value) const {
    for (Eigen::Index p = 0; p < value.size(); ++p) value[p] = parameter(p).held(value[p]);
    return value;
  }

  const Parameter& parameter(Eigen::Index p) const { return parameters_[static_cast<std::size_t>(p)]; }
  const Reading& reading(const Row& row) const { return jobs_[row.job].readings[row.reading]; }
  Eigen::Index rows() const { return static_cast<Eigen::Index>(rows_.size()); }
  const Row& row(Eigen::Index i) const { return rows_[static_cast<std::size_t>(i)]; }
  const PredictedReading& looked(const std::vector<std::vector<PredictedReading>>& of, const Row& row) const {
    return of[row.job][links_[row.job].of_reading[row.reading]];
  }

  std::vector<PredictedReading> look_at_job(std::size_t job, const Eigen::VectorXd& value) const {
    return predict_readings(site_at(jobs_[job], job, parameters_, value), links_[job].links,
                            options_.threads);
  }

  void look_at(const Eigen::VectorXd& value) {
    predicted_.clear();
    for (std::size_t job = 0; job < jobs_.size(); ++job) predicted_.push_back(look_at_job(job, value));
    if (!spread_.readings.empty() || rows_.empty()) return;
    for (const Row& of : rows_) {  // of the first look: what is compared must not change on the way
      const PredictedReading& link = looked(predicted_, of);
      const auto& known_db = options_.reading_sigma_db;
      spread_.readings.push_back(
          {of.job, link.device, link.hub, known_db ? 0 : link.local_db, known_db ? *known_db : link.spot_db});
    }
    spread_ = counted(std::move(spread_));
  }

  /// Slopes of the residuals by each parameter, from looks a step beside `value`.
  void find_slopes(const Eigen::VectorXd& value) {
    slopes_ = Eigen::MatrixXd::Zero(rows(), value.size());
    for (Eigen::Index p = 0; p < value.size(); ++p) {
      std::vector<std::vector<PredictedReading>> beside(jobs_.size());
      const auto step = parameter(p).look_step();
      if (step) {
        Eigen::VectorXd there = value;
        there[p] += *step;
        for (const std::size_t job : parameter(p).jobs) beside[job] = look_at_job(job, there);
      }
      for (Eigen::Index i = 0; i < rows(); ++i) {
        if (!parameter(p).plays_in(row(i).job)) continue;
        slopes_(i, p) =
            step ? -(looked(beside, row(i)).level_dbm - looked(predicted_, row(i)).level_dbm) / *step
                 : known_slope(row(i), parameter(p));
      }
    }
  }

  /// Of a residual by an offset, or by an end of the scale.
  double known_slope(const Row& of, const Parameter& by) const {
    const ParameterKind what = by.what;
    if (what == ParameterKind::offset) return -1;
    if (what == ParameterKind::radio) {
      const ReadingLinks& links = links_[of.job];
      return is_of(by, jobs_[of.job].site, links.links[links.of_reading[of.reading]]) ? -1 : 0;
    }
    if (!reading(of).percent || reading(of).not_heard) return 0;
    const double share = *reading(of).percent / 100;
    return what == ParameterKind::zero ? 1 - share : share;
  }

  ReadingKind kind(const Row& of) const { return level_of(reading(of), {}, 0).kind; }

  double scale_end(std::size_t job, ParameterKind what, const Eigen::VectorXd& value) const {
    for (Eigen::Index p = 0; p < value.size(); ++p) {
      if (parameter(p).what == what && parameter(p).plays_in(job)) return value[p];
    }
    const ReadingScale& scale = jobs_[job].site.reading;
    return (what == ParameterKind::zero ? scale.zero : scale.full).value;
  }

  double read_dbm(const Row& of, const Eigen::VectorXd& value) const {
    ReadingScale scale;
    scale.zero = Dbm{scale_end(of.job, ParameterKind::zero, value)};
    scale.full = Dbm{scale_end(of.job, ParameterKind::full, value)};
    return level_of(reading(of), scale, looked(predicted_, of).floor_dbm).level.value;
  }

  LinearReadings linear(const Eigen::VectorXd& value) const {
    LinearReadings readings;
    readings.at = value;
    readings.residual_db.resize(rows());
    readings.slope_db = slopes_;
    for (Eigen::Index i = 0; i < rows(); ++i) {
      readings.residual_db[i] = read_dbm(row(i), value) - looked(predicted_, row(i)).level_dbm;
      readings.kinds.push_back(kind(row(i)));
    }
    readings.spans = spans();
    count_by(readings, spread_);
    return readings;
  }

  /// Each scale with the readings on it.
  std::vector<ShownSpan> spans() const {
    std::vector<ShownSpan> found;
    for (std::size_t p = 0; p + 1 < parameters_.size(); ++p) {
      if (parameters_[p].what != ParameterKind::zero) continue;
      ShownSpan span{.zero = static_cast<Eigen::Index>(p)};
      while (parameter(span.full).what != ParameterKind::full ||
             parameter(span.full).jobs != parameters_[p].jobs)
        ++span.full;
      for (Eigen::Index i = 0; i < rows(); ++i) {
        const bool value = reading(row(i)).percent && kind(row(i)) == ReadingKind::exact;
        if (value && parameters_[p].plays_in(row(i).job)) span.readings.push_back(i);
      }
      found.push_back(std::move(span));
    }
    return found;
  }

  void conclude(CalibrationReport& report, const PosteriorFit& fit, const Eigen::VectorXd& value) const {
    report.spread_scale = fit.scale;
    report.correlation_m = spread_.correlation.length_m;
    report.local_share = spread_.correlation.local_share;
    conclude_parameters(report, fit, value);
    conclude_readings(report, fit, value);
    report.warnings = warnings_of(report);
    for (std::size_t job = 0; job < jobs_.size(); ++job) {
      Site site = calibrated_site(jobs_[job], job, parameters_, value, fit.covariance);
      if (const auto sigma_db = model_sigma_db(job, fit)) site.radio.model_sigma_db = sigma_db;
      report.sites.push_back(std::move(site));
    }
  }

  /// The model's own deviation by what the readings showed; nothing without readings of the job.
  std::optional<double> model_sigma_db(std::size_t job, const PosteriorFit& fit) const {
    double model_db = 0, all_db2 = 0, count = 0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      if (rows_[i].job != job) continue;
      const ReadingSpread& spread = spread_.readings[i];
      model_db = looked(before_, rows_[i]).model_db;
      all_db2 += spread.local_db * spread.local_db + spread.spot_db * spread.spot_db;
      count += 1;
    }
    if (count == 0) return {};
    // What is missing goes to the model whole; what is too much is taken from it by its share, since the rest
    // may be the spots': never surer than the readings make it.
    const double scale2 = fit.scale * fit.scale;
    const double more_db2 = std::max(0.0, scale2 - 1) * all_db2 / count;
    return as_written(std::sqrt(std::min(scale2, 1.0) * model_db * model_db + more_db2));
  }

  void conclude_parameters(CalibrationReport& report, const PosteriorFit& fit,
                           const Eigen::VectorXd& value) const {
    const Eigen::VectorXd sigma = fit.covariance.diagonal().cwiseSqrt();
    for (Eigen::Index p = 0; p < value.size(); ++p) {
      const double left = sigma[p] / prior_.sigma[p];
      report.parameters.push_back({.path = parameter(p).path(),
                                   .jobs = parameter(p).jobs,
                                   .prior = prior_.mean[p],
                                   .prior_sigma = prior_.sigma[p],
                                   .value = value[p],
                                   .sigma = sigma[p],
                                   .variance_reduction = std::clamp(1 - left * left, 0.0, 1.0)});
      if (parameter(p).what == ParameterKind::radio) continue;  // against the offset of all, of course
      for (Eigen::Index q = 0; q < p; ++q) {
        if (parameter(q).what == ParameterKind::radio) continue;
        const double correlation = fit.covariance(p, q) / (sigma[p] * sigma[q]);
        if (std::abs(correlation) >= CalibratedPair::kPairCorrelation)
          report.pairs.push_back({static_cast<std::size_t>(q), static_cast<std::size_t>(p), correlation});
      }
    }
    std::ranges::stable_sort(report.pairs, [](const CalibratedPair& a, const CalibratedPair& b) {
      return std::abs(a.correlation) > std::abs(b.correlation);
    });
  }

  void conclude_readings(CalibrationReport& report, const PosteriorFit& fit,
                         const Eigen::VectorXd& value) const {
    const Eigen::MatrixXd known = slopes_ * fit.covariance;
    double before = 0, after = 0, values = 0;
    std::vector<double> off;  // of each reading, as deviations_off() has it
    for (Eigen::Index i = 0; i < rows(); ++i) {
      const ReadingSpread& spread = spread_.readings[static_cast<std::size_t>(i)];
      CalibratedReading found;
      found.job = row(i).job;
      found.reading = row(i).reading;
      const ReadingLinks& links = links_[found.job];
      found.hub = station_name(jobs_[found.job].site, links.links[links.of_reading[found.reading]].station);
      found.kind = kind(row(i));
      found.read_dbm = read_dbm(row(i), value);
      found.read_before_dbm = read_dbm(row(i), prior_.mean);
      found.before_dbm = looked(before_, row(i)).level_dbm;
      found.after_dbm = looked(predicted_, row(i)).level_dbm;
      found.spot_mean_db = looked(predicted_, row(i)).spot_mean_db;
      const double own_db = std::hypot(spread.local_db, spread.spot_db);
      const double open_db2 = std::max(0.0, known.row(i).dot(slopes_.row(i)));
      found.sigma_db = std::sqrt(fit.scale * fit.scale * own_db * own_db + open_db2);
      // Named by what was assumed: of few readings, one far off widens the spread that they show.
      const double named_db = std::min(fit.scale, 1.0) * own_db;
      off.push_back(deviations_off(found, std::sqrt(named_db * named_db + open_db2)));
      found.weight = fit.weight[i];
      found.leverage = fit.leverage[i];
      if (found.kind == ReadingKind::exact) {
        const double was_db = found.read_before_dbm - found.before_dbm;
        before += was_db * was_db;
        after += found.residual_db() * found.residual_db();
        values += 1;
      }
      report.readings.push_back(found);
    }
    if (values > 0) {
      report.rmse_before_db = std::sqrt(before / values);
      report.rmse_after_db = std::sqrt(after / values);
    }
    for (std::size_t i = 0; i < off.size(); ++i) report.readings[i].outlier = outlier(off, i);
  }

  /// A bound lies off only where it is broken.
  static double deviations_off(const CalibratedReading& reading, double sigma_db) {
    const double deviations = reading.residual_db() / sigma_db;
    if (reading.kind == ReadingKind::at_least) return std::max(0.0, deviations);
    return reading.kind == ReadingKind::at_most ? std::min(0.0, deviations) : deviations;
  }

  OutlierReason outlier(const std::vector<double>& off, std::size_t i) const {
    if (std::abs(off[i]) <= kOutlierDeviations) return OutlierReason::none;
    if (off[i] > 0)
      return looked(predicted_, rows_[i]).closed_leaf ? OutlierReason::open_way : OutlierReason::plan;
    int others = 0, low = 0;
    for (std::size_t other = 0; other < off.size(); ++other) {
      if (other == i || rows_[other].job != rows_[i].job) continue;
      if (reading(rows_[other]).device != reading(rows_[i]).device) continue;
      ++others;
      if (off[other] < -1) ++low;
    }
    if (others == 0) return OutlierReason::alone;
    return low == others ? OutlierReason::device : OutlierReason::spot;
  }

  const std::vector<CalibrationJob>& jobs_;
  const CalibrationOptions& options_;
  std::vector<Parameter> parameters_;
  ParameterPrior prior_;
  std::vector<ReadingLinks> links_;
  std::vector<Row> rows_;
  std::vector<std::vector<PredictedReading>> predicted_;
  std::vector<std::vector<PredictedReading>> before_;
  SharedSpread spread_;
  Eigen::MatrixXd slopes_;
};

}  // namespace
}  // namespace calibrating

CalibrationReport calibration(const std::vector<CalibrationJob>& jobs, const CalibrationOptions& options) {
  return calibrating::Calibrating(jobs, options).run();
}

}  // namespace linkmargin

// Learning from readings: 1,000 of one office of 112 walls, and 10 offices with 200 each. Beside the
// program's fit, Eigen's general Levenberg-Marquardt with numerical derivatives finds the mode of the same
// posterior from looks at the sites; the two are held against each other before anything is timed. The naive
// way takes such a look link by link: path_loss() of two points for each reading.

#include "linkmargin/analysis/calibration/calibration.hpp"
#include "linkmargin/analysis/calibration/calibration_fit.hpp"
#include "linkmargin/analysis/calibration/calibration_parameters.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/propagation/fading/heavy_tail.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "doored_office.hpp"
#include "ratio_report.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

using namespace linkmargin;

namespace {

constexpr std::size_t kSide = 7;
constexpr double kLargestM = 5.5 * kSide;

/// An office with one device that is read all over it, each reading 4 dB (one deviation) off the prediction
/// of other walls and another power.
CalibrationJob office(std::uint64_t seed, std::size_t readings) {
  CalibrationJob job{doored_office(kSide, seed), {}};
  Device device;
  device.name = "contact";
  device.profile = "hub";
  device.place = job.site.hubs[0].place;
  job.site.devices = {device};
  Site truth = job.site;
  truth.calibration = Calibration{};
  truth.calibration->offset_db = -5;
  truth.calibration->materials = {{"board", {.shift_db = 1, .sigma_db = 1}}};
  const RandomStream random(seed, 0xCA1);
  const auto rooms = job.site.storeys[0].rooms;
  for (std::uint64_t draw = 0; job.readings.size() < readings; draw += 3) {
    Placement place = device.place;
    place.at = snapped(Point2{kLargestM * random.uniform(draw), kLargestM * random.uniform(draw + 1)});
    if (std::ranges::none_of(rooms, [&](const Room& room) { return contains(room.corners, place.at); }))
      continue;
    Reading reading;
    reading.device = device.name;
    reading.hub = job.site.hubs[0].name;
    reading.level = Dbm{4 * normal_quantile(std::clamp(random.uniform(draw + 2), 1e-9, 1 - 1e-9))};
    reading.place = place;
    job.readings.push_back(reading);
  }
  const auto links = reading_links(truth, job.readings, Doors::armed);
  const auto looked = predict_readings(truth, links.links, 1);
  for (std::size_t i = 0; i < job.readings.size(); ++i)
    job.readings[i].level = Dbm{job.readings[i].level->value + looked[links.of_reading[i]].level_dbm};
  return job;
}

std::vector<CalibrationJob> offices(std::size_t count, std::size_t readings) {
  std::vector<CalibrationJob> jobs;
  for (std::size_t i = 0; i < count; ++i) jobs.push_back(office(7 + i, readings));
  return jobs;
}

/// The posterior of one job as a sum of squares, for a solver that knows nothing of it.
struct Posterior {
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  Posterior(const CalibrationJob& of, const CalibrationReport& found)
      : job(of),
        parameters(calibrating::parameters_of({of})),
        links(reading_links(of.site, of.readings, Doors::armed)) {
    const auto count = static_cast<Eigen::Index>(parameters.size());
    prior.resize(count);
    for (Eigen::Index p = 0; p < count; ++p) prior[p] = parameters[static_cast<std::size_t>(p)].prior;
    std::vector<ReadingSpread> spreads;
    const auto looked = predict_readings(calibrating::site_at(job, 0, parameters, prior), links.links, 1);
    for (const std::size_t link : links.of_reading)
      spreads.push_back(
          {0, looked[link].device, looked[link].hub, looked[link].local_db, looked[link].spot_db});
    const ShadowingCorrelation correlation{found.correlation_m, found.local_share};
    spreads = split_variance(spreads, correlation);
    counted = effective_sigma_db(spreads, correlation.length_m);
    sigma.resize(counted.size());
    for (Eigen::Index i = 0; i < sigma.size(); ++i)
      sigma[i] = found.spread_scale * std::hypot(spreads[static_cast<std::size_t>(i)].local_db,
                                                 spreads[static_cast<std::size_t>(i)].spot_db);
    counted *= found.spread_scale;
  }

  int inputs() const { return static_cast<int>(prior.size()); }
  int values() const { return static_cast<int>(sigma.size() + prior.size()); }

  static double root_of_tail(double deviations) {
    return std::sqrt((kTailFreedom + 1) * std::log1p(deviations * deviations / kTailFreedom));
  }

  int operator()(const Eigen::VectorXd& value, Eigen::VectorXd& squares) const {
    const auto looked = predict_readings(calibrating::site_at(job, 0, parameters, value), links.links, 1);
    for (Eigen::Index i = 0; i < sigma.size(); ++i) {
      const std::size_t at = static_cast<std::size_t>(i);
      const double off = (job.readings[at].level->value - looked[links.of_reading[at]].level_dbm) / sigma[i];
      squares[i] = sigma[i] / counted[i] * std::copysign(root_of_tail(off), off);
    }
    for (Eigen::Index p = 0; p < prior.size(); ++p) {
      const calibrating::Parameter& parameter = parameters[static_cast<std::size_t>(p)];
      const double off = (value[p] - prior[p]) / parameter.sigma;
      const double widen = std::sqrt((kTailFreedom + 1) / kTailFreedom);
      squares[sigma.size() + p] = parameter.heavy_tail ? std::copysign(root_of_tail(off / widen), off) : off;
    }
    return 0;
  }

  const CalibrationJob& job;
  std::vector<calibrating::Parameter> parameters;
  ReadingLinks links;
  Eigen::VectorXd prior, sigma, counted;
};

Eigen::VectorXd by_levenberg_marquardt(const Posterior& posterior) {
  Eigen::NumericalDiff<Posterior> derived(posterior,
                                          1e-8);  // steps of some 1e-4, since losses are given so well
  Eigen::LevenbergMarquardt<Eigen::NumericalDiff<Posterior>> solver(derived);
  solver.parameters.xtol = solver.parameters.ftol = 1e-6;
  Eigen::VectorXd value = posterior.prior;
  solver.minimize(value);
  return value;
}

void fit(benchmark::State& state, std::size_t sites, std::size_t readings) {
  const auto jobs = offices(sites, readings);
  for (auto _ : state) benchmark::DoNotOptimize(calibration(jobs));
}

void levenberg_marquardt(benchmark::State& state) {
  const auto jobs = offices(1, 1000);
  const CalibrationReport found = calibration(jobs, {.tolerance = 1e-4});
  const Posterior posterior(jobs[0], found);
  const Eigen::VectorXd value = by_levenberg_marquardt(posterior);
  for (Eigen::Index p = 0; p < value.size(); ++p) {
    const CalibratedParameter& mine = found.parameters[static_cast<std::size_t>(p)];
    if (std::abs(mine.value - value[p]) > 0.05 * mine.sigma) {
      state.SkipWithError(("disagrees about " + mine.path).c_str());
      return;
    }
  }
  for (auto _ : state) benchmark::DoNotOptimize(by_levenberg_marquardt(posterior));
}

/// One look at all links, each by itself.
void look_link_by_link(benchmark::State& state) {
  const CalibrationJob job = office(7, 1000);
  for (auto _ : state) {
    const Scene scene(job.site, Doors::armed);
    for (const Reading& reading : job.readings)
      benchmark::DoNotOptimize(
          path_loss(scene, job.site.point(*reading.place), job.site.point(job.site.hubs[0].place)));
  }
}

void look_together(benchmark::State& state) {
  const CalibrationJob job = office(7, 1000);
  const auto links = reading_links(job.site, job.readings, Doors::armed);
  for (auto _ : state) benchmark::DoNotOptimize(predict_readings(job.site, links.links, 1));
}

BENCHMARK_CAPTURE(fit, one_site_1000_readings, 1, 1000)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(fit, ten_sites_200_readings, 10, 200)->Unit(benchmark::kMillisecond);
BENCHMARK(levenberg_marquardt)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(look_together)->Unit(benchmark::kMillisecond);
BENCHMARK(look_link_by_link)->Unit(benchmark::kMillisecond)->Iterations(3);

}  // namespace

int main(int argc, char** argv) {
  return run_with_ratios(argc, argv, [](const RatioReporter& times) {
    times.print("calibration, 1,000 readings, against Levenberg-Marquardt", "fit/one_site_1000_readings",
                "levenberg_marquardt/iterations:1");
    times.print("all links predicted, against link by link", "look_together",
                "look_link_by_link/iterations:3");
  });
}

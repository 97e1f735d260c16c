#pragma once

#include "linkmargin/analysis/calibration.hpp"
#include "linkmargin/analysis/reading_advice.hpp"
#include "linkmargin/site/calibration.hpp"

#include "site_fixture.hpp"

#include <string>

/// Calibrations made by hand, for tests of what is said about them.
namespace fixture {

inline Reading percent_of(const std::string& device, double percent, int line) {
  Reading reading;
  reading.device = device;
  reading.percent = percent;
  reading.line = line;
  return reading;
}

/// Two devices on a scale from -100 to 0 dBm, so that a level of -40 dBm reads 60 %.
inline CalibrationJob calibration_job(const std::string& name = "Test yard") {
  CalibrationJob job;
  job.site.name = name;
  job.site.materials = materials();
  job.site.reading = {Dbm{-100}, Dbm{0}, 40};
  job.site.storeys.resize(1);
  job.site.storeys.front().name = "ground";
  for (const char* device : {"till contact", "kiln valve"}) {
    Device made;
    made.name = device;
    job.site.devices.push_back(made);
  }
  job.readings = {percent_of("till contact", 60, 2), percent_of("kiln valve", 30, 3),
                  percent_of("kiln valve", 0, 4), percent_of("till contact", 100, 5)};
  Reading level;
  level.device = "kiln valve";
  level.level = Dbm{-55};
  level.line = 6;
  job.readings.push_back(level);
  return job;
}

inline CalibratedParameter parameter(const std::string& path, double prior, double prior_sigma, double value,
                                     double sigma, std::vector<std::size_t> jobs = {0}) {
  const double left = sigma / prior_sigma;
  return {.path = path,
          .jobs = std::move(jobs),
          .prior = prior,
          .prior_sigma = prior_sigma,
          .value = value,
          .sigma = sigma,
          .informed = 1 - left * left};
}

inline CalibratedReading calibrated(std::size_t reading, ReadingKind kind, double read_dbm, double before_dbm,
                                    double after_dbm) {
  return {.reading = reading,
          .hub = "hall hub",
          .kind = kind,
          .read_dbm = read_dbm,
          .read_before_dbm = read_dbm,
          .before_dbm = before_dbm,
          .after_dbm = after_dbm,
          .sigma_db = 5,
          .weight = 1,
          .leverage = 0.25};
}

/// Of one calibration_job(): brick and the offset are told, the exponent and the steel are not; the second
/// reading is an outlier, the third and fourth are bounds.
inline CalibrationReport calibration_report(const CalibrationJob& job) {
  CalibrationReport report;
  report.parameters = {
      parameter(kOffsetPointer, 0, 6, -3.4, 1.2), parameter(kExponentPointer, 2, 0.22, 2, 0.22),
      parameter(shift_pointer("brick"), 0, 1.8, 2.1, 0.9), parameter(shift_pointer("steel"), 0, 3, 0, 3)};
  report.pairs = {{0, 2, 0.91}};
  report.readings = {
      calibrated(0, ReadingKind::exact, -40, -44, -41), calibrated(1, ReadingKind::exact, -70, -48, -50),
      calibrated(2, ReadingKind::at_most, -100, -50, -110), calibrated(3, ReadingKind::at_least, 0, -5, -4),
      calibrated(4, ReadingKind::exact, -55, -50, -52)};
  report.readings[1].outlier = OutlierReason::spot;
  report.readings[1].weight = 0.21;
  report.sites = {job.site};
  report.rmse_before_db = 13.3;
  report.rmse_after_db = 11.7;
  report.correlation_m = 2;
  return report;
}

inline AdvisedReading advised(const std::string& device, double doubt, double deviation_db) {
  AdvisedReading reading;
  reading.device = device;
  reading.hub = "hall hub";
  reading.doubt = doubt;
  reading.deviation_db = deviation_db;
  return reading;
}

inline std::vector<ReadingAdvice> calibration_advice() {
  ReadingAdvice advice;
  advice.doubt = 1.5;
  advice.deviation_db = 5.5;
  advice.readings = {advised("kiln valve", 1.25, 4.5), advised("till contact", 1.125, 4),
                     advised("kiln valve", 1, 3.75)};
  advice.readings[1].place = Placement{0, {1.5, 2.5}, 1};
  advice.readings[2].again = true;
  return {advice};
}

}  // namespace fixture

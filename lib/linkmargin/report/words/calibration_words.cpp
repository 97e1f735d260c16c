#include "linkmargin/report/words/calibration_words.hpp"

#include "linkmargin/analysis/calibration/learned_materials.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/site/calibration.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr double kNothingDb = 0.05;  // shown as 0.0
constexpr std::size_t kSitesNamed = 3;

std::string decibels(double db) {
  return with_unit(std::abs(db), 1, "dB");
}

/// "2.1 dB more than its table says"
std::string shift_words(double shift_db) {
  if (std::abs(shift_db) < kNothingDb) return "what its table says";
  return decibels(shift_db) + (shift_db > 0 ? " more" : " less") + " than its table says";
}

std::string material_words(const CalibratedParameter& parameter) {
  const std::string known = std::abs(parameter.prior) < kNothingDb
                                ? std::string()
                                : ", where " + shift_words(parameter.prior) + " was known before";
  return loss_name(parameter) + " loses " + shift_words(parameter.value) + known;
}

std::string offset_words(const CalibratedParameter& parameter) {
  const auto words = [](double db) {
    return std::abs(db) < kNothingDb
               ? std::string("what data sheets and tables make it")
               : decibels(db) + (db < 0 ? " lower" : " higher") + " than data sheets and tables make it";
  };
  return "every level is " + words(parameter.value) +
         (std::abs(parameter.prior) < kNothingDb ? "" : ", where it was " + words(parameter.prior));
}

std::string exponent_words(const CalibratedParameter& parameter) {
  const std::string now = fixed_text(parameter.value, 2);
  const std::string before = fixed_text(parameter.prior, 2);
  if (now == before) return "the level falls with distance as assumed, by the exponent " + now;
  return std::string("the level falls ") + (parameter.value > parameter.prior ? "faster" : "slower") +
         " with distance, by the exponent " + now + " instead of " + before;
}

std::string scale_words(const CalibratedParameter& parameter, const char* share) {
  const std::string now = with_unit(parameter.value, 1, "dBm");
  const std::string before = with_unit(parameter.prior, 1, "dBm");
  return std::string(share) + " is shown at " + now +
         (now == before ? ", as assumed" : " instead of " + before);
}

std::string taught_words(const CalibratedParameter& parameter) {
  if (parameter.path == kOffsetPointer) return offset_words(parameter);
  if (parameter.path == kExponentPointer) return exponent_words(parameter);
  if (parameter.path == kZeroPointer) return scale_words(parameter, "0 %");
  if (parameter.path == kFullPointer) return scale_words(parameter, "100 %");
  return material_words(parameter);
}

}  // namespace

const Reading& reading_of(const std::vector<CalibrationJob>& jobs, const CalibratedReading& found) {
  return jobs.at(found.job).readings.at(found.reading);
}

std::string site_words(const std::vector<CalibrationJob>& jobs, std::size_t job) {
  const std::string& name = jobs.at(job).site.name;
  const auto same = std::ranges::count(jobs, name, [](const CalibrationJob& one) { return one.site.name; });
  return quoted_name(name) + (same > 1 ? " (pair " + std::to_string(job + 1) + ")" : "");
}

std::string at_sites(const std::vector<CalibrationJob>& jobs, const CalibratedParameter& parameter) {
  if (parameter.jobs.size() == jobs.size()) return {};
  std::vector<std::string> names;
  for (const std::size_t job : parameter.jobs) names.push_back(site_words(jobs, job));
  return " at " + listed(names, kSitesNamed);
}

std::string loss_name(const CalibratedParameter& parameter) {
  const auto material = shifted_material(parameter.path);
  return material ? quoted_name(*material) : std::string();
}

std::string parameter_name(const CalibratedParameter& parameter) {
  if (parameter.path == kOffsetPointer) return "the offset of all levels";
  if (parameter.path == kExponentPointer) return "the exponent of distance";
  if (parameter.path == kZeroPointer) return "the level of 0 %";
  if (parameter.path == kFullPointer) return "the level of 100 %";
  return "the loss of " + loss_name(parameter);
}

std::string parameter_words(const CalibratedParameter& parameter) {
  const bool exponent = parameter.path == kExponentPointer;
  const auto spread = [&](double sigma) {
    return exponent ? fixed_text(sigma, 2) : with_unit(sigma, 1, "dB");
  };
  return taught_words(parameter) + ", give or take " + spread(parameter.sigma) + " (" +
         spread(parameter.prior_sigma) + " before)";
}

std::string begun(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

std::string pair_words(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                       const CalibratedPair& pair) {
  const auto end = [&](std::size_t position) {
    const CalibratedParameter& parameter = report.parameters.at(position);
    return parameter_name(parameter) + at_sites(jobs, parameter);
  };
  return "The readings hardly part " + end(pair.first) + " from " + end(pair.second) +
         ": what one has too much, the other makes up for.";
}

std::string row_words(const std::vector<CalibrationJob>& jobs, const CalibratedReading& found) {
  const Reading& reading = reading_of(jobs, found);
  const std::string row = reading.line > 0 ? "line " + std::to_string(reading.line)
                                           : "reading " + std::to_string(found.reading + 1);
  return row + (jobs.size() > 1 ? " of " + site_words(jobs, found.job) : "") + ", " +
         quoted_name(reading.device);
}

std::string read_words(const Reading& reading) {
  const double shown = reading.percent ? *reading.percent : reading.level->value;
  return with_unit(shown, shown == std::round(shown) ? 0 : 1, reading.percent ? "%" : "dBm");
}

std::string expected_words(const Reading& reading, const ReadingScale& scale, double level_dbm) {
  if (!reading.percent) return with_unit(level_dbm, 0, "dBm");
  return with_unit(whole_percent(reading_percent(scale, Dbm{level_dbm}), scale.weak_below_percent), 0, "%");
}

std::optional<double> off_db(const CalibratedReading& found) {
  const double db = found.residual_db();
  const bool held =
      (found.kind == ReadingKind::at_most && db >= 0) || (found.kind == ReadingKind::at_least && db <= 0);
  return held ? std::nullopt : std::optional(db);
}

std::string outlier_word(OutlierReason reason) {
  switch (reason) {
    case OutlierReason::none:
      return {};
    case OutlierReason::spot:
      return "spot";
    case OutlierReason::device:
      return "device";
    case OutlierReason::alone:
      return "alone";
    case OutlierReason::open_way:
      return "open_way";
    case OutlierReason::plan:
      return "plan";
  }
  return {};
}

std::string look_words(OutlierReason reason) {
  switch (reason) {
    case OutlierReason::none:
      return {};
    case OutlierReason::spot:
      return "Others of this device are not so low: a fade at that spot, a hand on the device, or the hub's "
             "aerial covered. Read again some centimetres beside.";
    case OutlierReason::device:
      return "All readings of this device are low: look at its battery, its aerial and metal behind it, and "
             "whether it hangs where the plan says and is enrolled under this name.";
    case OutlierReason::alone:
      return "The device has no other reading: read again some centimetres beside. If it stays as low, look "
             "at battery, aerial, metal behind it and its enrolment, then for a wall that the plan lacks.";
    case OutlierReason::open_way:
      return "A door, gate or window on the way was taken to be closed: if it stood open, say so in the "
             "column "
             "'doors' and calibrate again. Else look whether the leaf is what the plan says.";
    case OutlierReason::plan:
      return "No door on the way explains it: the plan has more wall than the building, or the reading is of "
             "another device: look at the enrolment.";
  }
  return {};
}

std::string outlier_words(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                          const CalibratedReading& found) {
  const Reading& reading = reading_of(jobs, found);
  const double off = found.residual_db();
  return read_words(reading) + " read, " +
         expected_words(reading, report.sites.at(found.job).reading, found.after_dbm) +
         " expected: " + decibels(off) + (off < 0 ? " too low" : " too high") + ". It counted for " +
         fixed_text(100 * std::clamp(found.weight, 0.0, 1.0), 0) + " % of a reading.";
}

std::string advised_words(const Site& site, const AdvisedReading& advised) {
  const std::string device = quoted_name(advised.device);
  std::string where = "Read " + device + " where it hangs";
  if (advised.again) {
    constexpr double cm_per_m = 100;
    const double half_wave_m = wavelength_m(site.radio.frequency_hz) / 2;
    where = "Read " + device + " again, " + with_unit(cm_per_m * half_wave_m, 0, "cm") + " beside";
  }
  if (advised.place) {
    const Placement& place = *advised.place;
    where = "Carry " + device + " to (" + fixed_text(place.at.x, 1) + ", " + fixed_text(place.at.y, 1) +
            "), storey " + quoted_name(site.storeys.at(place.storey).name) + ", " +
            with_unit(place.height_m, 1, "m") + " high, and read it there" + (advised.again ? " again" : "");
  }
  return where + ", with hub " + quoted_name(advised.hub) + ": then " + fixed_text(advised.doubt, 2) +
         " are to be expected, and levels are known to " + with_unit(advised.deviation_db, 1, "dB") + ".";
}

std::size_t count_values(const CalibrationReport& report) {
  return static_cast<std::size_t>(
      std::ranges::count(report.readings, ReadingKind::exact, &CalibratedReading::kind));
}

std::string misfit_words(const CalibrationReport& report) {
  if (count_values(report) == 0) return {};
  return "off by " + with_unit(report.rmse_before_db, 1, "dB") + " before, " +
         with_unit(report.rmse_after_db, 1, "dB") + " now";
}

std::vector<std::string> calibration_warnings(const std::vector<CalibrationJob>& jobs,
                                              const CalibrationReport& report) {
  std::vector<std::string> warnings = report.warnings;
  if (report.stop == CalibrationStop::max_iterations)
    warnings.push_back("the search stopped before the values settled: look at them twice");
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    if (!jobs[job].site.calibration) continue;
    warnings.push_back(site_words(jobs, job) +
                       " carries a calibration already: this one adds to it. Give only readings that it was "
                       "not learned from; the same ones again make it surer than it is");
  }
  const bool learned = std::ranges::any_of(jobs, [](const CalibrationJob& job) {
    return std::ranges::any_of(job.site.materials,
                               [](const auto& row) { return row.second.learned.has_value(); });
  });
  if (learned) {
    warnings.push_back(
        "the file of materials brings walls that were learned: give only readings that they were not learned "
        "from");
  }
  if (count_values(report) > 0) {
    warnings.push_back(
        "what is off now is told on the very readings that taught it, which flatters: others lie "
        "farther off");
  }
  return warnings;
}

double interval_deviations() {
  constexpr double upper = 0.95;
  return normal_quantile(upper);
}

}  // namespace linkmargin

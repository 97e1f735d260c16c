#include "linkmargin/report/words/calibration_words.hpp"

#include "linkmargin/analysis/calibration/learned_materials.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/site/calibration.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

using Jobs = std::vector<CalibrationJob>;

constexpr double kNothingDb = 0.05;  // shown as 0.0
constexpr std::size_t kSitesNamed = 3;

/// What stands in keys of the catalogue for what a parameter is.
std::string parameter_key(const CalibratedParameter& parameter) {
  if (parameter.path == kOffsetPointer) return "offset";
  if (parameter.path == kExponentPointer) return "exponent";
  if (parameter.path == kZeroPointer) return "zero";
  if (parameter.path == kFullPointer) return "full";
  if (radio_with_offset(parameter.path)) return "radio";
  return "loss";
}

/// "+1.2 dB"
std::string signed_decibels(const Wording& wording, double db) {
  if (std::abs(db) < kNothingDb) return wording.decibels(0);
  return (db > 0 ? "+" : "") + wording.decibels(db);
}

std::string radio_words(const Wording& wording, const CalibratedParameter& parameter) {
  const auto radio = radio_with_offset(parameter.path);
  return radio ? wording.name(*radio) : std::string();
}

/// Which sentence tells how a parameter was found.
std::string finding_key(const Wording& wording, const CalibratedParameter& parameter) {
  const std::string kind = parameter_key(parameter);
  const double value = parameter.value, prior = parameter.prior;
  if (kind == "offset" || kind == "loss" || kind == "radio") {
    const std::string subject = kind == "offset" ? "levels" : kind;
    if (std::abs(prior) >= kNothingDb) return subject + "_again";
    if (std::abs(value) < kNothingDb) return subject + "_same";
    return subject + (value > 0 ? "_higher" : "_lower");
  }
  if (value_words(wording, parameter, value) == value_words(wording, parameter, prior)) return kind + "_same";
  if (kind != "exponent") return kind + "_moved";
  return kind + (value > prior ? "_faster" : "_slower");
}

/// "{text}", or "Quay cottage: {text}" of what does not play everywhere.
std::string with_where(const Wording& wording, const Jobs& jobs, const CalibratedParameter& parameter,
                       std::string text) {
  const std::string sites = where_words(wording, jobs, parameter);
  if (sites.empty()) return text;
  return wording.say("calibrate.at_site", {{"sites", sites}, {"text", std::move(text)}});
}

/// Whether several of the jobs go by its site's name.
bool shares_its_name(const std::vector<CalibrationJob>& jobs, std::size_t job) {
  const auto name_of = [](const CalibrationJob& one) { return one.site.name; };
  return std::ranges::count(jobs, jobs.at(job).site.name, name_of) > 1;
}

}  // namespace

const Reading& reading_of(const Jobs& jobs, const CalibratedReading& found) {
  return jobs.at(found.job).readings.at(found.reading);
}

std::string site_words(const Wording& wording, const Jobs& jobs, std::size_t job) {
  const std::string& name = jobs.at(job).site.name;
  const auto same = std::ranges::count(jobs, name, [](const CalibrationJob& one) { return one.site.name; });
  if (same <= 1) return wording.name(name);
  return wording.say("calibrate.site_pair",
                     {{"site", wording.name(name)}, {"pair", std::to_string(job + 1)}});
}

std::string sites_words(const Wording& wording, const Jobs& jobs) {
  return jobs.size() == 1 ? wording.name(jobs.front().site.name)
                          : wording.counted("calibrate.sites", jobs.size());
}

std::string where_words(const Wording& wording, const Jobs& jobs, const CalibratedParameter& parameter) {
  if (parameter.jobs.size() == jobs.size()) return {};
  std::vector<std::string> names;
  for (const std::size_t job : parameter.jobs) names.push_back(site_words(wording, jobs, job));
  return wording.listed(names, kSitesNamed);
}

std::string material_words(const Wording& wording, const CalibratedParameter& parameter) {
  const auto material = shifted_material(parameter.path);
  return material ? wording.name(wording.language().material(*material)) : std::string();
}

std::string unknown_words(const Wording& wording, const CalibratedParameter& parameter) {
  return wording.say(
      "calibrate.unknown." + parameter_key(parameter),
      {{"material", material_words(wording, parameter)}, {"radio", radio_words(wording, parameter)}});
}

std::string value_words(const Wording& wording, const CalibratedParameter& parameter, double value) {
  const std::string kind = parameter_key(parameter);
  if (kind == "exponent") return wording.number(value, 2);
  if (kind == "zero" || kind == "full") return wording.with_unit(value, 1, "dBm");
  return signed_decibels(wording, value);
}

std::string sigma_words(const Wording& wording, const CalibratedParameter& parameter, double sigma) {
  return parameter.path == kExponentPointer ? wording.number(sigma, 2) : wording.decibels(sigma);
}

std::string finding_words(const Wording& wording, const Jobs& jobs, const CalibratedParameter& parameter) {
  return with_where(wording, jobs, parameter,
                    wording.say("calibrate.finding." + finding_key(wording, parameter),
                                {{"material", material_words(wording, parameter)},
                                 {"radio", radio_words(wording, parameter)},
                                 {"by", wording.decibels(std::abs(parameter.value))},
                                 {"now", value_words(wording, parameter, parameter.value)},
                                 {"before", value_words(wording, parameter, parameter.prior)},
                                 {"sigma", sigma_words(wording, parameter, parameter.sigma)},
                                 {"prior_sigma", sigma_words(wording, parameter, parameter.prior_sigma)}}));
}

std::string pair_words(const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                       const CalibratedPair& pair) {
  const auto end = [&](std::size_t position) {
    const CalibratedParameter& parameter = report.parameters.at(position);
    const std::string sites = where_words(wording, jobs, parameter);
    const std::string unknown = unknown_words(wording, parameter);
    if (sites.empty()) return unknown;
    return wording.say("calibrate.unknown.at_sites", {{"unknown", unknown}, {"sites", sites}});
  };
  return wording.say("calibrate.open.pair", {{"first", end(pair.first)}, {"second", end(pair.second)}});
}

std::string row_words(const Wording& wording, const Jobs& jobs, const CalibratedReading& found) {
  const Reading& reading = reading_of(jobs, found);
  const std::string key = std::string("calibrate.row.") + (reading.line > 0 ? "line" : "reading") +
                          (jobs.size() > 1 ? "_at" : "");
  return wording.say(key, {{"line", std::to_string(reading.line)},
                           {"number", std::to_string(found.reading + 1)},
                           {"site", site_words(wording, jobs, found.job)},
                           {"device", wording.name(reading.device)}});
}

std::string read_words(const Wording& wording, const Reading& reading) {
  const double shown = reading.percent ? *reading.percent : reading.level->value;
  return wording.with_unit(shown, shown == std::round(shown) ? 0 : 1, reading.percent ? "%" : "dBm");
}

std::string expected_words(const Wording& wording, const Reading& reading, const ReadingScale& scale,
                           double level_dbm) {
  if (!reading.percent) return wording.with_unit(level_dbm, 0, "dBm");
  return wording.with_unit(whole_percent(reading_percent(scale, Dbm{level_dbm}), scale.weak_below_percent), 0,
                           "%");
}

std::optional<double> off_db(const CalibratedReading& found) {
  const double db = found.residual_db();
  const bool held =
      (found.kind == ReadingKind::at_most && db >= 0) || (found.kind == ReadingKind::at_least && db <= 0);
  return held ? std::nullopt : std::optional(db);
}

std::string outlier_code(OutlierReason reason) {
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

std::string look_words(const Wording& wording, OutlierReason reason) {
  return reason == OutlierReason::none ? std::string()
                                       : wording.say("calibrate.look." + outlier_code(reason));
}

std::string outlier_words(const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                          const CalibratedReading& found) {
  const Reading& reading = reading_of(jobs, found);
  const double off = found.residual_db();
  return wording.say(off < 0 ? "calibrate.outlier.low" : "calibrate.outlier.high",
                     {{"read", read_words(wording, reading)},
                      {"expected", expected_words(wording, reading, report.sites.at(found.job).reading,
                                                  found.after_dbm - found.spot_mean_db)},
                      {"by", wording.decibels(std::abs(off))},
                      {"share", wording.number(100 * std::clamp(found.weight, 0.0, 1.0), 0)}});
}

std::string advised_words(const Wording& wording, const Site& site, const AdvisedReading& advised) {
  std::string place;
  if (advised.place) {
    const auto to_decimetres = [](double metres) { return std::round(10 * metres) / 10; };
    Placement near = *advised.place;
    near.at = {to_decimetres(near.at.x), to_decimetres(near.at.y)};
    near.height_m = to_decimetres(near.height_m);
    place = wording.place(site, near);
  }
  const char* key = advised.place ? (advised.again ? "calibrate.next.carry_again" : "calibrate.next.carry")
                                  : (advised.again ? "calibrate.next.again" : "calibrate.next.there");
  const std::string hub = site.hubs.size() == 1
                              ? wording.say("hub.only")
                              : wording.say("hub.named", {{"hub", wording.name(advised.hub)}});
  return wording.say(key, {{"device", wording.name(advised.device)},
                           {"hub", hub},
                           {"far", wording.length(wavelength_m(site.radio.frequency_hz) / 2)},
                           {"place", place},
                           {"doubt", wording.number(advised.doubt, 2)},
                           {"deviation", wording.decibels(advised.deviation_db)}});
}

std::size_t count_values(const CalibrationReport& report) {
  return static_cast<std::size_t>(
      std::ranges::count(report.readings, ReadingKind::exact, &CalibratedReading::kind));
}

std::string misfit_words(const Wording& wording, const CalibrationReport& report) {
  double before = 0, now = 0;
  std::size_t kept = 0, outliers = 0;
  for (const CalibratedReading& found : report.readings) {
    if (found.kind != ReadingKind::exact) continue;
    if (found.outlier != OutlierReason::none) {
      ++outliers;
      continue;
    }
    const double was_db = found.read_before_dbm - found.before_dbm;
    before += was_db * was_db;
    now += found.residual_db() * found.residual_db();
    ++kept;
  }
  if (kept + outliers == 0) return {};
  const bool without = outliers > 0 && kept > 0;
  const double count = static_cast<double>(kept);
  const Language::Place then{"before",
                             wording.decibels(without ? std::sqrt(before / count) : report.rmse_before_db)};
  const Language::Place today{"now",
                              wording.decibels(without ? std::sqrt(now / count) : report.rmse_after_db)};
  return without ? wording.counted("calibrate.verdict.misfit_without", outliers, {then, today})
                 : wording.say("calibrate.verdict.misfit", {then, today});
}

std::vector<Warning> calibration_warnings(const std::vector<CalibrationJob>& jobs,
                                          const CalibrationReport& report) {
  std::vector<Warning> warnings = report.warnings;
  if (report.stop == CalibrationStop::max_iterations)
    warnings.push_back({.code = WarningCode::search_unsettled});
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    if (!jobs[job].site.calibration) continue;
    Warning warning{.code = WarningCode::calibrated_before,
                    .arguments = {{"site", Quoted{jobs[job].site.name}}}};
    if (shares_its_name(jobs, job)) {
      warning.code = WarningCode::calibrated_before_pair;
      warning.arguments.push_back({"pair", std::to_string(job + 1)});
    }
    warnings.push_back(std::move(warning));
  }
  const bool learned = std::ranges::any_of(jobs, [](const CalibrationJob& job) {
    return std::ranges::any_of(job.site.materials,
                               [](const auto& row) { return row.second.learned.has_value(); });
  });
  if (learned) warnings.push_back({.code = WarningCode::learned_walls_given});
  if (count_values(report) > 0) warnings.push_back({.code = WarningCode::misfit_flatters});
  return warnings;
}

double interval_deviations() {
  constexpr double upper = 0.95;
  return normal_quantile(upper);
}

}  // namespace linkmargin

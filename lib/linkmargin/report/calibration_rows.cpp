#include "linkmargin/report/calibration_report.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/calibration_words.hpp"

namespace linkmargin {
namespace {

using Jobs = std::vector<CalibrationJob>;

std::string kind_word(ReadingKind kind) {
  switch (kind) {
    case ReadingKind::exact:
      return "value";
    case ReadingKind::at_most:
      return "at_most";
    case ReadingKind::at_least:
      return "at_least";
  }
  return {};
}

double edge_dbm(const CalibratedReading& found, double side) {
  return found.after_dbm + side * interval_deviations() * found.sigma_db;
}

/// Empty for a reading that is no outlier.
std::string outlier_text(const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                         const CalibratedReading& found) {
  if (found.outlier == OutlierReason::none) return {};
  return outlier_words(wording, jobs, report, found) + " " + look_words(wording, found.outlier);
}

json::Value site_names(const Jobs& jobs, const std::vector<std::size_t>& positions) {
  json::Value names = json::Value::array();
  for (const std::size_t job : positions) names.push_back(jobs[job].site.name);
  return names;
}

json::Value sites_json(const Jobs& jobs) {
  json::Value sites = json::Value::array();
  for (const CalibrationJob& job : jobs)
    sites.push_back({{"site", job.site.name}, {"readings", job.readings.size()}});
  return sites;
}

json::Value parameters_json(const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  json::Value parameters = json::Value::array();
  for (const CalibratedParameter& parameter : report.parameters) {
    parameters.push_back({{"path", parameter.path},
                          {"sites", site_names(jobs, parameter.jobs)},
                          {"prior", json::number(parameter.prior)},
                          {"prior_sigma", json::number(parameter.prior_sigma)},
                          {"value", json::number(parameter.value)},
                          {"sigma", json::number(parameter.sigma)},
                          {"informed", json::number(parameter.variance_reduction)},
                          {"told", parameter.is_informed()},
                          {"text", finding_words(wording, jobs, parameter)}});
  }
  return parameters;
}

json::Value pairs_json(const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  json::Value pairs = json::Value::array();
  for (const CalibratedPair& pair : report.pairs) {
    const auto end = [&](std::size_t position) {
      const CalibratedParameter& parameter = report.parameters[position];
      return json::Value{{"path", parameter.path}, {"sites", site_names(jobs, parameter.jobs)}};
    };
    pairs.push_back({{"first", end(pair.first)},
                     {"second", end(pair.second)},
                     {"correlation", json::number(pair.correlation)},
                     {"text", pair_words(wording, jobs, report, pair)}});
  }
  return pairs;
}

json::Value readings_json(const Jobs& jobs, const CalibrationReport& report) {
  json::Value readings = json::Value::array();
  for (const CalibratedReading& found : report.readings) {
    const Reading& reading = reading_of(jobs, found);
    readings.push_back(
        {{"site", jobs[found.job].site.name},
         {"row", reading.line},
         {"device", reading.device},
         {"hub", found.hub},
         {"kind", kind_word(found.kind)},
         {"reading_percent", reading.percent ? json::number(*reading.percent) : json::Value(nullptr)},
         {"read_dbm", json::number(found.read_dbm)},
         {"before_dbm", json::number(found.before_dbm)},
         {"after_dbm", json::number(found.after_dbm)},
         {"low_dbm", json::number(edge_dbm(found, -1))},
         {"high_dbm", json::number(edge_dbm(found, 1))},
         {"residual_db", json::number(found.residual_db())},
         {"sigma_db", json::number(found.sigma_db)},
         {"weight", json::number(found.weight)},
         {"leverage", json::number(found.leverage)}});
  }
  return readings;
}

json::Value outliers_json(const Wording& wording, const Jobs& jobs, const CalibrationReport& report) {
  json::Value outliers = json::Value::array();
  for (const CalibratedReading& found : report.readings) {
    if (found.outlier == OutlierReason::none) continue;
    const Reading& reading = reading_of(jobs, found);
    outliers.push_back({{"site", jobs[found.job].site.name},
                        {"row", reading.line},
                        {"device", reading.device},
                        {"residual_db", json::number(found.residual_db())},
                        {"reason", outlier_code(found.outlier)},
                        {"text", outlier_text(wording, jobs, report, found)}});
  }
  return outliers;
}

json::Value advised_json(const Wording& wording, const Site& site, const AdvisedReading& advised) {
  json::Value value{{"device", advised.device},
                    {"hub", advised.hub},
                    {"storey", nullptr},
                    {"again", advised.again},
                    {"at_m", nullptr},
                    {"height_m", nullptr},
                    {"doubt", json::number(advised.doubt)},
                    {"deviation_db", json::number(advised.deviation_db)},
                    {"text", advised_words(wording, site, advised)}};
  if (advised.place) {
    value["storey"] = site.storeys.at(advised.place->storey).name;
    value["at_m"] = {json::number(advised.place->at.x), json::number(advised.place->at.y)};
    value["height_m"] = json::number(advised.place->height_m);
  }
  return value;
}

json::Value advice_json(const Wording& wording, const Jobs& jobs, const CalibrationReport& report,
                        const std::vector<ReadingAdvice>& advice) {
  json::Value all = json::Value::array();
  for (std::size_t job = 0; job < advice.size(); ++job) {
    json::Value readings = json::Value::array();
    for (const AdvisedReading& advised : advice[job].readings)
      readings.push_back(advised_json(wording, report.sites.at(job), advised));
    all.push_back({{"site", jobs.at(job).site.name},
                   {"doubt", json::number(advice[job].doubt)},
                   {"deviation_db", json::number(advice[job].deviation_db)},
                   {"readings", std::move(readings)}});
  }
  return all;
}

json::Value held_back_json(const std::optional<HoldOut>& held) {
  if (!held) return nullptr;
  return {{"readings", held->readings},
          {"rmse_before_db", json::number(held->rmse_before_db)},
          {"rmse_after_db", json::number(held->rmse_after_db)},
          {"inside_percent", json::number(held->inside_percent)}};
}

}  // namespace

Table calibration_rows(const Language& language, const Jobs& jobs, const CalibrationReport& report) {
  const Wording wording(language);
  Table table;
  for (const char* key :
       {"site", "row", "device", "hub", "kind", "reading_percent", "read_dbm", "before_dbm", "after_dbm",
        "low_dbm", "high_dbm", "residual_db", "sigma_db", "weight", "leverage", "outlier", "text"}) {
    table.columns.push_back({.key = key});
  }
  for (const CalibratedReading& found : report.readings) {
    const Reading& reading = reading_of(jobs, found);
    table.rows.push_back({{{jobs[found.job].site.name},
                           {static_cast<double>(reading.line)},
                           {reading.device},
                           {found.hub},
                           {kind_word(found.kind)},
                           reading.percent ? Cell{*reading.percent} : Cell{},
                           {found.read_dbm},
                           {found.before_dbm},
                           {found.after_dbm},
                           {edge_dbm(found, -1)},
                           {edge_dbm(found, 1)},
                           {found.residual_db()},
                           {found.sigma_db},
                           {found.weight},
                           {found.leverage},
                           {outlier_code(found.outlier)},
                           {outlier_text(wording, jobs, report, found)}}});
  }
  return table;
}

std::string calibration_json(const Language& language, const Jobs& jobs, const CalibrationReport& report,
                             const std::vector<ReadingAdvice>& advice, const CalibrationNotes& notes) {
  const Wording wording(language);
  const bool values = count_values(report) > 0;
  const auto misfit = [&](double db) { return values ? json::number(db) : json::Value(nullptr); };
  std::vector<Warning> cautions = calibration_warnings(jobs, report);
  cautions.insert(cautions.end(), notes.cautions.begin(), notes.cautions.end());
  const bool settled = report.stop == CalibrationStop::converged;
  return json::text({{"sites", sites_json(jobs)},
                     {"parameters", parameters_json(wording, jobs, report)},
                     {"pairs", pairs_json(wording, jobs, report)},
                     {"rmse_before_db", misfit(report.rmse_before_db)},
                     {"rmse_after_db", misfit(report.rmse_after_db)},
                     {"held_back", held_back_json(notes.held_back)},
                     {"spread_scale", json::number(report.spread_scale)},
                     {"correlation_m", json::number(report.correlation_m)},
                     {"stop", settled ? "converged" : "most_looks"},
                     {"readings", readings_json(jobs, report)},
                     {"outliers", outliers_json(wording, jobs, report)},
                     {"advice", advice_json(wording, jobs, report, advice)},
                     {"cautions", json::warnings(language, cautions)},
                     {"files", notes.files}});
}

}  // namespace linkmargin

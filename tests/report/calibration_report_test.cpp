#include "linkmargin/report/calibration_report.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"

#include "fixtures/calibration_fixture.hpp"
#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace linkmargin;
using fixture::said;

namespace {

std::string counted(std::string_view key, std::size_t count, Language::Places places = {}) {
  return fixture::english().counted(key, count, places);
}

/// Line breaks of a text as blanks, so that where it is wrapped does not matter.
std::string unwrapped(const std::string& text) {
  std::string flat;
  std::istringstream words(text);
  for (std::string word; words >> word;) flat += (flat.empty() ? "" : " ") + word;
  return flat;
}

struct Case {
  std::vector<CalibrationJob> jobs{fixture::calibration_job()};
  CalibrationReport report = fixture::calibration_report(jobs.front());
  std::vector<ReadingAdvice> advice;

  std::string text() const {
    return unwrapped(write_text(calibration_document(fixture::english(), jobs, report, advice)));
  }
  nlohmann::json json() const {
    return nlohmann::json::parse(calibration_json(fixture::english(), jobs, report, advice));
  }
};

}  // namespace

TEST_CASE("what was pinned down, what moved, and what stays open") {
  const std::string text = Case().text();
  const std::string brick =
      said("calibrate.finding.loss_higher",
           {{"material", "brick"}, {"by", "2.1 dB"}, {"sigma", "0.9 dB"}, {"prior_sigma", "1.8 dB"}});
  for (const std::string& part :
       {std::string("Test yard"),
        counted("calibrate.verdict.pinned", 5, {{"pinned", "2"}, {"unknowns", "4"}}),
        counted("calibrate.verdict.misfit_without", 1, {{"now", "2.2 dB"}, {"before", "4.5 dB"}}),
        counted("calibrate.limits", 2),
        said("calibrate.finding.levels_lower",
             {{"by", "3.4 dB"}, {"sigma", "1.2 dB"}, {"prior_sigma", "6.0 dB"}}),
        brick, std::string("offset of all levels 0.0 dB -3.4 dB 1.2 dB 6.0 dB"),
        std::string("loss of brick 0.0 dB +2.1 dB 0.9 dB 1.8 dB"),
        counted("calibrate.open.values", 1, {{"names", said("calibrate.unknown.exponent")}}),
        counted("calibrate.open.losses", 1, {{"names", "steel"}}),
        said("calibrate.open.pair",
             {{"first", said("calibrate.unknown.offset")}, {"second", "loss of brick"}}),
        said("warning.misfit_flatters"), said("caution.short.reading_decides"),
        said("caution.short.detectors_stay")}) {
    CAPTURE(part);
    CHECK(has(text, part));
  }
  CHECK(!has(text, said("warning.calibrated_before", {{"site", "'Test yard'"}})));
  CHECK(!has(text, said("calibrate.next.title")));
  CHECK(!has(text, said("calibrate.changed.nothing_else")));  // all that was pinned down moved
}

TEST_CASE("what was pinned down where it was believed to be is no finding") {
  Case still;
  still.report.parameters[0] = fixture::parameter(kOffsetPointer, 0, 6, 1, 1.2);
  CHECK(has(still.text(), said("calibrate.changed.nothing_else")));
  still.report.parameters[2] = fixture::parameter(shift_pointer("brick"), 0, 1.8, -0.8, 0.9);
  CHECK(has(still.text(), said("calibrate.changed.nothing")));
  CHECK(has(still.text(), "loss of brick 0.0 dB -0.8 dB"));
}

TEST_CASE("each parameter in its own words and unit, both ways and unchanged") {
  const auto words = [](const CalibratedParameter& parameter) {
    Case one;
    one.report.parameters = {parameter};
    one.report.pairs.clear();
    return one.json()["parameters"][0]["text"].get<std::string>();
  };
  const auto finding = [](const std::string& which, const std::string& now, const std::string& before,
                          const std::string& sigma, const std::string& prior_sigma) {
    return said("calibrate.finding." + which, {{"now", now},
                                               {"before", before},
                                               {"by", now},
                                               {"sigma", sigma},
                                               {"prior_sigma", prior_sigma},
                                               {"material", "a/b~c"}});
  };
  using fixture::parameter;
  CHECK(words(parameter(kOffsetPointer, 0, 6, 0.04, 1)) ==
        finding("levels_same", "", "", "1.0 dB", "6.0 dB"));
  CHECK(words(parameter(kOffsetPointer, -2, 3, 1, 1)) ==
        finding("levels_again", "+1.0 dB", "-2.0 dB", "1.0 dB", "3.0 dB"));
  CHECK(words(parameter(kExponentPointer, 2, 0.22, 2.13, 0.1)) ==
        finding("exponent_faster", "2.13", "2.00", "0.10", "0.22"));
  CHECK(words(parameter(kExponentPointer, 2, 0.22, 1.9, 0.1)) ==
        finding("exponent_slower", "1.90", "2.00", "0.10", "0.22"));
  CHECK(words(parameter(kZeroPointer, -105, 5, -103.2, 2)) ==
        finding("zero_moved", "-103.2 dBm", "-105.0 dBm", "2.0 dB", "5.0 dB"));
  CHECK(words(parameter(kFullPointer, -45, 5, -45.01, 2)) ==
        finding("full_same", "-45.0 dBm", "", "2.0 dB", "5.0 dB"));
  CHECK(words(parameter(shift_pointer("a/b~c"), 0, 2, -0.7, 1)) ==
        finding("loss_lower", "0.7 dB", "", "1.0 dB", "2.0 dB"));
  CHECK(words(parameter(shift_pointer("a/b~c"), 1, 2, -0.7, 1)) ==
        finding("loss_again", "-0.7 dB", "+1.0 dB", "1.0 dB", "2.0 dB"));
}

TEST_CASE("readings before and now, in what they were read in") {
  Case one;
  const std::string text = write_text(calibration_document(fixture::english(), one.jobs, one.report));
  const auto line = [&](const std::string& part) {
    std::istringstream lines(text);
    for (std::string row; std::getline(lines, row);) {
      if (has(row, part)) return unwrapped(row);
    }
    return std::string();
  };
  CHECK(line(" 60 %") == "2 till contact hall hub 60 % 56 % 59 % 1.0 5.0");
  CHECK(line(" 52 %") == "! 3 kiln valve hall hub 30 % 52 % 50 % -20.0 5.0");
  CHECK(line("\u2264 0 %") == "4 kiln valve hall hub \u2264 0 % 50 % 0 % - 5.0");  // the bound holds
  CHECK(line("\u2265 100 %") == "5 till contact hall hub \u2265 100 % 95 % 96 % 4.0 5.0");
  CHECK(line("-55 dBm") == "6 kiln valve hall hub -55 dBm -50 dBm -52 dBm -3.0 5.0");
}

TEST_CASE("an outlier says what to look at, by its reason") {
  Case one;
  CHECK(
      has(one.text(), "Line 3, kiln valve: " +
                          said("calibrate.outlier.low",
                               {{"read", "30 %"}, {"expected", "50 %"}, {"by", "20.0 dB"}, {"share", "21"}}) +
                          " " + said("calibrate.look.spot")));
  const std::pair<OutlierReason, const char*> reasons[] = {
      {OutlierReason::spot, "calibrate.look.spot"},
      {OutlierReason::device, "calibrate.look.device"},
      {OutlierReason::alone, "calibrate.look.alone"},
      {OutlierReason::open_way, "calibrate.look.open_way"},
      {OutlierReason::plan, "calibrate.look.plan"}};
  std::vector<std::string> words;
  for (const auto& [reason, key] : reasons) {
    one.report.readings[1].outlier = reason;
    const auto outliers = one.json()["outliers"];
    REQUIRE(outliers.size() == 1);
    CHECK(has(outliers[0]["text"], said(key)));
    CHECK(outliers[0]["row"] == 3);
    CHECK(outliers[0]["device"] == "kiln valve");
    CHECK(outliers[0]["residual_db"] == -20.0);
    words.push_back(outliers[0]["reason"]);
  }
  CHECK(words == std::vector<std::string>{"spot", "device", "alone", "open_way", "plan"});
  one.report.readings[1].outlier = OutlierReason::none;
  CHECK(one.json()["outliers"].empty());
  CHECK(!has(one.text(), said("calibrate.outlier.title")));
  CHECK(has(one.text(), said("calibrate.verdict.misfit", {{"now", "11.7 dB"}, {"before", "13.3 dB"}})));
}

TEST_CASE("several sites: whose parameter, whose reading, and two of one name") {
  Case two;
  two.jobs.push_back(fixture::calibration_job());
  two.jobs[1].site.name = "Other yard";
  two.report.sites.push_back(two.jobs[1].site);
  two.report.parameters.push_back(fixture::parameter(kOffsetPointer, 0, 6, 1, 2, {1}));
  two.report.parameters[2].jobs = {0, 1};
  CalibratedReading other = two.report.readings[1];
  other.job = 1;
  two.report.readings.push_back(other);
  std::string text = two.text();
  const std::string loss = said("calibrate.unknown.loss", {{"material", "brick"}});
  for (const std::string& part :
       {counted("calibrate.sites", 2), std::string("offset of all levels Test yard 0.0 dB -3.4 dB"),
        loss + " all 0.0 dB +2.1 dB", std::string("offset of all levels Other yard 0.0 dB +1.0 dB"),
        "Test yard: " + counted("calibrate.open.values", 1, {{"names", said("calibrate.unknown.exponent")}}),
        "Test yard: " + counted("calibrate.open.losses", 1, {{"names", "steel"}}),
        said("calibrate.open.pair",
             {{"first", said("calibrate.unknown.at_sites",
                             {{"unknown", said("calibrate.unknown.offset")}, {"sites", "Test yard"}})},
              {"second", loss}}),
        std::string("Line 3 of Other yard, kiln valve"),
        said("calibrate.readings.title_at", {{"site", "Other yard"}})}) {
    CAPTURE(part);
    CHECK(has(text, part));
  }
  CHECK(two.json()["parameters"][4]["text"].get<std::string>().starts_with("Other yard: "));
  CHECK(two.json()["parameters"][2]["sites"] == nlohmann::json{"Test yard", "Other yard"});
  CHECK(two.json()["outliers"][1]["site"] == "Other yard");
  two.jobs[1].site.name = "Test yard";
  text = two.text();
  CHECK(two.json()["parameters"][4]["text"].get<std::string>().starts_with("Test yard (pair 2): "));
  CHECK(has(text, "Line 3 of Test yard (pair 1)"));
}

TEST_CASE("no reading that is a value: no misfit is told, and null for programs") {
  Case bounds;
  std::erase_if(bounds.report.readings,
                [](const CalibratedReading& one) { return one.kind == ReadingKind::exact; });
  bounds.report.rmse_before_db = bounds.report.rmse_after_db = 0;
  CHECK(has(bounds.text(), counted("calibrate.limits", 2)));
  CHECK(!has(bounds.text(), " 0.0 dB before"));
  CHECK(!has(bounds.text(), said("warning.misfit_flatters")));
  CHECK(bounds.json()["rmse_before_db"].is_null());
  CHECK(bounds.json()["rmse_after_db"].is_null());

  Case none;
  none.jobs[0].readings.clear();
  none.report.readings.clear();
  none.report.parameters.resize(2);
  none.report.parameters[0] = none.report.parameters[1];
  none.report.pairs.clear();
  CHECK(has(none.text(), said("calibrate.verdict.no_readings")));
  CHECK(none.json()["readings"].empty());
}

TEST_CASE("many readings: the farthest off stand in the text, all in the rows") {
  Case many;
  for (int i = 0; i < 100; ++i) {
    many.jobs[0].readings.push_back(fixture::percent_of("till contact", 60, 100 + i));
    many.report.readings.push_back(
        fixture::calibrated(many.jobs[0].readings.size() - 1, ReadingKind::exact, -40, -40, -41 - 0.01 * i));
  }
  const std::string text = many.text();
  CHECK(has(text, said("calibrate.readings.some", {{"shown", "40"}, {"all", "105"}})));
  CHECK(has(text, " 199 till contact"));
  CHECK(has(text, " 3 kiln valve"));
  CHECK(!has(text, " 100 till contact"));
  CHECK(calibration_rows(fixture::english(), many.jobs, many.report).rows.size() == 105);
}

TEST_CASE("cautions: a site calibrated before, a search that did not settle") {
  Case again;
  again.jobs[0].site.calibration.emplace();
  again.report.stop = CalibrationStop::max_iterations;
  again.report.warnings = {{.code = WarningCode::outliers_held_back}};
  const auto warnings = again.json()["cautions"];
  REQUIRE(warnings.size() == 4);
  CHECK(warnings[0]["code"] == "outliers_held_back");
  CHECK(warnings[1]["code"] == "search_unsettled");
  CHECK(warnings[2]["code"] == "calibrated_before");
  CHECK(has(warnings[2]["text"], "'Test yard'"));
  CHECK(warnings[3]["code"] == "misfit_flatters");
  CHECK(again.json()["stop"] == "most_looks");
  CHECK(Case().json()["stop"] == "converged");
}

TEST_CASE("what the caller adds stands with the cautions, and files by themselves") {
  Case noted;
  const CalibrationNotes notes{.cautions = {{.code = WarningCode::search_unsettled}},
                               .files = {"out.yaml: the site"}};
  const std::string text = unwrapped(
      write_text(calibration_document(fixture::english(), noted.jobs, noted.report, noted.advice, notes)));
  CHECK(has(text, "- " + said("warning.search_unsettled")));
  CHECK(has(text, said("calibrate.files.title") + " - out.yaml: the site"));
  CHECK(!has(noted.text(), said("calibrate.files.title")));
  const auto json = nlohmann::json::parse(
      calibration_json(fixture::english(), noted.jobs, noted.report, noted.advice, notes));
  CHECK(json["cautions"][1]["code"] == "search_unsettled");
  CHECK(json["files"][0] == "out.yaml: the site");
}

TEST_CASE("advice: where the device hangs, or where to carry it") {
  Case advised;
  advised.advice = fixture::calibration_advice();
  const std::string text = advised.text();
  const auto advice = [](const char* key, const char* device, const char* doubt, const char* deviation) {
    return said(key, {{"device", device},
                      {"hub", said("hub.named", {{"hub", "hall hub"}})},
                      {"far", "17 cm"},
                      {"place", "outside (ground), 1 m up, at (1.5, 2.5)"},
                      {"doubt", doubt},
                      {"deviation", deviation}});
  };
  CHECK(has(text, counted("calibrate.next.now", 2, {{"doubt", "1.50"}, {"deviation", "5.5 dB"}})));
  CHECK(has(text, "1. " + advice("calibrate.next.there", "kiln valve", "1.25", "4.5 dB")));
  CHECK(has(text, "2. " + advice("calibrate.next.carry", "till contact", "1.12", "4.0 dB")));
  CHECK(has(text, "3. " + advice("calibrate.next.again", "kiln valve", "1.00", "3.8 dB")));
  const auto told = advised.json()["advice"][0];
  CHECK(told["readings"][0]["again"] == false);
  CHECK(told["readings"][2]["again"] == true);
  CHECK(told["doubt"] == 1.5);
  CHECK(told["readings"][0]["at_m"].is_null());
  CHECK(told["readings"][1]["at_m"] == nlohmann::json{1.5, 2.5});
  CHECK(told["readings"][1]["storey"] == "ground");
  CHECK(Case().json()["advice"].empty());
}

TEST_CASE("JSON has the keys that programs rely on, the file's lines, and a 90 % interval") {
  const auto all = Case().json();
  for (const std::string key :
       {"sites", "parameters", "pairs", "rmse_before_db", "rmse_after_db", "spread_scale", "correlation_m",
        "stop", "readings", "outliers", "advice", "cautions"}) {
    CAPTURE(key);
    CHECK(all.contains(key));
  }
  const auto brick = all["parameters"][2];
  CHECK(brick["path"] == "/calibration/materials/brick/shift_db");
  CHECK(brick["prior"] == 0.0);
  CHECK(brick["prior_sigma"] == 1.8);
  CHECK(brick["value"] == 2.1);
  CHECK(brick["sigma"] == 0.9);
  CHECK(brick["informed"] == 0.75);
  CHECK(brick["told"] == true);
  CHECK(all["parameters"][3]["told"] == false);
  CHECK(all["pairs"][0]["first"]["path"] == "/calibration/offset_db");
  const auto reading = all["readings"][2];
  CHECK(reading["kind"] == "at_most");
  CHECK(reading["row"] == 4);
  CHECK(all["readings"][4]["reading_percent"].is_null());
  CHECK(reading["high_dbm"].get<double>() == doctest::Approx(-110 + 1.6448536 * 5));
  CHECK(reading["low_dbm"].get<double>() == doctest::Approx(-110 - 1.6448536 * 5));
}

TEST_CASE("CSV: one row a reading") {
  Case one;
  const std::string csv = write_csv(calibration_rows(fixture::english(), one.jobs, one.report));
  std::istringstream lines(csv);
  std::string line;
  std::getline(lines, line);
  CHECK(line ==
        "site,row,device,hub,kind,reading_percent,read_dbm,before_dbm,after_dbm,low_dbm,high_dbm,residual_db,"
        "sigma_db,weight,leverage,outlier,text\r");
  std::getline(lines, line);
  CHECK(line.starts_with("Test yard,2,till contact,hall hub,value,60,-40,-44,-41,-49.2,"));
  CHECK(line.ends_with(",1,5,1,0.25,,\r"));
  std::getline(lines, line);
  CHECK(has(line, ",0.21,0.25,spot,\"30 % "));
  CHECK(std::ranges::count(csv, '\n') == 6);
}

TEST_CASE("names of any letters stay names") {
  Case hostile;
  const std::string name = "<b>\"x\"\n\x1b[31m;, \xff&";
  hostile.jobs[0].site.name = name;
  for (Reading& reading : hostile.jobs[0].readings) reading.device = name;
  for (CalibratedReading& reading : hostile.report.readings) reading.hub = name;
  hostile.report.parameters[2].path = shift_pointer(name);
  hostile.advice = fixture::calibration_advice();
  hostile.advice[0].readings[0].device = name;
  const std::string text =
      write_text(calibration_document(fixture::english(), hostile.jobs, hostile.report, hostile.advice));
  CHECK(!has(text, "\x1b"));
  CHECK(!has(text, "\xff"));
  const auto json = hostile.json();  // parses
  CHECK(json["readings"].size() == 5);
  CHECK(
      has(write_csv(calibration_rows(fixture::english(), hostile.jobs, hostile.report)), "\"<b>\"\"x\"\"\n"));
}

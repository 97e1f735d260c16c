#include "linkmargin/report/calibration_report.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"

#include "fixtures/english.hpp"
#include "fixtures/calibration_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

using namespace linkmargin;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
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

  std::string text() const { return unwrapped(write_text(calibration_document(fixture::english(), jobs, report, advice))); }
  nlohmann::json json() const { return nlohmann::json::parse(calibration_json(fixture::english(), jobs, report, advice)); }
};

}  // namespace

TEST_CASE("what was taught, and what was not, in words") {
  const std::string text = Case().text();
  for (const std::string part :
       {"Test yard: 5 readings, 2 of them bounds (0 or 100 %)",
        "The readings taught 2 of the 4 things asked of them.",
        "Predictions were off by 13.3 dB before, 11.7 dB now (root mean square); without what is "
        "far off 4.5 dB before, 2.2 dB now.",
        "Every level is 3.4 dB lower than data sheets and tables make it, give or take 1.2 dB (6.0 dB "
        "before).",
        "'brick' loses 2.1 dB more than its table says, give or take 0.9 dB (1.8 dB before).",
        "Too little is told of the exponent of distance; and of the loss of 'steel': they stay about as "
        "assumed",
        "The readings hardly part the offset of all levels from the loss of 'brick'", "which flatters",
        "it never replaces the reading on site", "stay where their own rules put them"}) {
    CAPTURE(part);
    CHECK(has(text, part));
  }
  CHECK(!has(text, "carries a calibration"));
  CHECK(!has(text, "Where to read next"));
}

TEST_CASE("each parameter in its own words and unit, both ways and unchanged") {
  const auto words = [](const CalibratedParameter& parameter) {
    Case one;
    one.report.parameters = {parameter};
    one.report.pairs.clear();
    return one.json()["parameters"][0]["text"].get<std::string>();
  };
  using fixture::parameter;
  CHECK(words(parameter(kOffsetPointer, 0, 6, 0.04, 1)) ==
        "Every level is what data sheets and tables make it, give or take 1.0 dB (6.0 dB before)");
  CHECK(words(parameter(kOffsetPointer, -2, 3, 1, 1)) ==
        "Every level is 1.0 dB higher than data sheets and tables make it, where it was 2.0 dB lower than "
        "data sheets and tables make it, give or take 1.0 dB (3.0 dB before)");
  CHECK(words(parameter(kExponentPointer, 2, 0.22, 2.13, 0.1)) ==
        "The level falls faster with distance, by the exponent 2.13 instead of 2.00, give or take 0.10 (0.22 "
        "before)");
  CHECK(words(parameter(kExponentPointer, 2, 0.22, 1.9, 0.1)) ==
        "The level falls slower with distance, by the exponent 1.90 instead of 2.00, give or take 0.10 (0.22 "
        "before)");
  CHECK(words(parameter(kZeroPointer, -105, 5, -103.2, 2)) ==
        "0 % is shown at -103.2 dBm instead of -105.0 dBm, give or take 2.0 dB (5.0 dB before)");
  CHECK(words(parameter(kFullPointer, -45, 5, -45.01, 2)) ==
        "100 % is shown at -45.0 dBm, as assumed, give or take 2.0 dB (5.0 dB before)");
  CHECK(words(parameter(shift_pointer("a/b~c"), 1, 2, -0.7, 1)) ==
        "'a/b~c' loses 0.7 dB less than its table says, where 1.0 dB more than its table says was known "
        "before, give or take 1.0 dB (2.0 dB before)");
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
  CHECK(line(" 30 %") == "! 3 kiln valve hall hub 30 % 52 % 50 % -20.0 5.0");
  CHECK(line("\u2264 0 %") == "4 kiln valve hall hub \u2264 0 % 50 % 0 % - 5.0");  // the bound holds
  CHECK(line("\u2265 100 %") == "5 till contact hall hub \u2265 100 % 95 % 96 % 4.0 5.0");
  CHECK(line("-55 dBm") == "6 kiln valve hall hub -55 dBm -50 dBm -52 dBm -3.0 5.0");
}

TEST_CASE("an outlier says what to look at, by its reason") {
  Case one;
  CHECK(has(
      one.text(),
      "Line 3, 'kiln valve': 30 % read, 50 % expected: 20.0 dB too low. It counted for 21 % of a reading. "
      "Others of this device are not so low: a fade at that spot"));
  const std::pair<OutlierReason, const char*> reasons[] = {
      {OutlierReason::spot, "aerial covered"},
      {OutlierReason::device, "battery"},
      {OutlierReason::alone, "no other reading"},
      {OutlierReason::open_way, "stood open"},
      {OutlierReason::plan, "more wall than the building"}};
  std::vector<std::string> words;
  for (const auto& [reason, part] : reasons) {
    one.report.readings[1].outlier = reason;
    const auto outliers = one.json()["outliers"];
    REQUIRE(outliers.size() == 1);
    CHECK(has(outliers[0]["text"], part));
    CHECK(outliers[0]["row"] == 3);
    CHECK(outliers[0]["device"] == "kiln valve");
    CHECK(outliers[0]["residual_db"] == -20.0);
    words.push_back(outliers[0]["reason"]);
  }
  CHECK(words == std::vector<std::string>{"spot", "device", "alone", "open_way", "plan"});
  one.report.readings[1].outlier = OutlierReason::none;
  CHECK(one.json()["outliers"].empty());
  CHECK(!has(one.text(), "Far off"));
  CHECK(!has(one.text(), "without what is far off"));
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
  for (const std::string part :
       {"2 sites: 6 readings", "What the readings taught - 'brick' loses 2.1 dB more",
        "What the readings taught at 'Test yard' - Every level is 3.4 dB lower",
        "What the readings taught at 'Other yard' - Every level is 1.0 dB higher",
        "Too little is told of the exponent of distance; and of the loss of 'steel' at 'Test yard': they",
        "the offset of all levels at 'Test yard' from the loss of 'brick':",
        "Line 3 of 'Other yard', 'kiln valve'", "before and now: 'Other yard'"}) {
    CAPTURE(part);
    CHECK(has(text, part));
  }
  CHECK(has(two.json()["parameters"][4]["text"], "(6.0 dB before) at 'Other yard'"));
  CHECK(two.json()["parameters"][2]["sites"] == nlohmann::json{"Test yard", "Other yard"});
  CHECK(two.json()["outliers"][1]["site"] == "Other yard");
  two.jobs[1].site.name = "Test yard";
  text = two.text();
  CHECK(has(text, "taught at 'Test yard' (pair 2) - Every level"));
  CHECK(has(text, "Line 3 of 'Test yard' (pair 1)"));
}

TEST_CASE("no reading that is a value: no misfit is told, and null for programs") {
  Case bounds;
  std::erase_if(bounds.report.readings,
                [](const CalibratedReading& one) { return one.kind == ReadingKind::exact; });
  bounds.report.rmse_before_db = bounds.report.rmse_after_db = 0;
  CHECK(has(bounds.text(), "2 readings, all of them bounds (0 or 100 %)"));
  CHECK(!has(bounds.text(), "root mean square"));
  CHECK(!has(bounds.text(), "flatters"));
  CHECK(bounds.json()["rmse_before_db"].is_null());
  CHECK(bounds.json()["rmse_after_db"].is_null());

  Case none;
  none.jobs[0].readings.clear();
  none.report.readings.clear();
  none.report.parameters.resize(2);
  none.report.parameters[0] = none.report.parameters[1];
  none.report.pairs.clear();
  CHECK(has(none.text(), "0 readings"));
  CHECK(has(none.text(), "The readings tell too little to teach anything"));
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
  CHECK(has(text, "The 40 farthest off of 105"));
  CHECK(has(text, " 199 till contact"));
  CHECK(has(text, " 3 kiln valve"));
  CHECK(!has(text, " 100 till contact"));
  CHECK(calibration_rows(fixture::english(), many.jobs, many.report).rows.size() == 105);
}

TEST_CASE("cautions: a site calibrated before, a search that did not settle") {
  Case again;
  again.jobs[0].site.calibration.emplace();
  again.report.stop = CalibrationStop::max_iterations;
  again.report.warnings = {"its own"};
  const auto warnings = again.json()["cautions"];
  REQUIRE(warnings.size() == 4);
  CHECK(warnings[0] == "its own");
  CHECK(has(warnings[1], "before the values settled"));
  CHECK(has(warnings[2], "'Test yard' carries a calibration already"));
  CHECK(has(warnings[2], "Give only readings that it was not learned from"));
  CHECK(again.json()["stop"] == "most_looks");
  CHECK(Case().json()["stop"] == "converged");
}

TEST_CASE("advice: where the device hangs, or where to carry it") {
  Case advised;
  advised.advice = fixture::calibration_advice();
  const std::string text = advised.text();
  CHECK(has(text,
            "1.50 wrong decisions (weak or not) are to be expected over 2 devices, and levels are known "
            "to 5.5 dB"));
  CHECK(has(text, "1. Read 'kiln valve' where it hangs, with hub 'hall hub': then 1.25 are"));
  CHECK(has(text, "2. Carry 'till contact' to (1.5, 2.5), storey 'ground', 1.0 m high, and read it there"));
  CHECK(has(text, "3. Read 'kiln valve' again, 17 cm beside, with hub 'hall hub': then 1.00 are"));
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
  CHECK(line.starts_with("Test yard,2,till contact,hall hub,value,60,-40,-44,-41,-49.22"));
  CHECK(line.ends_with(",1,5,1,0.25,,\r"));
  std::getline(lines, line);
  CHECK(has(line, ",0.21,0.25,spot,\"30 % read"));
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
  const std::string text = write_text(calibration_document(fixture::english(), hostile.jobs, hostile.report, hostile.advice));
  CHECK(!has(text, "\x1b"));
  CHECK(!has(text, "\xff"));
  const auto json = hostile.json();  // parses
  CHECK(json["readings"].size() == 5);
  CHECK(has(write_csv(calibration_rows(fixture::english(), hostile.jobs, hostile.report)), "\"<b>\"\"x\"\"\n"));
}

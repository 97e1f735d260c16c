#include "linkmargin/report/map/calibration_picture.hpp"

#include "fixtures/calibration_fixture.hpp"
#include "fixtures/english.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

struct Case {
  std::vector<CalibrationJob> jobs{fixture::calibration_job()};
  CalibrationReport report = fixture::calibration_report(jobs.front());
  std::string svg() const { return calibration_svg(fixture::english(), jobs, report); }
};

constexpr const char* kDisc = "<circle ";
constexpr const char* kTriangle = "fill=\"#1b6f57\"";
constexpr const char* kDiamond = "fill=\"#b3560a\"";

}  // namespace

TEST_CASE("values, bounds and outliers differ by shape, and the legend names what is there") {
  const std::string svg = Case().svg();
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
  CHECK(svg.ends_with("</svg>\n"));
  CHECK(count(svg, kDisc) == 2 + 1);  // and one of the legend
  CHECK(count(svg, kTriangle) == 2 + 2);
  CHECK(count(svg, kDiamond) == 1 + 1);
  const auto words = [](const char* key) {
    return fixture::english().say(std::string("calibrate.picture.") + key);
  };
  for (const std::string& part :
       {words("up"), words("right"), words("interval"), words("at_most"), words("at_least"), words("outlier"),
        std::string("1: Line 3, kiln valve, 20.0 dB"),
        fixture::english().counted("calibrate.picture.lead", 5),
        fixture::english().say("caution.short.reading_decides")}) {
    CAPTURE(part);
    CHECK(has(svg, part));
  }
  for (const char* bad : {"nan", "inf\""}) CHECK(!has(svg, bad));
}

TEST_CASE("a picture without outliers and bounds does not explain them") {
  Case plain;
  plain.report.readings.resize(1);
  const std::string svg = plain.svg();
  for (const char* key : {"at_most", "at_least", "outlier"})
    CHECK(!has(svg, fixture::english().say(std::string("calibrate.picture.") + key)));
  CHECK(count(svg, kTriangle) == 0);
  CHECK(count(svg, kDiamond) == 0);
}

TEST_CASE("what is expected as it was read lies on the line, whatever the level") {
  for (const double dbm : {-97.0, -61.5, -20.0}) {
    Case on;
    on.report.readings = {fixture::calibrated(0, ReadingKind::exact, dbm, dbm, dbm)};
    const std::string svg = on.svg();
    const auto number = [&](const std::string& before, std::size_t from) {
      return std::stod(svg.substr(svg.find(before, from) + before.size()));
    };
    const std::size_t begin = svg.rfind("<polyline", svg.find("stroke-dasharray"));
    const std::size_t corner = svg.find(' ', svg.find("points=", begin));
    const std::size_t disc = svg.find(kDisc);
    const double x1 = number("points=\"", begin), y1 = number(",", begin);
    const double x2 = number(" ", corner), y2 = number(",", corner);
    const double cx = number(" cx=\"", disc), cy = number(" cy=\"", disc);
    CHECK(x2 - x1 == doctest::Approx(y1 - y2));  // a decibel is as long both ways
    CHECK(cx - x1 == doctest::Approx(y1 - cy).epsilon(1e-3));
    CHECK(cx > x1);
    CHECK(cx < x2);
  }
}

TEST_CASE("no readings, one, and levels that are all the same still make a picture") {
  Case none;
  none.jobs[0].readings.clear();
  none.report.readings.clear();
  CHECK(has(none.svg(), fixture::english().counted("calibrate.picture.lead", 0)));
  CHECK(count(none.svg(), kDisc) == 0);
  Case same;
  for (CalibratedReading& reading : same.report.readings) {
    reading.read_dbm = reading.after_dbm = -60;
    reading.sigma_db = 0;
  }
  CHECK(!has(same.svg(), "nan"));
}

TEST_CASE("many outliers are counted, not all listed") {
  Case many;
  for (int i = 0; i < 20; ++i) many.report.readings.push_back(many.report.readings[1]);
  CHECK(has(many.svg(), "12: Line 3"));
  CHECK(!has(many.svg(), "13: Line 3"));
  CHECK(has(many.svg(), fixture::english().counted("calibrate.picture.more", 9)));
}

TEST_CASE("names are made safe, and the bytes are the same every time") {
  Case hostile;
  hostile.jobs[0].site.name = "<script>\x1b";
  for (Reading& reading : hostile.jobs[0].readings) reading.device = "a\"<b>&\xff";
  const std::string svg = hostile.svg();
  for (const char* bad : {"<script>", "<b>", "\x1b", "\xff"}) CHECK(!has(svg, bad));
  CHECK(svg == hostile.svg());
}

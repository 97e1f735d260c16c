#include "linkmargin/analysis/survey/reading_advice.hpp"

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/calibration.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

/// Three contacts in two rooms: one in doubt, two well heard.
Site doubtful() {
  Site site = fixture::two_rooms();
  site.calibration = Calibration{};
  site.calibration->offset_sigma_db = 4;
  Device near = site.devices[0];
  near.name = "near";
  near.place.at = {1.5, 3};
  Device also = near;
  also.name = "also near";
  also.place.at = {2.5, 1};
  site.devices.insert(site.devices.end(), {near, also});
  // The scale is laid so that "contact", in the other room, reads just at the threshold.
  const double level_dbm = link_table(site).links[0].lower().level.value;
  site.reading = {.zero = Dbm{level_dbm - 20}, .full = Dbm{level_dbm + 30}, .weak_below_percent = 40};
  return site;
}

Reading reading_of(const Site& site, const std::string& device) {
  Reading reading;
  reading.device = device;
  const LinkTable table = link_table(site);
  reading.level = std::ranges::find(table.links, device, &Link::device)->lower().level;
  return reading;
}

}  // namespace

TEST_CASE("the device in doubt is read first, and doubt falls with every reading") {
  const Site site = doubtful();
  const ReadingAdvice advice = reading_advice(site, {}, {.count = 4});
  REQUIRE(advice.readings.size() == 4);
  CHECK(advice.doubt > 0.4);  // it may be either
  CHECK(advice.doubt < 0.6);
  double before = advice.doubt, deviation = advice.deviation_db;
  for (const AdvisedReading& one : advice.readings) {
    CHECK(one.doubt <= before + 1e-9);
    CHECK(one.deviation_db < deviation);
    before = one.doubt;
    deviation = one.deviation_db;
  }
  const AdvisedReading& first = advice.readings.front();
  CHECK(first.device == "contact");
  const Point2 there = first.place ? first.place->at : Point2{7, 2};
  CHECK(distance(there, {7, 2}) < 1.5);  // where it hangs, or close by
}

TEST_CASE("a spot that was read, or advised, is advised again as beside it only") {
  const Site site = doubtful();
  const std::vector<Reading> taken{reading_of(site, "contact")};
  const ReadingAdvice advice = reading_advice(site, taken, {.count = 6, .step_m = 50});
  std::vector<std::string> seen{"contact"};
  for (const AdvisedReading& one : advice.readings) {
    if (one.place) continue;
    CHECK(one.again == (std::ranges::find(seen, one.device) != seen.end()));
    seen.push_back(one.device);
  }
  CHECK(advice.doubt < reading_advice(site, {}, {.count = 1}).doubt);
}

TEST_CASE("without doubt the levels themselves are narrowed, and threads change nothing") {
  Site site = doubtful();
  site.reading = {.zero = Dbm{-180}, .full = Dbm{-150}};
  const ReadingAdvice advice = reading_advice(site, {}, {.count = 3});
  CHECK(advice.doubt < 0.01);
  REQUIRE(advice.readings.size() == 3);
  CHECK(advice.readings.back().deviation_db < advice.deviation_db);
  const ReadingAdvice threaded = reading_advice(site, {}, {.count = 3, .threads = 3});
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(threaded.readings[i].device == advice.readings[i].device);
    CHECK(threaded.readings[i].place == advice.readings[i].place);
    CHECK(threaded.readings[i].deviation_db == advice.readings[i].deviation_db);
  }
}

TEST_CASE("no device, no advice") {
  Site site = doubtful();
  site.devices.clear();
  const ReadingAdvice advice = reading_advice(site, {}, {});
  CHECK(advice.readings.empty());
  CHECK(advice.doubt == 0);
}

#include "linkmargin/analysis/calibration/calibration.hpp"

#include "linkmargin/analysis/calibration/hold_out.hpp"
#include "linkmargin/prediction/reading_prediction.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/site/calibration.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

using namespace linkmargin;

namespace {

/// Readings of the first device all over a block, as a site with other walls, exponent and power would give
/// them.
struct Block {
  explicit Block(std::uint64_t seed, int readings, double noise_db = 0)
      : site(fixture::random_block(seed, 1, 4, 3)) {
    site.fading.on = false;
    truth = site;
    truth.radio.exponent = 2.3;
    truth.calibration = Calibration{};
    truth.calibration->offset_db = -4.5;
    truth.calibration->materials = {{"board", {.shift_db = 1.5, .sigma_db = 1}}};
    const RandomStream random(seed, 9);
    for (int i = 0; i < readings; ++i) {
      const auto draw = static_cast<std::uint64_t>(i);
      Placement place = site.devices[0].place;
      place.at = snapped(
          Point2{0.3 + 0.95 * 12 * random.uniform(3 * draw), 0.3 + 0.95 * 12 * random.uniform(3 * draw + 1)});
      Reading reading;
      reading.device = site.devices[0].name;
      reading.hub = site.hubs[0].name;
      reading.place = place;
      reading.line = i + 2;
      reads.push_back(reading);
    }
    const ReadingLinks links = reading_links(truth, reads, Doors::armed);
    const auto looked = predict_readings(truth, links.links, 1);
    for (std::size_t i = 0; i < reads.size(); ++i) {
      const double chance = std::clamp(random.uniform(3 * i + 2), 1e-9, 1 - 1e-9);
      reads[i].level = Dbm{looked[links.of_reading[i]].level_dbm + noise_db * normal_quantile(chance)};
    }
  }

  CalibrationJob job() const { return {site, reads}; }

  /// The same readings on a scale of percent.
  void show(double zero_dbm, double full_dbm) {
    for (Reading& reading : reads) {
      reading.percent =
          std::clamp(100 * (reading.level->value - zero_dbm) / (full_dbm - zero_dbm), 0.0, 100.0);
      reading.level.reset();
    }
  }

  Site site;
  Site truth;
  std::vector<Reading> reads;
};

const CalibratedParameter& find(const CalibrationReport& report, const std::string& path) {
  const auto found = std::ranges::find(report.parameters, path, &CalibratedParameter::path);
  REQUIRE(found != report.parameters.end());
  return *found;
}

}  // namespace

TEST_CASE("noise-free readings give back exponent, offset and wall losses to 1e-6") {
  const Block block(3, 60);
  const CalibrationReport report =
      calibration({block.job()}, {.reading_sigma_db = 1e-5, .tolerance = 1e-4, .max_iterations = 60});
  CHECK(report.stop == CalibrationStop::converged);
  CHECK(std::abs(find(report, kOffsetPointer).value + 4.5) < 1e-6);
  CHECK(std::abs(find(report, kExponentPointer).value - 2.3) < 1e-6);
  CHECK(std::abs(find(report, shift_pointer("board")).value - 1.5) < 1e-6);
  CHECK(report.rmse_after_db < 1e-6);
  CHECK(report.rmse_before_db > 4);
}

TEST_CASE("what nothing tells keeps its prior and says so") {
  const Block block(3, 1);
  const CalibrationReport one = calibration({block.job()});
  const CalibratedParameter& exponent = find(one, kExponentPointer);
  CHECK(std::abs(exponent.value - exponent.prior) < 0.1);
  CHECK_FALSE(exponent.is_informed());
  CHECK(find(one, kOffsetPointer).is_informed());
  CHECK(find(one, kOffsetPointer).value < -0.5);  // the first reading already helps
  CHECK(one.rmse_after_db < one.rmse_before_db);

  CalibrationJob none = block.job();
  none.readings.clear();
  const CalibrationReport nothing = calibration({none});
  for (const CalibratedParameter& parameter : nothing.parameters) {
    CHECK(parameter.value == parameter.prior);
    CHECK(parameter.variance_reduction < 1e-9);
  }
  CHECK(nothing.rmse_after_db == 0);
  CHECK(nothing.readings.empty());
}

TEST_CASE("percentages: the scale's span is found, and what cannot be told from the offset is named") {
  Block block(5, 300, 2);
  block.show(-90, -30);
  CalibrationJob job = block.job();
  job.site.reading = {.zero = Dbm{-85}, .full = Dbm{-35}};
  const CalibrationReport report = calibration({job}, {.reading_sigma_db = 2});
  const CalibratedParameter& zero = find(report, kZeroPointer);
  const CalibratedParameter& full = find(report, kFullPointer);
  // Offset and both ends may move together; the span of 60 dB may not, within its own deviation of some 2 dB.
  CHECK(std::abs((full.value - zero.value) - 60) < 4);
  CHECK(zero.sigma > 2);
  CHECK(std::ranges::any_of(report.pairs, [&](const CalibratedPair& pair) {
    const std::string &a = report.parameters[pair.first].path, &b = report.parameters[pair.second].path;
    return a == kOffsetPointer && (b == kZeroPointer || b == kFullPointer) && pair.correlation > 0;
  }));
  CHECK(report.rmse_after_db < report.rmse_before_db);
}

TEST_CASE("readings at the ends of the scale are bounds") {
  Block block(5, 40);
  block.show(-45, -35);  // nearly all under zero
  const auto ends =
      std::ranges::count_if(block.reads, [](const Reading& reading) { return reading.percent == 0.0; });
  REQUIRE(ends > 20);
  CalibrationJob job = block.job();
  job.site.reading = {.zero = Dbm{-45}, .full = Dbm{-35}};
  job.site.profiles.at("hub").sensitivity = Dbm{-140};
  std::erase_if(job.readings, [](const Reading& reading) { return reading.percent != 0.0; });
  const CalibrationReport report = calibration({job});
  for (const CalibratedReading& reading : report.readings) {
    CHECK(reading.kind == ReadingKind::at_most);
    CHECK(reading.outlier == OutlierReason::none);
  }
  CHECK(report.rmse_after_db == 0);  // no reading is a value
  CHECK(report.stop == CalibrationStop::converged);
  CHECK(find(report, kOffsetPointer).value <= 1e-9);  // if anything, lower
}

TEST_CASE("several sites share their walls and keep their own offsets") {
  Block first(3, 40, 2), second(11, 40, 2);
  for (Reading& reading : second.reads) reading.level = *reading.level + Db{9};
  const CalibrationReport both = calibration({first.job(), second.job()});
  const auto of = [&](const std::string& path) {
    return std::ranges::count(both.parameters, path, &CalibratedParameter::path);
  };
  CHECK(of(kOffsetPointer) == 2);
  CHECK(of(kExponentPointer) == 2);
  CHECK(of(shift_pointer("board")) == 1);
  CHECK(find(both, shift_pointer("board")).jobs == std::vector<std::size_t>{0, 1});
  const CalibrationReport alone = calibration({first.job()});
  CHECK(find(both, shift_pointer("board")).sigma < find(alone, shift_pointer("board")).sigma);
  REQUIRE(both.sites.size() == 2);
  CHECK(both.sites[1].calibration->offset_db - both.sites[0].calibration->offset_db > 5);
  CHECK(both.sites[0].calibration->materials == both.sites[1].calibration->materials);
}

TEST_CASE("sites share a scale of which they state both ends alike, and no half of one") {
  Block first(3, 20, 2), second(11, 20, 2);
  for (Block* block : {&first, &second}) block->show(-90, -30);
  const auto scales = [&](double full_dbm) {
    std::vector<CalibrationJob> jobs{first.job(), second.job()};
    jobs[0].site.reading = {.zero = Dbm{-85}, .full = Dbm{-35}};
    jobs[1].site.reading = {.zero = Dbm{-85}, .full = Dbm{full_dbm}};
    std::vector<std::vector<std::size_t>> found;
    for (const CalibratedParameter& parameter : calibration(jobs).parameters) {
      if (parameter.path == kZeroPointer || parameter.path == kFullPointer) found.push_back(parameter.jobs);
    }
    return found;
  };
  CHECK(scales(-35) == std::vector<std::vector<std::size_t>>{{0, 1}, {0, 1}});
  CHECK(scales(-40) == std::vector<std::vector<std::size_t>>{{0}, {0}, {1}, {1}});
}

TEST_CASE("outliers are named with what is likely") {
  Block block(3, 60, 2);
  block.site.devices.push_back(block.site.devices[0]);
  block.site.devices.back().name = "other";
  block.reads[7].level = *block.reads[7].level - Db{45};
  block.reads[11].device = "other";
  block.reads[11].level = *block.reads[11].level - Db{45};
  block.reads[13].level = *block.reads[13].level + Db{45};
  const CalibrationReport report = calibration({block.job()});
  CHECK(report.readings[7].outlier == OutlierReason::spot);
  CHECK(report.readings[11].outlier == OutlierReason::alone);
  CHECK((report.readings[13].outlier == OutlierReason::plan ||
         report.readings[13].outlier == OutlierReason::open_way));
  CHECK(report.readings[7].weight < 0.2);
  const auto named = std::ranges::count_if(report.readings, [](const CalibratedReading& reading) {
    return reading.outlier != OutlierReason::none;
  });
  CHECK(named == 3);
  CHECK(std::abs(find(report, kOffsetPointer).value + 4.5) < 3);
}

namespace {

/// Readings of one device all over a block with three hubs, the second of which hears less than it should.
CalibrationJob three_hubs(double second_db) {
  Block block(7, 90);
  Site site = block.site;
  for (const auto& [name, at] :
       {std::pair{"second", Point2{3.1, 2.2}}, std::pair{"third", Point2{9.3, 10.1}}}) {
    Hub hub = site.hubs[0];
    hub.name = name;
    hub.place.at = at;
    site.hubs.push_back(hub);
  }
  CalibrationJob job{site, block.reads};
  Site truth = site;
  truth.calibration = Calibration{};
  truth.calibration->radios["second"] = {.offset_db = second_db, .sigma_db = 0};
  for (std::size_t i = 0; i < job.readings.size(); ++i) job.readings[i].hub = site.hubs[i % 3].name;
  const ReadingLinks links = reading_links(truth, job.readings, Doors::armed);
  const auto looked = predict_readings(truth, links.links, 1);
  for (std::size_t i = 0; i < job.readings.size(); ++i)
    job.readings[i].level = Dbm{looked[links.of_reading[i]].level_dbm};
  return job;
}

}  // namespace

TEST_CASE("a hub that hears less than the others has an offset of its own") {
  const CalibrationReport report = calibration({three_hubs(-6)});
  const auto& radios = report.sites[0].calibration->radios;
  REQUIRE(radios.size() == 3);  // the device is the only one of its side
  const double others =
      (radios.at(report.sites[0].hubs[0].name).offset_db + radios.at("third").offset_db) / 2;
  CHECK(std::abs(radios.at("second").offset_db - others + 6) <= 0.6);
  CHECK(find(report, radio_pointer("second")).is_informed());
  CHECK(report.rmse_after_db <= 0.5);
  CHECK(report.rmse_before_db > 3);
  for (const CalibratedPair& pair : report.pairs)
    CHECK(report.parameters[pair.second].path.find("/radios/") == std::string::npos);
  const auto edited = edited_site(three_hubs(-6).site, calibrated_edits(report, 0));
  REQUIRE(edited);
  CHECK(*edited == report.sites[0]);
}

TEST_CASE("with one hub, and of a device read at one place, no offset is told apart") {
  const Block block(3, 40, 2);
  CHECK(calibration({block.job()}).sites[0].calibration->radios.empty());
  CalibrationJob job = three_hubs(-6);
  job.readings.resize(2);  // two hubs, each read once
  CHECK(calibration({job}).sites[0].calibration->radios.empty());
}

TEST_CASE("what was not heard lies under what the receiver hears, wherever the scale begins") {
  Block block(3, 20, 1);
  block.show(-60, -20);
  CalibrationJob job = block.job();
  job.site.reading.zero = Dbm{-60};
  job.site.reading.full = Dbm{-20};
  job.readings[0].percent = 0;
  job.readings[0].level.reset();
  const double zero = calibration({job}).readings[0].read_dbm;
  job.readings[0].not_heard = true;
  const double unheard = calibration({job}).readings[0].read_dbm;
  CHECK(zero > -80);
  CHECK(unheard < -90);
}

TEST_CASE("held back are whole links, the same every time, and the figure is of them alone") {
  const CalibrationJob job = three_hubs(-6);
  const auto held = hold_out({job}, {}, 0.25);
  REQUIRE(held);
  CHECK(held->readings > 10);
  CHECK(held->readings < 40);
  CHECK(held->rmse_after_db < 1);
  CHECK(held->rmse_before_db > 3);
  CHECK(held->inside_percent > 90);
  const auto again = hold_out({job}, {.threads = 3}, 0.25);
  CHECK(again->rmse_after_db == held->rmse_after_db);
  CHECK_FALSE(hold_out({{job.site, {}}}, {}, 0.25));
  CHECK_THROWS_AS(hold_out({job}, {}, 0.9), DomainError);
}

TEST_CASE("the edits make the calibrated site, and threads change nothing") {
  Block block(5, 50, 3);
  block.show(-105, -55);
  const CalibrationReport report = calibration({block.job()});
  const auto edited = edited_site(block.site, calibrated_edits(report, 0));
  REQUIRE(edited);
  CHECK(*edited == report.sites[0]);
  const CalibrationReport threaded = calibration({block.job()}, {.threads = 3});
  CHECK(threaded.sites[0] == report.sites[0]);
  for (std::size_t p = 0; p < report.parameters.size(); ++p)
    CHECK(threaded.parameters[p].value == report.parameters[p].value);
}

TEST_CASE("readings twice count more than once, and less than two of other places") {
  Block block(3, 12, 3);
  const double once = find(calibration({block.job()}), kOffsetPointer).sigma;
  CalibrationJob twice = block.job();
  twice.readings.insert(twice.readings.end(), block.reads.begin(), block.reads.end());
  const double again = find(calibration({twice}), kOffsetPointer).sigma;
  const double elsewhere = find(calibration({Block(3, 24, 3).job()}), kOffsetPointer).sigma;
  CHECK(again < once + 0.02);
  CHECK(again > elsewhere);
}

TEST_CASE("a calibrated site can be calibrated on, from what it carries") {
  Block block(3, 60, 2);
  const CalibrationReport first = calibration({block.job()});
  CalibrationJob next{first.sites[0], {block.reads.begin(), block.reads.begin() + 1}};
  const CalibrationReport second = calibration({next});
  const CalibratedParameter& offset = find(second, kOffsetPointer);
  CHECK(std::abs(offset.prior - first.sites[0].calibration->offset_db) < 1e-12);
  CHECK(std::abs(offset.prior_sigma - first.sites[0].calibration->offset_sigma_db) < 1e-12);
  CHECK(std::abs(find(second, shift_pointer("board")).prior -
                 first.sites[0].calibration->materials.at("board").shift_db) < 1e-12);
}

TEST_CASE("a reading of what the site lacks is refused") {
  Block block(3, 2);
  block.reads[1].device = "nobody";
  CHECK_THROWS_AS(calibration({block.job()}), DomainError);
}

#include "linkmargin/report/link_words/reading_words.hpp"

#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/report/explain_report.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include "fixtures/english.hpp"
#include "fixtures/link_table_fixture.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace linkmargin;

namespace {

const Wording& wording() {
  static const Wording english(fixture::english());
  return english;
}

std::string said(const std::string& key, Language::Places places = {}) {
  return wording().say("reading." + key, places);
}

/// The fixture's kiln valve (about 28 % predicted, 42.8 dB in the way) on a site that lets it move.
struct Case {
  Site site;
  LinkTable table = fixture::table();
  Fading fading{};

  Case() {
    site.storeys.resize(1);
    site.profiles["contact"].name = "contact";
    Device device;
    device.name = "kiln valve";
    device.profile = "contact";
    device.may_move = Mobility{Mobility::WithinRoom{"yard"}};
    site.devices.push_back(device);
    link().downlink.reset();
    link().weaker_is_downlink = false;
  }

  Link& link() { return table.links[1]; }

  void predict(double level_dbm) {
    link().uplink = fixture::way(level_dbm, -105, table.reading);
    link().weak = link().uplink.reading_percent < table.reading.weak_below_percent;
    fixture::judge(link());
  }

  ReadingAnswer answer(double percent) {
    return reading_verdict(FadingModel(fading), table.reading, table.frequency_hz, link(), percent,
                           centimetre_options(site, link()));
  }
  ReadingWords words(double percent) {
    return reading_words(wording(), site, table, link(), answer(percent));
  }
  std::string text(double percent) { return reading_text(words(percent)); }
};

}  // namespace

TEST_CASE("a fade: how far under the prediction, with what chance a shift helps, and how it is done") {
  Case fade;
  fade.predict(-76);
  const ReadingWords words = fade.words(28);
  CHECK(has(
      words.headline,
      said("lower", {{"device", "kiln valve"}, {"read", "28"}, {"percent", "58"}, {"difference", "15 dB"}})));
  CHECK(has(words.headline, said("verdict.fade")));
  const SpotTrial spot = *fade.answer(28).spots.choice();
  REQUIRE(words.findings.size() == 2);
  CHECK(has(words.findings[0],
            said("as_low", {{"chance", wording().chance(fade.answer(28).as_low_probability)}})));
  CHECK(has(words.findings[1], wording().chance(spot.pass_probability)));
  CHECK_FALSE(has(words.findings[1], said("shift_hopeless")));
  REQUIRE(words.steps.size() == 3);
  CHECK(words.steps[0].starts_with(said("step.mark")));
  CHECK(has(words.steps[0], spots_words(wording(), spot)));
  CHECK(words.steps[1] == said("step.hold_closed"));
  CHECK(has(words.steps[2], wording().chance(spot.pass_probability)));
}

TEST_CASE("as predicted: what stands in the way is named, and no shift is told to") {
  Case wall;
  wall.predict(-96);
  const ReadingWords words = wall.words(17);
  CHECK(has(words.headline, said("same", {{"device", "kiln valve"}, {"read", "17"}, {"percent", "18"}})));
  CHECK(has(words.headline, said("verdict.wall")));
  CHECK(has(words.findings[1], said("shift_hopeless")));
  CHECK(has(words.findings[1],
            said("in_the_way", {{"all", "43 dB"}, {"thing", "kiln (kiln shell)"}, {"most", "31 dB"}})));
  CHECK(words.steps.empty());
  CHECK(words.looks.empty());
}

TEST_CASE("much weaker than wall and fade allow: things to look at, as no findings") {
  Case gone;
  gone.predict(-62);
  ReadingWords words = gone.words(20);
  CHECK(has(words.headline, said("verdict.unexplained")));
  CHECK(has(words.findings[0], said("as_low", {{"chance", wording().say("chance.least")}})));
  CHECK(has(words.findings[1], said("then_spots")));
  const auto looked = [&](const std::string& key) {
    return std::ranges::find(words.looks, wording().say("looks." + key)) != words.looks.end();
  };
  for (const char* key : {"person", "battery", "doors_armed", "enrolment", "metal", "aerials", "plan"})
    CHECK(looked(key));
  Link other = gone.link();
  other.hub = "loft hub";
  other.uplink = fixture::way(-94, -105, gone.table.reading);
  gone.table.links.push_back(other);
  gone.table.doors = Doors::open;
  const std::string text = gone.text(20);
  CHECK(has(text, wording().say("looks.other_hub", {{"hub", "hub loft hub"}, {"percent", "22"}})));
  CHECK(has(text, wording().say("looks.doors_open")));
  const std::string whole =
      write_text({.blocks = reading_blocks(wording(), gone.words(20), gone.answer(20))}, {.width = 2000});
  CHECK(whole.find(said("check_causes")) < whole.find(said("shift_it")));
}

TEST_CASE("bounds say so") {
  Case low;
  low.predict(-76);
  const auto compared = [](const std::string& key, const std::string& read, const std::string& percent,
                           const std::string& by) {
    return said(key, {{"device", "kiln valve"}, {"read", read}, {"percent", percent}, {"difference", by}});
  };
  CHECK(has(low.words(0).headline, compared("lower_at_least", "0", "58", "29 dB")));
  CHECK(has(low.words(100).headline, compared("higher_at_least", "100", "58", "21 dB")));
  low.predict(-105.5);
  CHECK(has(low.words(0).headline, compared("same", "0", "0", "")));
}

TEST_CASE("enough is enough: no steps, but a poor or a good spot is told") {
  Case fine;
  fine.predict(-65);
  const ReadingWords poor = fine.words(42);
  CHECK(has(poor.headline, said("verdict.fine")));
  CHECK(has(poor.findings[0], said("poor_spot")));
  CHECK(poor.findings.size() == 1);
  CHECK(poor.steps.empty());
  fine.link().sigma_db = 1;
  fine.predict(-86);
  CHECK(has(fine.text(48), said("good_spot")));
  fine.predict(-101);
  CHECK(has(fine.text(60), said("verdict.better")));
}

TEST_CASE("what may not move is told so, and a device fixed by rule keeps to its rules first") {
  Case held;
  held.predict(-76);
  held.site.devices[0].may_move.reset();
  CHECK(has(held.words(28).steps.front(), said("step.may_it_move")));
  held.site.profiles["contact"].fixed_by_rule = true;
  CHECK(held.words(28).steps.empty());  // nothing says that its standard lets it shift
  CHECK(has(held.words(28).headline, said("stays.fade")));
  held.site.devices[0].may_move = Mobility{Mobility::Radius{0.1}};
  CHECK(held.words(28).steps.front() == said("step.ruled", {{"profile", "contact"}}));
  held.site.profiles["contact"].fixed_by_rule = false;
  held.site.devices[0].may_move = Mobility{Mobility::Radius{0}};
  CHECK(held.words(28).steps.empty());
  CHECK(has(held.words(28).headline, said("verdict.fade")));
  CHECK(has(held.words(28).findings[1], said("no_shift")));
  held.site.devices[0].may_move = Mobility{Mobility::Along{{{0, 0}, {0, 2}}}};
  CHECK(has(held.text(28), spots_words(wording(), *held.answer(28).spots.choice())));
  held.site.devices[0].may_move = Mobility{Mobility::Radius{0.03}};
  CHECK(has(held.text(28), "3 cm"));
}

TEST_CASE("fading off: all is the place's, and no shift is told to") {
  Case off;
  off.fading.on = false;
  off.predict(-80);
  const ReadingWords words = off.words(28);
  CHECK(has(words.findings[0], said("no_fading")));
  CHECK_FALSE(has(words.findings[1], said("shift_hopeless")));
  CHECK(words.steps.empty());
}

TEST_CASE("a reading under the receiver's sensitivity contradicts the site file") {
  Case dull;
  dull.link().uplink = fixture::way(-88, -92, dull.table.reading);
  const std::string contradiction = said("contradiction", {{"level", "-92.0 dBm"}});
  CHECK(has(dull.text(20), contradiction));
  CHECK_FALSE(has(dull.text(30), contradiction));
  CHECK_FALSE(has(dull.text(0), contradiction));
}

TEST_CASE("explain with a reading: JSON, and advice that goes by what was read") {
  Case fade;
  fade.predict(-76);
  const ReadingAnswer answer = fade.answer(28);
  const auto json =
      nlohmann::json::parse(explain_json(fixture::english(), fade.site, fade.table, fade.link(), &answer));
  const auto& reading = json["reading"];
  CHECK(reading["percent"] == 28);
  CHECK(reading["level_dbm"] == -91);
  CHECK(reading["bound"].is_null());
  CHECK(reading["over_predicted_db"] == -15);
  CHECK(reading["verdict"] == "fade");
  CHECK(std::abs(reading["shadow_db"].get<double>() + reading["fade_db"].get<double>() + 15) <= 1e-9);
  CHECK(reading["shadow_sigma_db"].get<double>() > 0);
  CHECK(reading["fade_sigma_db"].get<double>() > 0);
  CHECK(reading["text"] == fade.text(28));
  CHECK(has(json["text"], reading["text"]));
  REQUIRE(reading["spots"].size() == answer.spots.trials.size());
  int recommended = 0;
  for (const auto& spot : reading["spots"]) recommended += spot["recommended"].get<bool>() ? 1 : 0;
  CHECK(recommended == 1);
  CHECK(reading["spots"][0]["shape"] == "four");
  CHECK(reading["spots"][0]["spots"] == 5);
  CHECK(nlohmann::json::parse(explain_json(fixture::english(), fade.site, fade.table, fade.link()))["reading"]
            .is_null());

  const auto advised = [&](double percent, const Relocation* relocation) {
    const ReadingAnswer read = fade.answer(percent);
    return write_text(
        explain_document(fixture::english(), fade.site, fade.table, fade.link(), &read, relocation),
        {.width = 2000});
  };
  Relocation found;
  found.devices.push_back(
      {.link = fade.link(), .reading_percent = 28, .expected = {}, .remedies = {}, .left_out = {}});
  Remedy spots{.kind = RemedyKind::spots};
  spots.trial = answer.spots.trials.front();
  found.devices.front().remedies = {spots, Remedy{.kind = RemedyKind::wire}};
  const std::string enough = wording().say("explain.reading_enough");
  CHECK(has(advised(50, nullptr), enough));
  const std::string weak = advised(28, &found);
  CHECK_FALSE(has(weak, enough));
  CHECK(weak.find(said("shift_it")) < weak.find(wording().say("explain.title.try_next")));
  CHECK(has(weak, " 1. " + wording().say("remedy.wire")));  // the spots are named by then
}

TEST_CASE(
    "enough, but far under what was predicted: the headline says both, and there is a list to look at") {
  Case low;
  low.link().sigma_db = 2;
  low.link().loss.line_of_sight = true;
  low.predict(-62.5);  // 85 %
  const ReadingWords words = low.words(60);
  CHECK(has(words.headline, said("verdict.low")));
  CHECK(has(words.headline, "85 %"));
  CHECK(has(words.findings[0], wording().say("chance.least")));
  CHECK_FALSE(words.looks.empty());
  CHECK(words.steps.empty());
  const ReadingAnswer answer = low.answer(60);
  CHECK(verdict_word(answer.verdict) == "low");
  Relocation found;
  found.devices.push_back({.link = low.link(),
                           .reading_percent = 60,
                           .expected = {},
                           .remedies = {},
                           .left_out = {SkipReason::low_reading}});
  const std::string text =
      write_text(explain_document(fixture::english(), low.site, low.table, low.link(), &answer, &found),
                 {.width = 2000});
  CHECK(has(text, wording().say("left_out.low_reading")));
  CHECK_FALSE(has(text, said("verdict.fine")));
}

TEST_CASE("which spots to try is told by the spots themselves") {
  const auto told = [](const SpotTrial& trial) { return spots_words(wording(), trial); };
  CHECK(has(told({SpotShape::four, 0.086, 5, 0.9}), "four spots 9 cm"));
  CHECK(has(told({SpotShape::disc, 0.08, 7, 0.9}), "8 cm"));
  CHECK(has(told({SpotShape::disc, 0.1, 19, 0.9}), "5 cm"));
  CHECK(has(told({SpotShape::disc, 0.1, 19, 0.9}), "10 cm"));
  CHECK(has(told({SpotShape::line, 0.13, 5, 0.9}), "2 spots"));
}

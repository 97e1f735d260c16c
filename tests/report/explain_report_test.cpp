#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/report/words/advice.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"

#include "fixtures/english.hpp"
#include "fixtures/link_table_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;

namespace {

/// A site that has the radios of the fixture's table and nothing else.
Site radios_only() {
  Site site;
  site.storeys.resize(1);
  site.profiles["contact"].name = "contact";
  site.profiles["smoke"].name = "smoke";
  site.profiles["smoke"].fixed_by_rule = true;
  site.hubs = {{.name = "hall hub",
                .profile = "hub",
                .place = {},
                .capacity = {},
                .may_move = {},
                .near_mains_m = {}}};
  for (const Link& link : fixture::table().links) {
    Device device;
    device.name = link.device;
    device.profile = "contact";
    device.may_move = Mobility{Mobility::WithinRoom{"yard"}};
    site.devices.push_back(device);
  }
  return site;
}

std::string text_of(const Site& site, const LinkTable& table, std::size_t link) {
  return write_text(explain_document(fixture::english(), site, table, table.links[link]), {.width = 2000});
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a weak link: the headline says so, the cause is named, everything is itemised") {
  const std::string text = text_of(radios_only(), fixture::table(), 1);
  CHECK(has(text,
            "Weak: 'kiln valve' should read about 28 % at hub 'hall hub', 9.0 m away. "
            "That is 5.9 dB under the 40 % it must reach."));
  CHECK(has(text,
            "The distance costs 50.3 dB; 2 things in the way cost 42.8 dB together. "
            "The biggest is 'kiln' (kiln shell) with 30.7 dB."));
  CHECK(has(text, "Up: device to hub"));
  CHECK(has(text, "Down: hub to device"));
  CHECK(has(text,
            "The way down, from hub to device, has the smaller margin and counts. It should read "
            "about 28 % at the hub and 34 % at the device; either under 40 % makes it weak."));
  CHECK(has(text, "typically differs from the prediction"));
  CHECK_FALSE(has(text, "dominat"));
  CHECK(has(text, "about 28 in 100"));
  for (const std::string& warning : standing_warnings()) CHECK(has(text, warning));
}

TEST_CASE(
    "noise stands in the budget where there is some, between the receiver's own sensitivity and the margin") {
  LinkTable table = fixture::table();
  CHECK(!has(text_of(radios_only(), table, 1), "noise over"));
  LinkBudget& up = table.links[1].uplink;
  up.noise_rise = Db{3.25};
  up.margin = up.margin - up.noise_rise;
  const std::string text = text_of(radios_only(), table, 1);
  const std::size_t sensitivity = text.find("the receiver's sensitivity");
  const std::size_t noise = text.find("noise over the receiver's own");
  REQUIRE(noise != std::string::npos);
  CHECK(sensitivity < noise);
  CHECK(noise < text.find("margin"));
  CHECK(has(text.substr(sensitivity, text.find('\n', sensitivity) - sensitivity), "-105.00"));
  CHECK(has(text.substr(noise, text.find('\n', noise) - noise), "3.25"));
  CHECK(text.find("noise over", noise + 1) == std::string::npos);  // not in the way down, which has none
  const auto json = nlohmann::json::parse(explain_json(fixture::english(), radios_only(), table, table.links[1]));
  CHECK(json["uplink"]["sensitivity_dbm"] == -105);
  CHECK(json["uplink"]["noise_rise_db"] == 3.25);
  CHECK(std::abs(json["uplink"]["level_dbm"].get<double>() + 105 - 3.25 -
                 json["uplink"]["margin_db"].get<double>()) <= 1e-9);
  CHECK(json["downlink"]["sensitivity_dbm"] == -100);
  CHECK(json["downlink"]["noise_rise_db"] == 0);
}

TEST_CASE("the ground reflection belongs to the distance and is no thing in the way") {
  LinkTable table = fixture::table();
  LossBreakdown& loss = table.links[0].loss;
  loss.items.push_back(fixture::item(LossCause::ground, {}, "", 5));
  loss.leading_terms = 2;
  loss.path_loss_db += 5;
  const std::string text = text_of(radios_only(), table, 0);
  CHECK(has(text, "The distance costs 48.3 dB"));
  CHECK(has(text, "nothing stands in the straight line"));
  CHECK(has(text, "ground reflection"));
}

TEST_CASE("a fine link and one without a way back") {
  const std::string text = text_of(radios_only(), fixture::table(), 0);
  CHECK(has(text, "Fine: 'till contact'"));
  CHECK(has(text, "nothing stands in the straight line"));
  CHECK(has(text, "The device only transmits"));
  CHECK(has(text, "Nothing needs moving"));
}

TEST_CASE("the way down is told at the device, and what is not heard is never fine") {
  LinkTable table = fixture::table();
  Link& link = table.links[0];
  link.uplink = fixture::way(-60, -105, fixture::kHalfDecibelScale);
  link.downlink = fixture::way(-90, -100, fixture::kHalfDecibelScale);
  link.weaker_is_downlink = true;
  link.weak = true;
  link.pass_probability = 0.2;
  CHECK(has(
      text_of(radios_only(), table, 0),
      "Weak: 'till contact' should read about 30 % at the device, 4.0 m from hub 'hall hub'. That is 5.0 dB "
      "under the 40 % it must reach."));
  link.downlink = fixture::way(-70, -65.5, fixture::kHalfDecibelScale);
  const std::string text = text_of(radios_only(), table, 0);
  CHECK(has(text,
            "Deaf: 'till contact' should give no reading at all at the device, 4.0 m from hub 'hall hub'. "
            "Its level "
            "is 4.5 dB under what the receiver hears."));
  CHECK_FALSE(has(text, "Fine"));
  CHECK_FALSE(has(text, "Nothing needs moving"));
  CHECK(std::abs(link.shortfall(table.reading).value - 4.5) <= 1e-9);
}

TEST_CASE("where the distance weighs more, the biggest obstacle is named as no more than that") {
  LinkTable table = fixture::table();
  CHECK(has(
      text_of(radios_only(), table, 2),
      "At 260 m the distance weighs more than any obstacle; the biggest is 'outer wall of shop' (stud wall) "
      "with 3.5 dB."));
  table.links[0].loss.items.push_back(fixture::item(LossCause::floor, fixture::floor_of("upper"), "slab", 5));
  table.links[0].loss.path_loss_db += 5;
  CHECK(has(text_of(radios_only(), table, 0),
            "The distance costs 43.3 dB; 1 thing in the way costs 5.0 dB. It is 'floor of upper' (slab) with "
            "5.0 dB."));
}

TEST_CASE("bends and ways beside the line are told apart from what stands in the way") {
  LinkTable table = fixture::table();
  LossBreakdown& loss = table.links[1].loss;
  loss.items.push_back(fixture::item(LossCause::other_ways, {}, "", -4));
  loss.path_loss_db -= 4;
  const std::string text = text_of(radios_only(), table, 1);
  CHECK(has(text,
            "The distance costs 50.3 dB; 2 things in the way cost 42.8 dB together; ways beside the straight "
            "line save 4.0 dB. The biggest is 'kiln'"));
}

TEST_CASE("a big loss of the mounting or a body is looked at first") {
  LinkTable table = fixture::table();
  Site site = radios_only();
  auto& items = table.links[1].uplink.items;
  items.insert(items.begin() + 1, {BudgetTerm::transmitter_mounting, -8});
  CHECK(advice(fixture::english(), site, table, table.links[1]).front() ==
        "8 dB of it is the mounting: a plastic spacer or a place beside the steel is tried first.");
  for (Device& device : site.devices) device.may_move.reset();
  CHECK(advice(fixture::english(), site, table, table.links[1]).front() ==
        "8 dB of it is the mounting: a plastic spacer is tried first.");
  for (Device& device : site.devices) device.profile = "smoke";
  CHECK(has(advice(fixture::english(), site, table, table.links[1]).front(), "where its instructions allow one"));
  items[1] = {BudgetTerm::transmitter_mounting, -3.9};
  for (const std::string& text : advice(fixture::english(), site, table, table.links[1])) CHECK_FALSE(has(text, "mounting"));
  items[1] = {BudgetTerm::transmitter_body, -6};
  CHECK(has(advice(fixture::english(), site, table, table.links[1]).front(), "6 dB of it is the hand or body"));
}

TEST_CASE("what may move by centimetres or not at all gets no other place") {
  LinkTable table = fixture::table();
  Site site = radios_only();
  const auto said = [&](const std::string& part) {
    const auto texts = advice(fixture::english(), site, table, table.links[1]);
    return std::any_of(texts.begin(), texts.end(), [&](const std::string& text) { return has(text, part); });
  };
  for (Device& device : site.devices) device.may_move = Mobility{Mobility::Radius{0.15}};
  CHECK(said("Shift it by centimetres first, within 0.15 m of its place"));
  CHECK_FALSE(said("Another place"));
  table.links[1].uplink = fixture::way(-101, -105, fixture::kHalfDecibelScale);
  CHECK_FALSE(said("Shift it"));
  CHECK_FALSE(said("Another place"));
  CHECK(said(
      "it moves by centimetres only, within 0.15 m of its place, which is commonly worth some decibels, not "
      "the 16 dB that are missing"));
  for (Device& device : site.devices) device.may_move.reset();
  CHECK_FALSE(said("Another place"));
  CHECK(said("By the site file the device stays where it is"));
  for (Device& device : site.devices) device.may_move = Mobility{Mobility::Radius{0.5}};
  CHECK(said("Another place"));
  CHECK(said("The hub 'hall hub' stays by the site file"));
  site.hubs[0].may_move = Mobility{Mobility::Radius{2}};
  CHECK(said("Or move hub 'hall hub' (it may move within 2 m of its place)"));
}

TEST_CASE("a repeater that the site has already is named before one is bought") {
  const LinkTable table = fixture::table();
  Site site = radios_only();
  site.repeaters.emplace_back().name = "landing";
  CHECK(has(advice(fixture::english(), site, table, table.links[1]).back(), "a repeater that the site has already ('landing')"));
}

TEST_CASE("near the threshold a shift comes first; things to buy come last") {
  const LinkTable table = fixture::table();
  const auto texts = advice(fixture::english(), radios_only(), table, table.links[1]);
  REQUIRE(texts.size() >= 4);
  CHECK(has(texts.front(), "Shift it by centimetres first"));
  CHECK(has(texts.front(), "9 cm at 868.3 MHz"));  // a quarter of 0.3453 m
  CHECK(has(texts[1], "misses 'kiln'"));
  CHECK(has(texts.back(), "Only when no place is enough: a repeater"));
}

TEST_CASE("far under the threshold no shift is promised; distance asks for a nearer place") {
  LinkTable table = fixture::table();
  table.links[2].uplink = fixture::way(-101, -105, fixture::kHalfDecibelScale);
  const auto texts = advice(fixture::english(), radios_only(), table, table.links[2]);
  CHECK(!has(texts.front(), "centimetres"));
  CHECK(has(texts.front(), "A place nearer to the hub"));
}

TEST_CASE("a device whose place is ruled stays; the rule is named") {
  Site site = radios_only();
  for (Device& device : site.devices) device.profile = "smoke";
  const LinkTable table = fixture::table();
  const auto texts = advice(fixture::english(), site, table, table.links[1]);
  CHECK(has(texts.front(), "Leave the device where it is"));
  CHECK(has(texts.front(), "fixed_by_rule"));
  for (const std::string& text : texts) {
    CHECK(!has(text, "Shift it"));
    CHECK(!has(text, "Another place"));
  }
}

TEST_CASE("a hub that hears the device better is named before anything is moved") {
  LinkTable table = fixture::table();
  Link other = table.links[1];
  other.hub = "loft hub";
  other.downlink.reset();
  other.weaker_is_downlink = false;
  other.uplink = fixture::way(-60, -105, fixture::kHalfDecibelScale);
  other.serving = false;
  table.links.push_back(other);
  CHECK(has(advice(fixture::english(), radios_only(), table, table.links[1]).front(),
            "Hub 'loft hub' would hear it better: about 90 %"));
}

TEST_CASE("what centimetres do is said to be counted, or not where fading is off") {
  LinkTable table = fixture::table();
  Link& link = table.links[1];
  link.k_db = 2;
  link.low_percent = 8.2;
  link.high_percent = 49.4;
  CHECK(has(text_of(radios_only(), table, 1),
            "Over centimetres it varies beside that, which is counted: with a chance of 90 % the reading lies "
            "between 8 and 49 %."));
  link.k_db = std::numeric_limits<double>::infinity();
  CHECK(has(text_of(radios_only(), table, 1), "which is not counted here (fading: off)."));
}

TEST_CASE("chances in words") {
  CHECK(chance_phrase(0.28) == "about 28 in 100");
  CHECK(chance_phrase(0.5) == "about 50 in 100");
  CHECK(chance_phrase(0.05) == "about 5 in 100");
  CHECK(chance_phrase(0.95) == "about 95 in 100");
  CHECK(chance_phrase(0) == "less than 1 in 100");
  CHECK(chance_phrase(1) == "more than 99 in 100");
}

TEST_CASE("JSON is the link of check and its text; CSV is one row an item") {
  const LinkTable table = fixture::table();
  const auto json = nlohmann::json::parse(explain_json(fixture::english(), radios_only(), table, table.links[1]));
  CHECK(json["device"] == "kiln valve");
  CHECK(json["losses"].size() == 3);
  CHECK(has(json["text"], "Weak: 'kiln valve'"));
  CHECK(has(json["text"], "Only when no place is enough"));
  CHECK(write_csv(explain_rows(fixture::english(), table.links[1])) ==
        "device,hub,cause,name,material,loss_db,sigma_db,incidence_deg\r\n"
        "kiln valve,hall hub,distance,\"distance, exponent 2\",,50.3,3,0\r\n"
        "kiln valve,hall hub,wall,wall between shop and workshop,brick 0.24 m,12.1,3,0\r\n"
        "kiln valve,hall hub,obstacle,kiln,kiln shell,30.7,3,0\r\n");
}

TEST_CASE("a chance reads the same in every answer, and is never rounded up to what counts as sure") {
  for (int thousandths = 0; thousandths <= 1000; ++thousandths) {
    const double chance = thousandths / 1000.0;
    CAPTURE(chance);
    const std::string figure = chance_percent(chance);
    const std::string phrase = chance_phrase(chance);
    CHECK((phrase == "about " + figure + " in 100" || phrase == "less than 1 in 100" ||
           phrase == "more than 99 in 100"));
    if (chance < 0.9) CHECK(figure != "90");
  }
  CHECK(chance_percent(0.899) == "89");
  CHECK(chance_percent(0.9) == "90");
  CHECK(chance_percent(0.2549) == "25");
  CHECK(chance_percent(0.9899) == "99");
  CHECK(chance_percent(0.0101) == "1");
}

TEST_CASE("a way round is told as one, with where it bends") {
  LinkTable table = fixture::table();
  Link& link = table.links[1];
  link.loss.items = {fixture::distance(55, 12, own_name("back door")),
                     fixture::item(LossCause::other_ways, {}, "", -1),
                     fixture::bend(own_name("back door"), 9)};
  link.loss.turns = {{1, 2, 1}};
  CHECK(bends_phrase(fixture::english(), link.loss) == "back door");
  const std::string text = write_text(explain_document(fixture::english(), {}, table, link), {.width = 2000});
  CHECK(has(text, "Most of the signal comes round by back door, not straight."));
  CHECK_FALSE(has(text, "nothing stands in the straight line"));
  link.loss.turns.clear();
  CHECK(bends_phrase(fixture::english(), link.loss).empty());
}

#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"

#include "fixtures/english.hpp"
#include "fixtures/link_table_fixture.hpp"
#include "fixtures/text_search.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;
using fixture::said;

namespace {

/// A site that has the radios of the fixture's table and nothing else.
Site radios_only() {
  Site site;
  site.storeys.resize(1);
  site.profiles["contact"].name = "contact";
  site.profiles["smoke"].name = "smoke";
  site.profiles["smoke"].fixed_by_rule = true;
  site.hubs = {{.name = "hall hub", .profile = "hub", .place = {}, .capacity = {}, .may_move = {}}};
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

const Wording& wording() {
  static const Wording english(fixture::english());
  return english;
}

/// Spots to try, a repeater to add, and a hub that stays, of the table's second link.
Relocation some_remedies() {
  Relocation found{
      .site = "site", .chance = 0.9, .reading = fixture::table().reading, .devices = {}, .warnings = {}};
  DeviceRelocation device{.link = fixture::table().links[1],
                          .reading_percent = {},
                          .expected = {},
                          .remedies = {},
                          .left_out = {SkipReason::hubs_stay}};
  Remedy spots{.kind = RemedyKind::spots, .radio = device.link.device};
  spots.trial = SpotTrial{.shape = SpotShape::four, .distance_m = 0.09, .spots = 5, .pass_probability = 0.6};
  spots.expected = ExpectedReading{};
  spots.expected->pass_probability = 0.6;
  Remedy repeater{.kind = RemedyKind::new_repeater, .radio = "repeater 1"};
  repeater.place = Placement{};
  repeater.expected = ExpectedReading{};
  repeater.expected->pass_probability = 0.95;
  repeater.enough = true;
  device.remedies = {spots, repeater};
  found.devices = {device};
  return found;
}

std::string tried(const Site& site, const LinkTable& table, const Relocation& relocation) {
  return write_text(explain_document(fixture::english(), site, table, table.links[1], nullptr, &relocation),
                    {.width = 2000});
}

}  // namespace

TEST_CASE("a weak link: the headline says so, the cause is named, everything is itemised") {
  const std::string text = text_of(radios_only(), fixture::table(), 1);
  CHECK(has(
      text,
      said("explain.weak",
           {{"device", "kiln valve"}, {"percent", "28"}, {"threshold", "40"}, {"difference", "5.9 dB"}})));
  CHECK(has(text, said("explain.part.distance", {{"loss", "50.3 dB"}})));
  CHECK(has(text, said("explain.part.obstacles",
                       {{"loss", "42.8 dB"},
                        {"obstacles",
                         "kiln (kiln shell) 30.7 and wall between shop and workshop (brick 0.24 m) 12.1"}})));
  CHECK(has(text, said("explain.budget.up")));
  CHECK(has(text, said("explain.budget.down")));
  CHECK(has(text, said("explain.down_counts", {{"hub", "the hub"}, {"up", "28"}, {"down", "34"}})));
  CHECK(has(text, said("explain.either_weak", {{"threshold", "40"}})));
  CHECK(has(text, "28 in 100"));
  CHECK(has(text, said("caution.short.reading_decides")));
}

TEST_CASE(
    "noise stands in the budget where there is some, between the receiver's own sensitivity and the margin") {
  LinkTable table = fixture::table();
  CHECK(!has(text_of(radios_only(), table, 1), said("explain.budget.noise")));
  LinkBudget& up = table.links[1].uplink;
  up.noise_rise = Db{3.25};
  up.margin = up.margin - up.noise_rise;
  const std::string text = text_of(radios_only(), table, 1);
  const std::size_t sensitivity = text.find(said("explain.budget.sensitivity"));
  const std::size_t noise = text.find(said("explain.budget.noise"));
  REQUIRE(noise != std::string::npos);
  CHECK(sensitivity < noise);
  CHECK(noise < text.find(said("explain.budget.margin"), noise));
  CHECK(has(text.substr(sensitivity, text.find('\n', sensitivity) - sensitivity), "-105.00"));
  CHECK(has(text.substr(noise, text.find('\n', noise) - noise), "3.25"));
  CHECK(text.find(said("explain.budget.noise"), noise + 1) ==
        std::string::npos);  // not in the way down, which has none
  const auto json =
      nlohmann::json::parse(explain_json(fixture::english(), radios_only(), table, table.links[1]));
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
  CHECK(has(text, said("explain.part.distance", {{"loss", "48.3 dB"}})));
  CHECK(has(text, said("cause.in_sight", {{"distance", "4.0 m"}, {"hub", "the hub"}})));
  CHECK(has(text, said("item.ground")));
}

TEST_CASE("a good link and one without a way back") {
  const std::string text = text_of(radios_only(), fixture::table(), 0);
  CHECK(has(text, "till contact is good"));
  CHECK(has(text, said("cause.in_sight", {{"distance", "4.0 m"}, {"hub", "the hub"}})));
  CHECK(has(text, said("explain.one_way", {{"hub", "the hub"}})));
  CHECK(has(text, said("explain.needs_nothing")));
}

TEST_CASE("enough with a chance under 90 in 100 is doubtful, never good") {
  LinkTable table = fixture::table();
  table.links[0].pass_probability = 0.89;
  fixture::judge(table.links[0]);
  const std::string text = text_of(radios_only(), table, 0);
  CHECK(has(text, "till contact is doubtful"));
  CHECK(has(text, "89 in 100"));
  CHECK_FALSE(has(text, " is good"));
}

TEST_CASE("the way down is told at the device, and what is not heard is never fine") {
  LinkTable table = fixture::table();
  Link& link = table.links[0];
  link.uplink = fixture::way(-60, -105, fixture::kHalfDecibelScale);
  link.downlink = fixture::way(-90, -100, fixture::kHalfDecibelScale);
  link.weaker_is_downlink = true;
  link.weak = true;
  link.pass_probability = 0.2;
  fixture::judge(link);
  CHECK(has(
      text_of(radios_only(), table, 0),
      said("explain.weak",
           {{"device", "till contact"}, {"percent", "30"}, {"threshold", "40"}, {"difference", "5.0 dB"}})));
  link.downlink = fixture::way(-70, -65.5, fixture::kHalfDecibelScale);
  const std::string text = text_of(radios_only(), table, 0);
  CHECK(has(text, said("explain.no_reading_down",
                       {{"device", "till contact"}, {"hub", "the hub"}, {"short", "4.5 dB"}})));
  CHECK_FALSE(has(text, " is good"));
  CHECK(std::abs(link.shortfall(table.reading).value - 4.5) <= 1e-9);
}

TEST_CASE("where the distance weighs more, the biggest obstacle is named as no more than that") {
  LinkTable table = fixture::table();
  CHECK(has(text_of(radios_only(), table, 2),
            said("cause.distance", {{"distance", "260.0 m"},
                                    {"hub", "the hub"},
                                    {"count", "one wall"},
                                    {"thing", "outer wall of shop (stud wall)"}})));
  table.links[0].loss.items.push_back(fixture::item(LossCause::floor, fixture::floor_of("upper"), "slab", 5));
  table.links[0].loss.path_loss_db += 5;
  CHECK(has(
      text_of(radios_only(), table, 0),
      said("cause.only", {{"distance", "4.0 m"}, {"hub", "the hub"}, {"thing", "floor of upper (slab)"}})));
}

TEST_CASE("things that cost about the same are not ranked") {
  LinkTable table = fixture::table();
  LossBreakdown& loss = table.links[0].loss;
  const Language::Place distance{"distance", "4.0 m"}, hub{"hub", "the hub"};
  for (const double loss_db : {21.0, 20.5, 20.2}) {
    loss.items.push_back(fixture::item(LossCause::floor, fixture::floor_of("upper"), "slab", loss_db));
    loss.path_loss_db += loss_db;
    if (loss_db == 20.5) {
      CHECK(has(text_of(radios_only(), table, 0),
                said("cause.two_alike", {distance,
                                         hub,
                                         {"count", "2 obstacles"},
                                         {"thing", "floor of upper (slab)"},
                                         {"second", "floor of upper (slab)"}})));
    }
  }
  CHECK(
      has(text_of(radios_only(), table, 0), said("cause.alike", {distance, hub, {"count", "3 obstacles"}})));
  loss.items.back().loss_db = 19.9;  // 1.1 dB less than the most
  CHECK_FALSE(
      has(text_of(radios_only(), table, 0), said("cause.alike", {distance, hub, {"count", "3 obstacles"}})));
}

TEST_CASE("bends and paths beside the line are told apart from what stands in the way") {
  LinkTable table = fixture::table();
  LossBreakdown& loss = table.links[1].loss;
  loss.items.push_back(fixture::item(LossCause::other_ways, {}, "", -4));
  loss.path_loss_db -= 4;
  const std::string text = text_of(radios_only(), table, 1);
  CHECK(has(text, said("explain.part.distance", {{"loss", "50.3 dB"}})));
  CHECK(has(text, said("explain.part.detours", {{"loss", "4.0 dB"}})));
}

TEST_CASE("what to try is what relocate found, in its order and words") {
  const Site site = radios_only();
  const Relocation found = some_remedies();
  const DeviceRelocation& device = found.devices.front();
  const std::string text = tried(site, fixture::table(), found);
  const std::size_t spots =
      text.find(" 1. " + remedy_line(wording(), site, found, device, device.remedies[0]));
  const std::size_t bought =
      text.find(" 2. " + remedy_line(wording(), site, found, device, device.remedies[1]));
  CHECK(spots < bought);
  CHECK(bought != std::string::npos);
  CHECK(has(text, said("remedy.best") + " "));  // spots, which are not enough, before anything is bought
  CHECK(has(text, said("left_out.hubs_stay")));
}

TEST_CASE("a big loss of the mounting or a body comes before the remedies") {
  LinkTable table = fixture::table();
  Site site = radios_only();
  table.links[1].downlink.reset();
  table.links[1].weaker_is_downlink = false;
  auto& items = table.links[1].uplink.items;
  items.insert(items.begin() + 1, {BudgetTerm::transmitter_mounting, -8});
  const auto first = [&](std::string_view key, double db) {
    return " 1. " + said(std::string(key),
                         {{"points", fixed_text(100 * db / (site.reading.full - site.reading.zero).value, 0)},
                          {"thick", "25 mm"}});
  };
  const auto told = [&] {
    Relocation found = some_remedies();
    found.devices[0].link = table.links[1];
    return tried(site, table, found);
  };
  CHECK_FALSE(has(told(), "spacer"));  // that of others is a remedy
  for (Device& device : site.devices) device.profile = "smoke";
  CHECK(has(told(), first("mounting.ruled", 8 - site.profiles.at("smoke").mount_loss_db)));
  items[1] = {BudgetTerm::transmitter_mounting, -3.9};
  CHECK_FALSE(has(told(), "spacer"));
  items[1] = {BudgetTerm::transmitter_body, -6};
  CHECK(has(told(), first("mounting.body", 6)));
}

TEST_CASE("what centimetres do is said to be counted, or not where fading is off") {
  LinkTable table = fixture::table();
  Link& link = table.links[1];
  link.k_db = 2;
  link.low_percent = 8.2;
  link.high_percent = 49.4;
  const std::string counted = text_of(radios_only(), table, 1);
  CHECK(has(counted, "between 8 and 49 %"));
  CHECK(has(counted, said("explain.fading_on")));
  link.k_db = std::numeric_limits<double>::infinity();
  CHECK(has(text_of(radios_only(), table, 1), said("explain.fading_off")));
}

TEST_CASE("JSON is the link of check and its text; CSV is one row an item") {
  const LinkTable table = fixture::table();
  const auto json =
      nlohmann::json::parse(explain_json(fixture::english(), radios_only(), table, table.links[1]));
  CHECK(json["device"] == "kiln valve");
  CHECK(json["losses"].size() == 3);
  CHECK(has(json["text"], "kiln valve is weak"));
  CHECK(has(json["text"], said("explain.needs_nothing")));
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
    const std::string figure = wording().chance_figure(chance);
    const std::string phrase = wording().chance(chance);
    CHECK((phrase == said("chance.about", {{"count", figure}}) || phrase == said("chance.least") ||
           phrase == said("chance.most")));
    if (chance < 0.9) CHECK(figure != "90");
  }
  CHECK(wording().chance_figure(0.899) == "89");
  CHECK(wording().chance_figure(0.9) == "90");
  CHECK(wording().chance_figure(0.2549) == "25");
  CHECK(wording().chance_figure(0.9899) == "99");
  CHECK(wording().chance_figure(0.0101) == "1");
}

TEST_CASE("a way round is told as one, with where it bends") {
  LinkTable table = fixture::table();
  Link& link = table.links[1];
  link.loss.items = {fixture::distance(55, 12, own_name("back door")),
                     fixture::item(LossCause::other_ways, {}, "", -1),
                     fixture::bend(own_name("back door"), 9)};
  link.loss.turns = {{1, 2, 1}};
  CHECK(bends_words(wording(), link.loss) == "back door");
  const std::string text = write_text(explain_document(fixture::english(), {}, table, link), {.width = 2000});
  CHECK(has(text, "via back door"));
  CHECK_FALSE(has(text, "nothing in the way"));
  link.loss.turns.clear();
  CHECK(bends_words(wording(), link.loss).empty());
}

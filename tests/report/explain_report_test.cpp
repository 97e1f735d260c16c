#include "linkmargin/report/explain_report.hpp"

#include "linkmargin/report/advice.hpp"
#include "linkmargin/report/cautions.hpp"
#include "linkmargin/report/phrases.hpp"
#include "linkmargin/report/write_csv.hpp"
#include "linkmargin/report/write_text.hpp"

#include "report/link_table_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using namespace linkmargin;

namespace {

/// A site that has the radios of the fixture's table and nothing else.
Site radios_only() {
  Site site;
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
    site.devices.push_back(device);
  }
  return site;
}

std::string text_of(const Site& site, const LinkTable& table, std::size_t link) {
  return write_text(explain_document(site, table, table.links[link]), {.width = 2000});
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a weak link: the headline says so, the cause is named, everything is itemised") {
  const std::string text = text_of(radios_only(), fixture::table(), 1);
  CHECK(has(text,
            "Weak: 'kiln valve' should read about 34 % at hub 'hall hub', 9.0 m away. "
            "That is 3.0 dB under the 40 % it must reach."));
  CHECK(has(text,
            "The distance costs 50.3 dB; 2 things in the way cost 42.8 dB together. "
            "What dominates is 'kiln' (kiln shell) with 30.7 dB."));
  CHECK(has(text, "Up: device to hub"));
  CHECK(has(text, "Down: hub to device"));
  CHECK(has(text, "The way down, from hub to device, is the weaker one"));
  CHECK(has(text, "about 3 in 10"));
  for (const std::string& caution : standing_cautions()) CHECK(has(text, caution));
}

TEST_CASE("a fine link and one without a way back") {
  const std::string text = text_of(radios_only(), fixture::table(), 0);
  CHECK(has(text, "Fine: 'till contact'"));
  CHECK(has(text, "nothing stands in the straight line"));
  CHECK(has(text, "The device only transmits"));
  CHECK(has(text, "Nothing needs moving"));
}

TEST_CASE("near the threshold a shift comes first; things to buy come last") {
  const LinkTable table = fixture::table();
  const auto texts = advice(radios_only(), table, table.links[1]);
  REQUIRE(texts.size() >= 4);
  CHECK(has(texts.front(), "Shift it by centimetres first"));
  CHECK(has(texts.front(), "9 cm at 868.3 MHz"));  // a quarter of 0.3453 m
  CHECK(has(texts[1], "misses 'kiln'"));
  CHECK(has(texts.back(), "Only when no place is enough: a repeater"));
}

TEST_CASE("far under the threshold no shift is promised; distance asks for a nearer place") {
  LinkTable table = fixture::table();
  table.links[2].uplink = fixture::way(-101, -105, {});
  const auto texts = advice(radios_only(), table, table.links[2]);
  CHECK(!has(texts.front(), "centimetres"));
  CHECK(has(texts.front(), "A place nearer to the hub"));
}

TEST_CASE("a device whose place is ruled stays; the rule is named") {
  Site site = radios_only();
  for (Device& device : site.devices) device.profile = "smoke";
  const LinkTable table = fixture::table();
  const auto texts = advice(site, table, table.links[1]);
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
  other.uplink = fixture::way(-60, -105, {});
  other.serving = false;
  table.links.push_back(other);
  CHECK(has(advice(radios_only(), table, table.links[1]).front(),
            "Hub 'loft hub' would hear it better: about 90 %"));
}

TEST_CASE("chances in words") {
  CHECK(chance_phrase(0.28) == "about 3 in 10");
  CHECK(chance_phrase(0.5) == "about 5 in 10");
  CHECK(chance_phrase(0.05) == "about 5 in 100");
  CHECK(chance_phrase(0.95) == "about 95 in 100");
  CHECK(chance_phrase(0) == "less than 1 in 100");
  CHECK(chance_phrase(1) == "more than 99 in 100");
}

TEST_CASE("JSON is the link of check and its text; CSV is one row an item") {
  const LinkTable table = fixture::table();
  const auto json = nlohmann::json::parse(explain_json(radios_only(), table, table.links[1]));
  CHECK(json["device"] == "kiln valve");
  CHECK(json["losses"].size() == 3);
  CHECK(has(json["text"], "Weak: 'kiln valve'"));
  CHECK(has(json["text"], "Only when no place is enough"));
  CHECK(write_csv(explain_rows(table.links[1])) ==
        "device,hub,cause,name,material,loss_db,sigma_db,incidence_deg\r\n"
        "kiln valve,hall hub,distance,\"distance, exponent 2\",,50.3,3,0\r\n"
        "kiln valve,hall hub,wall,wall between shop and workshop,brick 0.24 m,12.1,3,0\r\n"
        "kiln valve,hall hub,obstacle,kiln,kiln shell,30.7,3,0\r\n");
}

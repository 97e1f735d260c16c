#include "linkmargin/report/check_report.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/text/display_text.hpp"

#include "fixtures/english.hpp"
#include "fixtures/link_table_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace linkmargin;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> lines_of(const LinkTable& table, int width = 100) {
  return wrapped(write_text(check_document(fixture::english(), table), {.width = width}), 100000);
}

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& entry : object.items()) keys.push_back(entry.key());
  return keys;
}

}  // namespace

TEST_CASE("first what was computed, then the verdict, then the worst device") {
  const auto lines = lines_of(fixture::table());
  REQUIRE(lines.size() > 9);
  CHECK(lines[0] == "Test yard, all doors closed (armed)");
  CHECK(lines[1].starts_with("2 of 3 devices are weak: gate contact with quite a long name and kiln valve."));
  CHECK((lines[1] + lines[2]).find("drive") != std::string::npos);
  CHECK((lines[1] + lines[2]).find("hall hub") != std::string::npos);
  CHECK(lines[7].starts_with("! gate contact with"));
  CHECK(lines[8].starts_with("! kiln valve"));
  CHECK(lines[9].starts_with("till contact"));  // its own two blanks were taken by wrapped()
}

TEST_CASE("a device under the threshold by distance, one by an obstacle, each with its cause") {
  const std::string text = write_text(check_document(fixture::english(), fixture::table()), {.width = 120});
  CHECK(text.find("260 m from the hub") != std::string::npos);
  CHECK(text.find("at hall hub only 28 %") != std::string::npos);
  CHECK(text.find("clear line of sight") != std::string::npos);
}

TEST_CASE("what the strongest way meets, and which way that is, where it is not the straight line") {
  LinkTable table = fixture::table();
  Link& link = table.links[0];
  link.loss.items = {fixture::distance(47, 7, own_name("gap")),
                     fixture::item(LossCause::other_ways, {}, "", -2),
                     fixture::bend(piece_of(fixture::traced_wall("m1"), PartPiece::end), -0.4)};
  link.loss.turns = {{1, 2, 1}};
  const auto text = [&] { return write_text(check_document(fixture::english(), table), {.width = 160}); };
  CHECK(text().find("clear line of sight") == std::string::npos);
  CHECK(text().find("  via end of m1") != std::string::npos);
  link.loss.items.push_back(fixture::item(LossCause::wall, fixture::wall_between("a", "b"), "stud wall", 3));
  CHECK(text().find("wall: stud wall, via end of m1, 3 dB") != std::string::npos);
  CHECK(text().find("Aslant") == std::string::npos);
  link.loss.items.back().incidence_deg = 72;
  CHECK(text().find("aslant: stud wall, via end of m1, 3 dB") != std::string::npos);
  CHECK(text().find("Aslant: ") != std::string::npos);
  link.loss.items[2].loss_db = 7;
  CHECK(text().find("via end of m1, 7 dB") != std::string::npos);
  link.loss.distance_m = 15;
  CHECK(text().find("15 m from the hub, via end of m1") != std::string::npos);
}

TEST_CASE("when nothing is weak it says so") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  table.weak_devices.clear();
  table.areas.clear();
  table.hubs.clear();
  CHECK(lines_of(table)[1] == "The only device is good.");
  table.model = PathLossModel::free_space;
  CHECK(write_text(check_document(fixture::english(), table), {.width = 1000})
            .find(fixture::english().say("verdict.no_walls")) != std::string::npos);
  table.links.clear();
  CHECK(lines_of(table)[1].starts_with(fixture::english().say("verdict.none")));
}

TEST_CASE("the verdict tells weak areas and full hubs where every device is fine") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  CHECK(write_text(check_document(fixture::english(), table), {.width = 1000})
            .find("\nThe only device is good. " +
                  fixture::english().say("verdict.areas", {{"names", "drive"}}) + " " +
                  fixture::english().say("verdict.full_hubs", {{"names", "hall hub"}}) + "\n") !=
        std::string::npos);
}

TEST_CASE("a direction that the row does not show is told where it is weak, and sorts the device") {
  LinkTable table = fixture::table();
  Link& link = table.links[0];
  link.uplink = fixture::way(-92, -115, fixture::kHalfDecibelScale);   // 26 %, a margin of 23 dB
  link.downlink = fixture::way(-70, -85, fixture::kHalfDecibelScale);  // 70 %, a margin of 15 dB
  link.weaker_is_downlink = true;
  link.weak = true;
  fixture::judge(link);
  const auto lines = lines_of(table, 120);
  CHECK(lines[8].starts_with("! till contact"));  // 26 %: between the gate's 0 and the kiln's 34
  CHECK(lines[8].find(" 70 ") != std::string::npos);
  CHECK(lines[8].ends_with("at hall hub only 26 %"));
}

TEST_CASE("what is not heard is first, with a reading of 0") {
  LinkTable table = fixture::table();
  table.links[0].downlink = fixture::way(-70, -60, fixture::kHalfDecibelScale);
  table.links[0].weaker_is_downlink = true;
  table.links[0].weak = true;
  fixture::judge(table.links[0]);
  table.links[2].uplink = fixture::way(-100, -105, fixture::kHalfDecibelScale);
  const auto lines = lines_of(table, 120);
  CHECK(lines[7].starts_with("! till contact"));
  CHECK(lines[7].find(" 0 \u2591") != std::string::npos);
}

TEST_CASE("what is enough but doubtful has a mark of its own, explained") {
  LinkTable table = fixture::table();
  CHECK(write_text(check_document(fixture::english(), table)).find("? doubtful") == std::string::npos);
  table.links[0].pass_probability = 0.89;
  fixture::judge(table.links[0]);
  const std::string text = write_text(check_document(fixture::english(), table), {.width = 1000});
  CHECK(text.find("? till contact") != std::string::npos);
  CHECK(text.find("? doubtful: ") != std::string::npos);
}

TEST_CASE("without a caution there is no heading for them") {
  LinkTable table = fixture::table();
  CHECK(write_text(check_document(fixture::english(), table)).find("\nNotes on this site\n") !=
        std::string::npos);
  table.warnings.clear();
  CHECK(write_text(check_document(fixture::english(), table)).find("Notes on this site") ==
        std::string::npos);
}

TEST_CASE("where the width is short columns go in their order, and names keep 24 characters") {
  LinkTable table = fixture::table();
  table.links[1].downlink.reset();
  table.links[1].weaker_is_downlink = false;
  const auto has = [&](int width, const std::string& part) {
    return write_text(check_document(fixture::english(), table), {.width = width}).find(part) !=
           std::string::npos;
  };
  CHECK(has(120, "\u2588"));
  CHECK(has(120, "gate contact with quite a long name"));
  // The first to be left out stands first.
  const std::vector<std::string> in_turn{
      "Loss",   "Level",     "Margin",    "Distance",
      "\u2588", "9 in 10  ", "Main cause"};  // of the titles, not of the key
  std::size_t before = in_turn.size();
  for (int width = 140; width >= 54; --width) {
    CAPTURE(width);
    std::vector<bool> shown;
    for (const std::string& part : in_turn) shown.push_back(has(width, part));
    CHECK(std::ranges::is_sorted(shown));  // what is left out first is never shown longer
    const auto count = static_cast<std::size_t>(std::ranges::count(shown, true));
    CHECK(count <= before);
    before = count;
    CHECK(has(width, "gate contact with quite"));
  }
  CHECK(before == 0);
  for (const std::string& part : in_turn) CHECK(has(140, part));
}

TEST_CASE("no line is wider than asked for, whatever the names") {
  LinkTable table = fixture::table();
  for (Link& link : table.links) {
    link.device += std::string(60, 'w');
    link.hub = std::string(80, 'h');
    link.loss.items.back().part = own_name(std::string(80, 'k'));
  }
  for (const int width : {60, 61, 72, 80, 99, 100}) {
    CAPTURE(width);
    const std::string text = write_text(check_document(fixture::english(), table), {.width = width});
    std::size_t start = 0;
    for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', start)) {
      CHECK(display_width(std::string_view(text).substr(start, end - start)) <= width);
      start = end + 1;
    }
  }
}

TEST_CASE("a reading just under the threshold is never shown as the threshold") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  Link& link = table.links[0];
  link.uplink = fixture::way(-85.2, -105, fixture::kHalfDecibelScale);  // 39.6 %
  link.weak = true;
  fixture::judge(link);
  const std::string text = write_text(check_document(fixture::english(), table));
  CHECK(text.find(" 39 \u2588") != std::string::npos);
  CHECK(text.find(" 40 \u2588") == std::string::npos);
  CHECK(text.find("at only 94 % of the spots") != std::string::npos);  // 94.7
}

TEST_CASE("the range of a reading stands beside it, and its ends keep to their side of the threshold") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  table.links[0].low_percent = 39.7;
  table.links[0].high_percent = 91.4;
  CHECK(write_text(check_document(fixture::english(), table)).find(" 39 to 91 ") != std::string::npos);
  table.links[0].low_percent = table.links[0].high_percent = 0;
  CHECK(write_text(check_document(fixture::english(), table)).find(" 0 to 0 ") == std::string::npos);
}

TEST_CASE("of an area the share and its edge are told") {
  LinkTable table = fixture::table();
  table.areas[0].edge_share_percent = 81.3;
  const std::string text = write_text(check_document(fixture::english(), table), {.width = 1000});
  CHECK(text.find("along its edge at 81 %") != std::string::npos);
  CHECK(text.find("should read 12 %") != std::string::npos);
  CHECK(Json::parse(check_json(fixture::english(), table))["areas"][0]["edge_share_percent"] == 81.3);
}

TEST_CASE("slots over the capacity are marked, classes listed") {
  const std::string text = write_text(check_document(fixture::english(), fixture::table()), {.width = 1000});
  CHECK(text.find(" ! hall hub: 9 of 8 slots used. By class: fobs 1 of 4 and others 8 of 4. Over capacity: 4 "
                  "too many in others.") != std::string::npos);
  LinkTable table = fixture::table();
  table.hubs = {{.hub = "loft hub", .slots_used = 1, .capacity = {}, .classes = {}, .over_capacity = false},
                {.hub = "attic hub", .slots_used = 3, .capacity = 1, .classes = {}, .over_capacity = true}};
  const std::string others = write_text(check_document(fixture::english(), table));
  CHECK(others.find(" - loft hub: 1 slot used (devices and remotes take them).") != std::string::npos);
  CHECK(others.find(" ! attic hub: 3 of 1 slot used. Over capacity: 2 too many.") != std::string::npos);
}

TEST_CASE("JSON has the documented keys in their order") {
  LinkTable table = fixture::table();
  table.links[1].low_percent = 11.5;
  table.links[1].high_percent = 47.25;
  table.links[1].outage = 0.004;
  table.links[1].k_db = 2;
  const Json json = Json::parse(check_json(fixture::english(), table));
  CHECK(keys_of(json) == std::vector<std::string>{"site", "frequency_mhz", "doors", "model",
                                                  "weak_below_percent", "links", "areas", "hubs",
                                                  "weak_devices", "doubtful_devices", "cautions"});
  CHECK(json["frequency_mhz"] == 868.3);
  CHECK(json["doors"] == "armed");
  CHECK(json["weak_devices"].size() == 2);
  const Json& link = json["links"][1];
  for (const char* key :
       {"device", "hub", "via", "distance_m", "path_loss_db", "losses", "uplink", "downlink", "level_dbm",
        "margin_db", "reading_percent", "sigma_db", "pass_probability", "weak"}) {
    CAPTURE(key);
    CHECK(link.contains(key));
  }
  CHECK(link["via"].is_array());
  CHECK(link["level_dbm"] == -88);  // of the weaker direction
  CHECK(link["uplink"]["budget"][0]["name"] == fixture::english().say("term.transmitted"));
  CHECK(json["links"][0]["downlink"].is_null());
  CHECK(json["links"][0]["k_db"].is_null());  // no fading
  CHECK(link["reading_low_percent"] == 11.5);
  CHECK(link["reading_high_percent"] == 47.25);
  CHECK(link["outage"] == 0.004);
  CHECK(link["k_db"] == 2);
  CHECK(json["areas"][0]["wanted_percent"] == 95);
  CHECK(json["hubs"][0]["classes"][1]["capacity"] == 4);
  CHECK(json["hubs"][0]["over_capacity"] == true);
}

TEST_CASE("the losses of JSON add up to its path loss within 1e-9 dB") {
  LinkTable table = fixture::table();
  std::vector<LossItem> items{fixture::distance(61.0 + 1.0 / 3)};
  for (int i = 0; i < 500; ++i)
    items.push_back(fixture::item(LossCause::wall, fixture::outer_wall("w"), "m", 0.1 + 1e-3 * std::sqrt(i)));
  table.links.push_back(fixture::link("many walls", 12, items));
  const Json json = Json::parse(check_json(fixture::english(), table));
  REQUIRE(json["links"].size() == 4);
  for (const Json& link : json["links"]) {
    double sum_db = 0;
    for (const Json& item : link["losses"]) sum_db += item["loss_db"].get<double>();
    CHECK(std::abs(sum_db - link["path_loss_db"].get<double>()) <= 1e-9);
  }
}

TEST_CASE("numbers that are none become null in JSON and empty in CSV; odd bytes stay readable") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  table.links[0].device = "caf\xE9";
  table.links[0].sigma_db = std::numeric_limits<double>::quiet_NaN();
  const Json json = Json::parse(check_json(fixture::english(), table));
  CHECK(json["links"][0]["sigma_db"].is_null());
  CHECK(json["links"][0]["device"] == "caf\uFFFD");
  CHECK(write_csv(check_rows(table)).find(",,0.97,false") != std::string::npos);
}

TEST_CASE("a capacity that nobody stated is null") {
  LinkTable table = fixture::table();
  table.hubs[0].capacity.reset();
  CHECK(Json::parse(check_json(fixture::english(), table))["hubs"][0]["capacity"].is_null());
}

TEST_CASE("CSV has one row a device and the documented columns") {
  const std::string csv = write_csv(check_rows(fixture::table()));
  CHECK(
      csv.starts_with("device,hub,via,distance_m,path_loss_db,level_dbm,margin_db,reading_percent,sigma_db,"
                      "pass_probability,weak,outcome,reading_low_percent,reading_high_percent,outage,k_db\r\n"
                      "till contact,hall hub,,4,43.3,"));
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 4);
  CHECK(write_csv(check_rows(fixture::table(), true)).find("weak,outcome,serving,reading_low_percent,") !=
        std::string::npos);
}

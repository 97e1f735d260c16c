#include "linkmargin/report/check_report.hpp"

#include "linkmargin/report/display_text.hpp"
#include "linkmargin/report/write_csv.hpp"
#include "linkmargin/report/write_text.hpp"

#include "report/link_table_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>

using namespace linkmargin;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> lines_of(const LinkTable& table, int width = 100) {
  return wrapped(write_text(check_document(table), {.width = width}), 100000);
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
  CHECK(lines[0] == "Test yard: 868.3 MHz, doors closed (armed), model walls");
  CHECK(lines[1] == "2 of 3 devices are weak: gate contact with quite a long name and kiln valve.");
  CHECK(lines[6].starts_with("! gate contact with"));
  CHECK(lines[7].starts_with("! kiln valve"));
  CHECK(lines[8].starts_with("till contact"));  // its own two blanks were taken by wrapped()
}

TEST_CASE("a device under the threshold by distance, one by an obstacle, each with its cause") {
  const std::string text = write_text(check_document(fixture::table()));
  CHECK(text.find("distance: 91 dB") != std::string::npos);
  CHECK(text.find("kiln: 31 dB") != std::string::npos);
  CHECK(text.find("distance: 43 dB") != std::string::npos);
}

TEST_CASE("when nothing is weak it says so") {
  LinkTable table = fixture::table();
  table.links.resize(1);
  table.weak_devices.clear();
  CHECK(lines_of(table)[1] == "No device is predicted weak.");
  table.links.clear();
  CHECK(lines_of(table)[1] == "No device is placed in this site.");
}

TEST_CASE("no line is wider than asked for, whatever the names") {
  LinkTable table = fixture::table();
  for (Link& link : table.links) {
    link.device += std::string(60, 'w');
    link.hub = std::string(80, 'h');
    link.loss.items.back().name = std::string(80, 'k');
  }
  for (const int width : {72, 80, 100}) {
    CAPTURE(width);
    const std::string text = write_text(check_document(table), {.width = width});
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
  link.uplink = fixture::way(-85.2, -105, {});  // 39.6 %
  link.weak = true;
  const std::string text = write_text(check_document(table));
  CHECK(text.find(" 39 \u2588") != std::string::npos);
  CHECK(text.find(" 40 \u2588") == std::string::npos);
  CHECK(text.find("94 % covered by hall hub, 95 % wanted: weak") != std::string::npos);  // 94.7
}

TEST_CASE("slots over the capacity are marked, classes listed") {
  const std::string text = write_text(check_document(fixture::table()));
  CHECK(text.find(" ! hall hub: 9 of 8 slots used (fobs 1 of 4 and others 8 of 4): more than it has") !=
        std::string::npos);
}

TEST_CASE("JSON has the documented keys in their order") {
  const Json json = Json::parse(check_json(fixture::table()));
  CHECK(keys_of(json) == std::vector<std::string>{"site", "frequency_mhz", "doors", "model",
                                                  "weak_below_percent", "links", "areas", "hubs",
                                                  "weak_devices", "cautions"});
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
  CHECK(link["uplink"]["budget"][0]["name"] == "transmitted (e.i.r.p.)");
  CHECK(json["links"][0]["downlink"].is_null());
  CHECK(json["areas"][0]["wanted_percent"] == 95);
  CHECK(json["hubs"][0]["classes"][1]["capacity"] == 4);
  CHECK(json["hubs"][0]["over_capacity"] == true);
}

TEST_CASE("the losses of JSON add up to its path loss within 1e-9 dB") {
  LinkTable table = fixture::table();
  std::vector<LossItem> items{fixture::item(LossCause::distance, "distance", "", 61.0 + 1.0 / 3)};
  for (int i = 0; i < 500; ++i)
    items.push_back(fixture::item(LossCause::wall, "w", "m", 0.1 + 1e-3 * std::sqrt(i)));
  table.links.push_back(fixture::link("many walls", 12, items));
  const Json json = Json::parse(check_json(table));
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
  table.links[0].loss.sigma_db = std::numeric_limits<double>::quiet_NaN();
  const Json json = Json::parse(check_json(table));
  CHECK(json["links"][0]["sigma_db"].is_null());
  CHECK(json["links"][0]["device"] == "caf\uFFFD");
  CHECK(write_csv(check_rows(table)).find(",,0.97,false") != std::string::npos);
}

TEST_CASE("a capacity that nobody stated is null") {
  LinkTable table = fixture::table();
  table.hubs[0].capacity.reset();
  CHECK(Json::parse(check_json(table))["hubs"][0]["capacity"].is_null());
}

TEST_CASE("CSV has one row a device and the documented columns") {
  const std::string csv = write_csv(check_rows(fixture::table()));
  CHECK(
      csv.starts_with("device,hub,via,distance_m,path_loss_db,level_dbm,margin_db,reading_percent,sigma_db,"
                      "pass_probability,weak\r\ntill contact,hall hub,,4,43.3,"));
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 4);
  CHECK(write_csv(check_rows(fixture::table(), true)).find("weak,serving\r\n") != std::string::npos);
}

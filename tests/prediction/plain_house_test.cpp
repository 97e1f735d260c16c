#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/prediction/material_neighbours.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

Site plain_house() {
  const auto text = read_text_file(LINKMARGIN_TEST_DATA "/prediction/plain_house.yaml");
  REQUIRE(text);
  const auto site = parse_site(*text, "plain_house.yaml", embedded_tables());
  REQUIRE(site);
  return *site;
}

}  // namespace

TEST_CASE(
    "built-in profiles radiate less than the limit of their band, by what their antenna lacks, and say how "
    "sure") {
  constexpr double half_wave_dbi = 2.15;
  for (const auto& [name, profile] : embedded_tables().profiles) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    const bool mains = name == "hub" || name == "repeater";
    const double limit_eirp_dbm = (mains ? 14 : 10) + half_wave_dbi;
    REQUIRE(radio_end(profile).eirp);
    const double under_db = limit_eirp_dbm - radio_end(profile).eirp->value;
    CHECK(under_db >= 2);
    CHECK(under_db <= 11);
    CHECK(profile.sigma_db == 3);
  }
}

TEST_CASE("in a plain house nothing is weak, and every link counts what the equipment leaves open") {
  const LinkTable table = link_table(plain_house());
  REQUIRE(table.links.size() == 14);
  CHECK(table.weak_devices.empty());
  for (const Link& link : table.links) CHECK(link.sigma_db >= 5);  // the model's 4 and the equipment's 3
  const auto assumed = std::ranges::find(table.warnings, WarningCode::assumed_profiles, &Warning::code);
  REQUIRE(assumed != table.warnings.end());
  CHECK(fixture::figure(*assumed, "sigma") == 3);
}

TEST_CASE("in a plain house readings tell one device from another") {
  const LinkTable table = link_table(plain_house());
  const auto at_most = std::ranges::count_if(
      table.links, [](const Link& link) { return link.lower().reading_percent == 100; });
  CHECK(at_most <= 3);  // of 14
}

TEST_CASE("side by side with its hub every built-in device reads its maximum") {
  Site site = plain_house();
  const Device like = site.devices.front();
  site.devices.clear();
  for (const auto& [name, profile] : site.profiles) {
    if (!profile.transmit || name == "hub" || name == "repeater") continue;
    Device device = like;
    device.name = name;
    device.profile = name;
    device.place = site.hubs.front().place;
    device.place.at.x += 0.3;
    site.devices.push_back(device);
  }
  const LinkTable table = link_table(site);
  CHECK(table.links.size() > 10);
  for (const Link& link : table.links) {
    CAPTURE(link.device);
    CHECK(link.weaker().level >= site.reading.full);
  }
}

TEST_CASE("a row far from the others of its group gets a caution, and no other") {
  Site site = plain_house();
  const auto all = [](const std::string&) { return true; };
  CHECK(neighbour_warnings(site, all).empty());
  site.storeys[0].outer_wall = {"brick-faced block", {}};
  site.storeys[1].outer_wall = {"brick-faced block", {}};
  const auto warnings = neighbour_warnings(site, all);
  REQUIRE(warnings.size() == 1);
  CHECK(warnings[0].code == WarningCode::far_neighbour);
  CHECK(fixture::name(warnings[0], "material") == "brick-faced block");
  CHECK(std::round(fixture::figure(warnings[0], "loss")) == 14);
  CHECK(fixture::argument<std::string>(warnings[0], "group") == "brick wall");
  CHECK(neighbour_warnings(site, [](const std::string& name) { return name == "stud wall"; }).empty());
  site.materials.at("brick-faced block").group.clear();  // one of the site's own
  CHECK(neighbour_warnings(site, all).empty());
}

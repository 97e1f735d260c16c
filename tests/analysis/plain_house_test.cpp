#include "linkmargin/analysis/link_table.hpp"
#include "linkmargin/analysis/material_neighbours.hpp"
#include "linkmargin/yaml/site_yaml.hpp"
#include "linkmargin/yaml/tables.hpp"
#include "linkmargin/yaml/text_file.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace linkmargin;

namespace {

Site plain_house() {
  const auto text = read_text_file(LINKMARGIN_TEST_DATA "/analysis/plain_house.yaml");
  REQUIRE(text);
  const auto site = parse_site(*text, "plain_house.yaml", embedded_tables());
  REQUIRE(site);
  return *site;
}

}  // namespace

TEST_CASE("in a plain house the built-in profiles do not make most devices read their maximum") {
  const Site site = plain_house();
  const LinkTable table = link_table(site);
  REQUIRE(table.links.size() == 14);
  const auto full = std::ranges::count_if(
      table.links, [](const Link& link) { return link.weaker().reading_percent >= 99.5; });
  MESSAGE(full << " of 14 read 100 %");
  CHECK(full <= 7);
  CHECK(table.weak_devices.empty());
  for (const Link& link : table.links) CHECK(link.sigma_db >= 5);  // the model's 4 and the equipment's 3
}

TEST_CASE("a row far from the others of its group is told of, and no other") {
  Site site = plain_house();
  const auto all = [](const std::string&) { return true; };
  CHECK(neighbour_cautions(site, all).empty());
  site.storeys[0].outer_wall = {"brick-faced block", {}};
  site.storeys[1].outer_wall = {"brick-faced block", {}};
  const auto texts = neighbour_cautions(site, all);
  REQUIRE(texts.size() == 1);
  CHECK(texts[0].starts_with("'brick-faced block' loses 14 dB here, where others that look alike (brick wall) lose some "));
  CHECK(neighbour_cautions(site, [](const std::string& name) { return name == "stud wall"; }).empty());
  site.materials.at("brick-faced block").group.clear();  // one of the site's own
  CHECK(neighbour_cautions(site, all).empty());
}

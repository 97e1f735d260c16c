#include "linkmargin/yaml/site/site_yaml.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace linkmargin;

namespace {

using Code = DiagnosticCode;

/// A sound site but for one line of it.
struct Spoilt {
  std::string line;
  std::string by;
  Code code;
};

const std::string kSound = R"(site: Small shop, an invented site
radio: {frequency_mhz: 868.3}
storeys:
  - name: ground
    level_m: 0
    height_m: 2.6
    outer_wall: {material: brick, thickness_m: 0.24}
    inner_wall: {material: stud wall}
    rooms:
      shop: {rect_m: [0, 0, 6, 4]}
      hall: {rect_m: [6, 0, 3, 4]}
    openings:
      - {name: street door, between: [shop, outside], at_m: [2, 0], width_m: 0.9, height_m: 2, leaf: timber door}
hubs:
  hub: {profile: hub, storey: ground, at_m: [5, 3], height_m: 2}
devices:
  door contact: {profile: contact, storey: ground, at_m: [2, 0.2], height_m: 2}
)";

const std::vector<Spoilt> kSpoilt{
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: 868.3, colour: red}", Code::unknown_key},
    {"radio: {frequency_mhz: 868.3}", "radio: {}", Code::missing_key},
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: loud}", Code::wrong_type},
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: 868300000}", Code::outside_range},
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: 868.3, model: wals}", Code::unknown_word},
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: 868.3, form: power_loss}",
     Code::conflicting_keys},
    {"radio: {frequency_mhz: 868.3}", "radio: {frequency_mhz: 868.3, frequency_mhz: 900}", Code::given_twice},
    {"    height_m: 2.6", "    height_m: 2.6\n   level_m: 1", Code::syntax},
    {"shop: {rect_m: [0, 0, 6, 4]}", "shop: {rect_m: [0, 0, 6]}", Code::wrong_count},
    {"hall: {rect_m: [6, 0, 3, 4]}", "hall: {rect_m: [5, 0, 3, 4]}", Code::overlaps},
    {"hall: {rect_m: [6, 0, 3, 4]}", "\"hall \": {rect_m: [6, 0, 3, 4]}", Code::bad_name},
    {"inner_wall: {material: stud wall}", "inner_wall: {material: stut wall}", Code::unknown_name},
    {"at_m: [2, 0], width_m", "at_m: [2, 1], width_m", Code::misplaced},
    {"at_m: [2, 0.2], height_m: 2", "at_m: [2, 0.2], height_m: 26", Code::misplaced},
    {"storey: ground, at_m: [5, 3]", "storey: grund, at_m: [5, 3]", Code::unknown_name},
    {"  hub: {profile: hub,", "  hub: {profile: hup,", Code::unknown_name}};

}  // namespace

TEST_CASE("the site that the spoilt ones are made of is sound") {
  CHECK(parse_site(kSound, "shop.yaml", embedded_tables()));
}

TEST_CASE("each kind of fault has its code") {
  for (const Spoilt& spoilt : kSpoilt) {
    CAPTURE(spoilt.by);
    std::string text = kSound;
    const std::size_t at = text.find(spoilt.line);
    REQUIRE(at != std::string::npos);
    text.replace(at, spoilt.line.size(), spoilt.by);
    const auto site = parse_site(text, "shop.yaml", embedded_tables());
    REQUIRE_FALSE(site);
    REQUIRE(site.error().size() == 1);
    CHECK(code_word(site.error().front().code) == code_word(spoilt.code));
  }
}

TEST_CASE("the count of faults that are not listed has a code of its own") {
  std::string text = kSound;
  for (int i = 0; i < 250; ++i) text += "key" + std::to_string(i) + ": 1\n";
  const auto site = parse_site(text, "shop.yaml", embedded_tables());
  REQUIRE_FALSE(site);
  CHECK(site.error().front().code == Code::unknown_key);
  CHECK(site.error().back().code == Code::not_listed);
}

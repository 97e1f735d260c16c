#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/wall_plan.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <string>

using namespace linkmargin;

namespace {

std::string text_of(const std::string& file) {
  const auto text = read_text_file(file);
  REQUIRE(text);
  return *text;
}

const std::string kShortDemo = LINKMARGIN_TEST_DATA "/fixtures/kiln-lane-short.yaml";
const std::string kDemo = LINKMARGIN_DATA "/sites/kiln-lane.yaml";

Site site_of(const std::string& text) {
  const auto site = parse_site(text, "short.yaml", embedded_tables());
  CHECK(fault_lines(site) == "");
  REQUIRE(site);
  return *site;
}

/// A site of one storey; `rest` stands in it, its lines begin with four blanks.
Site house(const std::string& rest, const std::string& devices = "") {
  return site_of(
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: solid brick\nstoreys:\n"
      "  - name: ground\n    height_m: 2.5\n" +
      rest + "hubs: {hub: {storey: ground, at_m: [0.5, 0.5]}}\n" + devices);
}

const Device& device(const Site& site, const std::string& name) {
  return *std::ranges::find(site.devices, name, &Device::name);
}

/// How many numbers stand in a file, comments left out: a name is none, `[1, 2]` are two.
int numbers_in(const std::string& text) {
  int count = 0;
  bool in_word = false;
  bool in_comment = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto letter = static_cast<unsigned char>(text[i]);
    if (text[i] == '#') in_comment = true;
    if (text[i] == '\n') in_comment = false;
    const bool part = std::isalnum(letter) != 0 || text[i] == '.' || text[i] == '_';
    if (!in_comment && part && !in_word && std::isdigit(letter) != 0) ++count;
    in_word = part;
  }
  return count;
}

}  // namespace

TEST_CASE("The demo site in the short form is the demo site") {
  const Site typed = site_of(text_of(kShortDemo));
  const Site full = site_of(text_of(kDemo));
  REQUIRE(typed.storeys.size() == full.storeys.size());
  for (std::size_t i = 0; i < full.storeys.size(); ++i) {
    const Storey& one = typed.storeys[i];
    const Storey& other = full.storeys[i];
    CAPTURE(other.name);
    CHECK(one.level_m == other.level_m);
    CHECK(one.rooms == other.rooms);
    CHECK(one.openings == other.openings);
    CHECK(one.obstacles == other.obstacles);
    CHECK(one.walls == other.walls);
    CHECK(one.floor == other.floor);
    CHECK(one.closed_sizes.empty());
    const auto plan = wall_plan(one);
    const auto wanted = wall_plan(other);
    REQUIRE(plan.size() == wanted.size());
    for (std::size_t k = 0; k < plan.size(); ++k) {
      CHECK(plan[k].line == wanted[k].line);
      CHECK(plan[k].construction == wanted[k].construction);
    }
  }
  CHECK(typed.hubs == full.hubs);
  CHECK(typed.repeaters == full.repeaters);
  CHECK(typed.devices.size() == full.devices.size());
  for (std::size_t i = 0; i < full.devices.size(); ++i) {
    Device one = typed.devices[i];
    one.note = full.devices[i].note;
    CHECK(one == full.devices[i]);
  }
  CHECK(typed.areas == full.areas);
}

TEST_CASE(
    "The short form of the demo site takes two thirds of the characters and six tenths of the numbers") {
  const std::string typed = text_of(kShortDemo);
  const std::string full = text_of(kDemo);
  CHECK(typed.size() * 3 < full.size() * 2);
  CHECK(numbers_in(typed) * 10 <= numbers_in(full) * 6);
}

TEST_CASE("Every kind of opening and every construction has a source and materials of the table") {
  const MaterialTable& materials = embedded_tables().materials;
  const auto known = [&](const Construction& made) {
    CAPTURE(made.material);
    const auto row = materials.find(made.material);
    CHECK((made.material == kNoMaterial || row != materials.end()));
    if (row != materials.end() && std::holds_alternative<ElectricalProperties>(row->second.kind))
      CHECK(made.thickness_m);
  };
  CHECK(opening_kinds().size() == 13);
  for (const auto& [name, kind] : opening_kinds()) {
    CHECK_FALSE(kind.source.empty());
    known(kind.leaf);
    CHECK(kind.contact_m >= kind.sill_m);
    CHECK(kind.contact_m <= kind.sill_m + kind.height_m);
  }
  CHECK(house_constructions().size() == 7);
  for (const auto& [name, built] : house_constructions()) {
    CHECK_FALSE(built.source.empty());
    for (const Construction& made :
         {built.outer_wall, built.inner_wall, built.ground_floor, built.floor, built.roof})
      known(made);
  }
}

TEST_CASE("A construction fills what the storeys do not say") {
  const Site site = house("    outer_wall: stone 0.5 m\n    rooms: {hall: {size_m: [2, 5]}}\n");
  const Storey& storey = site.storeys.front();
  CHECK(storey.outer_wall == Construction{"stone", 0.5});
  CHECK(storey.inner_wall == Construction{"stud wall", {}});
  CHECK(storey.floor == Construction{"concrete", 0.15});
  CHECK(storey.roof == Construction{"tiled roof", {}});
}

TEST_CASE("Levels follow from clear heights and slabs, upwards and downwards") {
  const std::string head =
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: solid brick\nstoreys:\n";
  const std::string hub = "hubs: {hub: {storey: ground, at_m: [1, 1]}}\n";
  const auto storey = [](const std::string& name, const std::string& more) {
    return "  - {name: " + name + ", height_m: 2.4, rooms: {" + name + ": {size_m: [4, 4]}}" + more + "}\n";
  };
  const Site up = site_of(head + storey("ground", "") + storey("upper", "") +
                          storey("loft", ", floor: {material: timber floor}") + hub);
  CHECK(up.storeys[0].level_m == 0);
  CHECK(up.storeys[1].level_m == 2.65);
  CHECK(up.storeys[2].level_m == 5.3);
  const Site down = site_of(head + storey("cellar", "") + storey("ground", ", level_m: 0.2") + hub);
  CHECK(down.storeys[0].level_m == -2.45);
}

TEST_CASE("Openings stand where their wall and a distance say") {
  const Site site = house(
      "    rooms:\n      hall: {size_m: [2, 5]}\n      shop: {size_m: [6, 4], left_of: hall}\n"
      "    openings:\n"
      "      - {name: a, in: hall, wall: bottom, kind: front door}\n"
      "      - {name: b, in: hall, wall: left, kind: inner door, from_top_m: 0.1}\n"
      "      - {name: c, between: [hall, shop], kind: inner door, width_m: 0.7}\n"
      "      - {name: d, in: shop, wall: right, kind: fire door, from_bottom_m: 0.5}\n"
      "      - {name: back window, in: shop, wall: top, from_right_m: 1}\n");
  const auto& openings = site.storeys.front().openings;
  const auto check = [&](std::size_t i, Point2 at, const char* first, const char* second) {
    CAPTURE(i);
    CHECK(openings[i].at == snapped(at));
    CHECK(openings[i].first == first);
    CHECK(openings[i].second == second);
  };
  check(0, {1, 0}, "hall", "outside");
  check(1, {0, 4.5}, "hall", "outside");
  check(2, {0, 2}, "hall", "shop");
  check(3, {0, 0.95}, "shop", "hall");
  check(4, {-1.6, 4}, "shop", "outside");
  CHECK(openings[2].width_m == 0.7);
  CHECK(openings[2].leaf.material == "timber door");
  CHECK(openings[4].sill_m == 0.9);
  CHECK_FALSE(openings[4].opens);
}

TEST_CASE("Devices hang in rooms and on openings, at the height of their profile") {
  const Site site = house(
      "    rooms:\n      hall: {size_m: [2, 5]}\n      shop: {size_m: [6, 4], left_of: hall}\n"
      "    openings:\n"
      "      - {name: street door, in: hall, wall: bottom, kind: front door}\n"
      "      - {name: low hatch, in: hall, wall: top, width_m: 0.6, height_m: 1.2, leaf: timber door}\n"
      "      - {name: shop shutter, in: shop, wall: bottom, kind: roller shutter}\n",
      "devices:\n"
      "  street door contact: {on: street door}\n"
      "  outside shock: {on: street door, in: outside, at: left}\n"
      "  hatch contact: {on: low hatch}\n"
      "  door keypad: {on: street door}\n"
      "  front siren: {profile: outdoor siren, on: low hatch, in: outside}\n"
      "  shutter contact: {on: shop shutter}\n"
      "  hall smoke: {in: hall}\n"
      "  shop motion: {in: shop, at: corner top left}\n"
      "  hall keypad: {in: hall, at: 'right wall, 1.2 m from bottom'}\n"
      "  shop siren: {in: shop, at: [0.5, 3.9], height_m: 2.4}\n"
      "  gas valve: {profile: relay, in: shop, at: 0.4 m from right and 0.3 m from bottom}\n");
  const auto check = [&](const char* name, Point2 at, double height_m) {
    CAPTURE(name);
    CHECK(device(site, name).place.at == snapped(at));
    CHECK(device(site, name).place.height_m == height_m);
  };
  check("street door contact", {1.48, 0.1}, 2);
  check("outside shock", {0.52, -0.1275}, 2);  // half of 0.215 m, and the plaster
  check("hatch contact", {1.33, 4.9}, 1.2);
  check("door keypad", {1.48, 0.1}, 1.4);  // beside the frame, at its own height
  check("front siren", {1.33, 5.1275}, 2.3);
  check("shutter contact", {-1.77, 0.1}, 0.2);
  check("hall smoke", {1, 2.5}, 2.45);
  check("shop motion", {-5.9, 3.9}, 2.2);
  check("hall keypad", {1.9, 1.2}, 1.4);
  check("shop siren", {-5.5, 3.9}, 2.4);
  check("gas valve", {-0.4, 0.3}, 1.4);
  CHECK(device(site, "hall smoke").profile == "smoke");
  CHECK(site.hubs.front().profile == "hub");
  CHECK(site.hubs.front().place.height_m == 2);
}

TEST_CASE("A siren's usual height is not over the walls of a house of one storey") {
  const std::string rest =
      "    rooms: {hall: {size_m: [3, 4]}}\n    openings: [{name: front door, in: hall, wall: bottom}]\n";
  const std::string upper = "  - name: upper\n    height_m: 2.4\n    rooms: {landing: {over: hall}}\n";
  const std::string siren =
      "devices: {front siren: {profile: outdoor siren, on: front door, in: outside}, keypad: {in: hall, at: corner top left}}\n";
  CHECK(device(house(rest, siren), "front siren").place.height_m == 2.3);
  CHECK(device(house(rest + upper, siren), "front siren").place.height_m == 3);
  CHECK(device(house(rest, siren), "keypad").place.height_m == 1.4);
}

TEST_CASE("A room of that name on two storeys needs the storey, one of its own does not") {
  const std::string text =
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: solid brick\nstoreys:\n"
      "  - {name: ground, height_m: 2.5, rooms: {hall: {size_m: [2, 5]}}}\n"
      "  - {name: upper, height_m: 2.4, rooms: {hall: {over: hall}, bath: {size_m: [2, 2], right_of: "
      "hall}}}\n"
      "hubs: {hub: {in: bath, at: centre}}\n";
  CHECK(site_of(text).hubs.front().place.storey == 1);
  const auto both = parse_site(text + "devices: {a smoke: {in: hall}}\n", "f", embedded_tables());
  CHECK(fault_lines(both) ==
        "f:8:25: in: there is more than one room 'hall': on storeys ground, upper (say which storey)\n");
  const Site said = site_of(text + "devices: {a smoke: {in: hall, storey: upper}}\n");
  CHECK(said.devices.front().place.storey == 1);
}

TEST_CASE(
    "A radio may move within the house: all rooms of its storey but those beside it, unless one is called "
    "so") {
  const auto with_hub = [&](const std::string& rooms) {
    return parse_site(
        "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: solid brick\nstoreys:\n"
        "  - name: ground\n    height_m: 2.5\n    rooms:\n" +
            rooms + "hubs: {hub: {in: hall, at: left wall, may_move: {within: house}}}\n",
        "f", embedded_tables());
  };
  const auto site = with_hub(
      "      hall: {size_m: [2, 5]}\n      shop: {size_m: [4, 5], right_of: hall}\n"
      "      shed: {size_m: [2, 2], right_of: house, gap_m: 3}\n");
  CHECK(fault_lines(site) == "");
  REQUIRE(site);
  const auto* within = std::get_if<Mobility::Within>(&site->hubs.front().may_move->reach);
  REQUIRE(within != nullptr);
  CHECK(std::abs(signed_area(within->corners)) == doctest::Approx(30).epsilon(0.001));
  CHECK(contains(within->corners, {5, 2}));
  const auto split = with_hub("      hall: {rect_m: [0, 0, 2, 5]}\n      annexe: {rect_m: [20, 0, 2, 2]}\n");
  CHECK(fault_lines(split) ==
        "f:10:49: may_move: the rooms of the house make no one outline together (give within a room, or "
        "within_m)\n");
  const auto named = with_hub("      hall: {rect_m: [0, 0, 2, 5]}\n      house: {rect_m: [2, 0, 4, 5]}\n");
  CHECK(fault_lines(named) ==
        "f:10:58: 'hub' stands 1.90 m away from room 'house', within which it may move\n");
}

TEST_CASE("what a room says of its walls is at fault where it was typed, once") {
  const auto site = parse_site(
      "site: house\n"
      "radio: {frequency_mhz: 868.3}\n"
      "construction: brick 1930s\n"
      "storeys:\n"
      "  - name: ground\n"
      "    height_m: 2.5\n"
      "    rooms:\n"
      "      hall: {size_m: [2, 4]}\n"
      "      barn: {size_m: [6, 4], right_of: hall, walls: sheet metal}\n"
      "      shed: {size_m: [2, 4], right_of: barn, outer_wall: metal}\n"
      "    openings:\n"
      "      - {name: barn gate, in: barn, wall: bottom, width_m: 3}\n"
      "hubs: {hub: {in: hall, at: centre}}\n",
      "f", embedded_tables());
  CHECK(fault_lines(site) ==
        "f:9:53: unknown material 'sheet metal' (did you mean 'metal'?)\n"
        "f:10:58: 'metal' is given by its electrical properties and needs a thickness_m\n"
        "f:12:9: missing one of height_m, kind in opening 'barn gate'\n"
        "f:12:9: missing one of leaf, kind in opening 'barn gate'\n");
}

TEST_CASE("A house measured with a laser reads as it was said") {
  const std::string top =
      "site: house\nradio: {frequency_mhz: 868.3}\nconstruction: brick 1930s\nouter_wall: brick 0.3 m\n"
      "inner_wall: brick 0.12 m\nmeasured: inside\n";
  const std::string storeys =
      "storeys:\n"
      "  - name: ground\n    height_m: 2.5\n    rooms:\n"
      "      hall: {size_m: [2, 4]}\n"
      "      living room: {size_m: [4, 4], left_of: hall}\n"
      "      garage: {size_m: [3, 5.8], right_of: house, gap_m: 2.4, front_m: 1.5, walls: masonry block 0.2 "
      "m}\n"
      "    openings:\n"
      "      - {name: front door, in: hall, wall: bottom}\n"
      "      - {name: inner door, between: [hall, living room]}\n"
      "  - name: upper\n    height_m: 2.4\n    inner_wall: stud wall 0.1 m\n    rooms:\n"
      "      landing: {over: hall}\n      bedroom: {over: living room}\n"
      "hubs:\n  hub: {in: hall, at: centre}\n"
      "devices:\n"
      "  front siren: {profile: outdoor siren, on: front door, in: outside}\n"
      "  hall motion: {on: inner door, in: hall, at: over}\n"
      "areas:\n"
      "  house fob: {in: house}\n  upper fob: {in: house, storey: upper}\n"
      "  drive fob: {size_m: [6, 5], below: house}\n  side fob: {size_m: [2.4, 3], right_of: house}\n";
  const Site site = site_of(top + storeys);
  const Storey& ground = site.storeys[0];
  CHECK(ground.outer_wall == Construction{"brick", 0.3});
  CHECK(site.storeys[1].outer_wall == Construction{"brick", 0.3});
  CHECK(site.storeys[1].inner_wall == Construction{"stud wall", 0.1});
  CHECK(ground.rooms[0].clear_m == Point2{2, 4});
  CHECK(ground.rooms[2].clear_m == Point2{3, 5.8});
  CHECK(site.storeys[1].rooms[1].clear_m->x == doctest::Approx(4).epsilon(0.01));
  const auto box_of = [](const Polygon2& corners) { return bounding_box(corners); };
  // Lines of the hall: 0 to 2.21 and 0 to 4.3; the house ends at 2.36 and begins at -0.15.
  CHECK(box_of(ground.rooms[2].corners).min == snapped(Point2{2.36 + 2.4 + 0.1, -0.15 + 1.5 + 0.1}));
  CHECK(device(site, "front siren").place.at.y == snapped(-0.17));
  CHECK(device(site, "hall motion").place.at == snapped(Point2{0.1, 2.15}));
  CHECK(device(site, "hall motion").place.height_m == 2.1);
  const auto area = [&](const std::string& name) {
    const auto found = std::ranges::find(site.areas, name, &Area::name);
    return std::pair{box_of(found->corners), found->storey};
  };
  const Box2 lines = box_of(ground.rooms[0].corners);
  CHECK(area("house fob").first.max == lines.max);  // without the garage
  CHECK(area("house fob").second == 0);
  CHECK(area("upper fob").second == 1);
  CHECK(area("drive fob").first.max.y == snapped(-0.15));
  CHECK(area("side fob").first.min == snapped(Point2{lines.max.x + 0.15, -0.15}));
}

TEST_CASE("The tutorial lists every kind of opening with its size") {
  const std::string page = text_of(LINKMARGIN_DATA "/../docs/short-form.md");
  const auto row_of = [&](const std::string& kind) -> std::string {
    for (std::size_t at = page.find("\n| "); at != std::string::npos; at = page.find("\n| ", at + 1)) {
      const std::string row = page.substr(at + 1, page.find('\n', at + 1) - at - 1);
      const std::string names = ", " + row.substr(2, row.find(" | ") - 2) + ",";
      if (names.find(", " + kind + ",") != std::string::npos ||
          names.find(", " + kind + " (") != std::string::npos)
        return row;
    }
    return {};
  };
  for (const auto& [name, kind] : opening_kinds()) {
    const std::string& name_shown = name;
    CAPTURE(name_shown);
    const std::string size = "| " + fixed_text(kind.width_m, 1) + " | " + fixed_text(kind.height_m, 1);
    CHECK(row_of(name).find(size) != std::string::npos);
  }
}

TEST_CASE("The house of the tutorial reads, and closes without a change") {
  const std::string page = text_of(LINKMARGIN_DATA "/../docs/short-form.md");
  const std::string fence = "```yaml house.yaml\n";
  const std::size_t begin = page.find(fence);
  REQUIRE(begin != std::string::npos);
  const std::size_t text = begin + fence.size();
  const Site site = site_of(page.substr(text, page.find("```", text) - text));
  CHECK(site.storeys.front().rooms.size() == 6);
  CHECK(site.storeys.back().rooms.size() == 4);
  CHECK(site.devices.size() == 10);
  for (const Storey& storey : site.storeys) CHECK(storey.closed_sizes.empty());
}

#include "site/sound_site.hpp"

using namespace linkmargin;

namespace {

/// The one caution of a site.
std::string only_caution(const Site& site) {
  REQUIRE(validate(site).empty());
  const auto cautions = site_cautions(site);
  for (const auto& caution : cautions) MESSAGE(caution);
  REQUIRE(cautions.size() == 1);
  return cautions.front();
}

}  // namespace

TEST_CASE("nothing odd, nothing said") {
  CHECK(site_cautions(site_test::sound_site()).empty());
}

TEST_CASE("a radio exactly on a wall's line: the side is the one that the predicates take") {
  struct Row {
    Point2 at;
    std::string wall;
    std::string side;
  };
  const Row rows[] = {
      {{6, 2}, "wall between 'shop' and 'workshop'", "in 'shop'"},  // smaller x
      {{6, 6}, "wall between 'workshop' and 'hall'", "in 'hall'"},
      {{0, 2}, "outer wall of 'shop'", "outside the rooms"},
      {{3, 0}, "outer wall of 'shop'", "in 'shop'"},  // greater y
      {{9, 8}, "outer wall of 'workshop'", "outside the rooms"},
      {{15, 8}, "traced wall 'yard wall'", "above it on the sheet"},
  };
  for (const Row& row : rows) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = row.at;
    site.devices[0].may_move.reset();
    const std::string caution = only_caution(site);
    CHECK(site_test::holds(caution, "'contact' stands exactly on the line of the " + row.wall));
    CHECK(site_test::holds(caution, row.side));
    CHECK(site_test::holds(caution, "one centimetre"));
  }
}

TEST_CASE("a radio near a wall, past its end or on an open boundary is not on it") {
  for (const Point2 at : {Point2{6.01, 2}, Point2{20, 8}, Point2{3, 4}}) {
    Site site = site_test::sound_site();
    site.devices[0].place.at = snapped(at);
    site.devices[0].may_move.reset();
    CHECK(site_cautions(site).empty());
  }
}

TEST_CASE("a radio in an obstacle, and one far away") {
  Site site = site_test::sound_site();
  site.devices[0].may_move.reset();
  site.devices[0].place = {0, {10.5, 6.5}, 1.7};
  CHECK(site_test::holds(only_caution(site), "'contact' stands inside the obstacle 'kiln'"));
  site.devices[0].place.height_m = 1.8;  // on top of it
  CHECK(site_cautions(site).empty());
  site.devices[0].place = {0, {-149, 2}, 1.7};
  CHECK(site_cautions(site).empty());
  site.devices[0].place = {0, {-200, 2}, 1.7};
  CHECK(site_test::holds(only_caution(site), "'contact' stands 200 m from the nearest room"));
}

TEST_CASE("rooms drawn to the faces of their wall") {
  Site site = site_test::sound_site();
  site.storeys[0].rooms.push_back({"garage", rectangle({12.25, 1}, 4, 4)});
  CHECK(site_test::holds(only_caution(site),
                         "The outer walls of 'workshop' and 'garage' run 0.25 m apart over 4.00 m"));
  site.storeys[0].rooms.back().corners = rectangle({12.5, 1}, 4, 4);
  CHECK(site_cautions(site).empty());
  site.storeys[0].rooms.back().corners = rectangle({12, 1}, 4, 4);  // one wall, shared
  CHECK(site_cautions(site).empty());
}

TEST_CASE("an exponent that the model does not use") {
  Site site = site_test::sound_site();
  site.radio.exponent = 2;
  CHECK(site_cautions(site).empty());
  site.radio.model = PathLossModel::free_space;
  CHECK(site_test::holds(only_caution(site), "exponent is not used"));
}

#include "linkmargin/link/radio/metal_mount.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/propagation/material/metal_proximity.hpp"
#include "linkmargin/report/explain_report.hpp"

#include "fixtures/english.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

constexpr double kMhz868 = 868e6;

Mount metal(double gap_m, std::optional<double> faces_deg = {}) {
  return {.on = Mount::On::metal, .gap_m = gap_m, .faces_deg = faces_deg};
}

double towards_db(const Mount& mount, Point3 far_end) {
  return towards(on_mount({}, mount, kMhz868), {0, 0, 0}, far_end).metal_loss_db;
}

double item_db(const LinkBudget& way, BudgetTerm term) {
  for (const BudgetItem& item : way.items) {
    if (item.term == term) return item.value_db;
  }
  return 0;
}

/// The contact of the two rooms, in the right one at (7, 2), the hub to its left.
Link link_with(std::optional<Mount> device, std::optional<Mount> hub = {}) {
  Site site = fixture::two_rooms();
  site.radio.frequency_hz = kMhz868;
  site.devices[0].mount = device;
  site.hubs[0].mount = hub;
  return link_table(site).links.at(0);
}

}  // namespace

TEST_CASE("without metal nothing changes") {
  const RadioEnd end = on_mount({}, {}, kMhz868);
  CHECK_FALSE(end.metal);
  CHECK(towards(end, {0, 0, 0}, {-1, 0, 0}).metal_loss_db == 0);
}

TEST_CASE("the loss in front and behind is the curve's, by the gap in wavelengths") {
  // dipole_near_metal.csv at 868 MHz: 1, 2 and 4 cm
  CHECK(std::abs(towards_db(metal(0.01, 0), {5, 0, 0}) - 7.31) <= 0.1);
  CHECK(std::abs(towards_db(metal(0.02, 0), {5, 0, 0}) - 1.70) <= 0.1);
  CHECK(std::abs(towards_db(metal(0.01, 0), {-5, 0, 0}) - 21.97) <= 0.1);
  CHECK(std::abs(towards_db(metal(0.02, 0), {-5, 0, 0}) - 16.28) <= 0.1);
  CHECK(std::abs(towards_db(metal(0.04, 0), {-5, 0, 0}) - 12.47) <= 0.1);
  // It scales: at half the frequency twice the gap.
  const RadioEnd half = on_mount({}, metal(0.02), kMhz868 / 2);
  CHECK(std::abs(half.metal->front_db - towards_db(metal(0.01), {1, 0, 0})) <= 1e-9);
  // The mirror's gain is not counted.
  CHECK(metal_proximity_loss_db(MetalCurve::front_of_sheet, 0.04 / wavelength_m(kMhz868)) < -1.5);
  CHECK(towards_db(metal(0.04, 0), {5, 0, 0}) == 0);
}

TEST_CASE("faces_deg turns counter-clockwise from x; without it the loss in front counts everywhere") {
  const double front_db = towards_db(metal(0.01), {1, 0, 0});
  const double behind_db = on_mount({}, metal(0.01), kMhz868).metal->behind_db;
  for (const Point3 far_end : {Point3{1, 0, 0}, Point3{-1, 0, 0}, Point3{0, -3, 1}}) {
    CHECK(towards_db(metal(0.01), far_end) == front_db);
  }
  CHECK(towards_db(metal(0.01, 90), {0, 4, 0}) == front_db);
  CHECK(towards_db(metal(0.01, 90), {0, -4, 0}) == behind_db);
  CHECK(towards_db(metal(0.01, 180), {-4, 1, 0}) == front_db);
  CHECK(towards_db(metal(0.01, 180), {4, 1, 0}) == behind_db);
  CHECK(towards_db(metal(0.01, -90), {0, -4, 0}) == towards_db(metal(0.01, 270), {0, -4, 0}));
  // In the plane of the sheet, straight above included, half of each.
  CHECK(std::abs(towards_db(metal(0.01, 90), {4, 0, 0}) - (front_db + behind_db) / 2) <= 1e-9);
  CHECK(std::abs(towards_db(metal(0.01, 90), {0, 0, 3}) - (front_db + behind_db) / 2) <= 1e-9);
  CHECK(towards_db(metal(0.01, 90), {0, 0, 0}) == front_db);  // at the same point there is no direction
}

TEST_CASE("a far end that walks round meets no step") {
  double before_db = towards_db(metal(0.01, 30), {5, 0, 0.4});
  for (int step = 1; step <= 3600; ++step) {
    const double angle = step * kPi / 1800;
    const double loss_db = towards_db(metal(0.01, 30), {5 * std::cos(angle), 5 * std::sin(angle), 0.4});
    CHECK(std::abs(loss_db - before_db) <= 0.08);  // in steps of 0.1 degrees
    before_db = loss_db;
  }
}

TEST_CASE("metal stands in both directions of the budget alike, on top of the mounting loss") {
  const Link bare = link_with({});
  const Link front = link_with(metal(0.01, 180));  // the room, with the hub, is on the left
  const Link behind = link_with(metal(0.01, 0));
  CHECK(std::abs(item_db(front.uplink, BudgetTerm::transmitter_metal) + 7.31) <= 0.1);
  CHECK(item_db(front.uplink, BudgetTerm::receiver_metal) == 0);
  REQUIRE(front.downlink);
  CHECK(item_db(front.uplink, BudgetTerm::transmitter_metal) ==
        item_db(*front.downlink, BudgetTerm::receiver_metal));
  CHECK(std::abs(item_db(behind.uplink, BudgetTerm::transmitter_metal) + 21.97) <= 0.1);
  CHECK(front.loss.path_loss_db == bare.loss.path_loss_db);
  for (const Link& link : {front, behind}) {
    const double lost_db = -item_db(link.uplink, BudgetTerm::transmitter_metal);
    CHECK(std::abs((bare.uplink.level - link.uplink.level).value - lost_db) <= 1e-9);
    CHECK(std::abs((bare.downlink->level - link.downlink->level).value - lost_db) <= 1e-9);
    CHECK(std::abs((bare.uplink.margin - link.uplink.margin).value - lost_db) <= 1e-9);
  }
  const Link at_hub = link_with({}, metal(0.01, 180));  // the hub's metal faces away from the contact
  CHECK(std::abs(item_db(at_hub.uplink, BudgetTerm::receiver_metal) + 21.97) <= 0.1);
  CHECK(item_db(at_hub.uplink, BudgetTerm::receiver_metal) ==
        item_db(*at_hub.downlink, BudgetTerm::transmitter_metal));

  Site site = fixture::two_rooms();
  site.devices[0].mount_loss_db = 5;
  site.devices[0].mount = metal(0.01);
  const LinkBudget up = link_table(site).links.at(0).uplink;
  CHECK(item_db(up, BudgetTerm::transmitter_mounting) == -5);
  CHECK(item_db(up, BudgetTerm::transmitter_metal) < -7);
}

TEST_CASE("an area behind a hub's metal is covered less") {
  Site site = fixture::two_rooms();
  site.radio.frequency_hz = kMhz868;
  site.reading.full = Dbm{0};  // so that no reading is cut to 100
  Area area;
  area.name = "right";
  area.profile = "fob";
  area.corners = rectangle({5, 1}, 2, 2);
  site.areas = {area};
  const auto worst = [&](std::optional<Mount> mount) {
    site.hubs[0].mount = mount;
    return link_table(site).areas.at(0).worst_reading_percent;
  };
  const double bare_percent = worst({});
  const double percent_per_db = 100 / (site.reading.full - site.reading.zero).value;
  CHECK(std::abs(bare_percent - worst(metal(0.01, 0)) - 7.31 * percent_per_db) <= 0.2);
  CHECK(std::abs(bare_percent - worst(metal(0.01, 180)) - 21.97 * percent_per_db) <= 0.2);
}

TEST_CASE("explain tells of the metal, and when it does not know where it faces") {
  Site site = fixture::two_rooms();
  const auto told = [&](std::optional<Mount> mount) {
    site.devices[0].mount = mount;
    const LinkTable table = link_table(site);
    return explain_json(fixture::english(), site, table, table.links.at(0));
  };
  CHECK(told({}).find("in front of metal") == std::string::npos);
  const std::string unknown = told(metal(0.02));
  CHECK(unknown.find("contact is mounted 2 cm in front of metal") != std::string::npos);
  CHECK(unknown.find("in front counts in every direction") != std::string::npos);
  const std::string known = told(metal(0.02, 90));
  CHECK(known.find("contact is mounted 2 cm in front of metal") != std::string::npos);
  CHECK(known.find("in front counts in every direction") == std::string::npos);
  CHECK(known.find("\"metal at the transmitter\"") != std::string::npos);
}

#include "linkmargin/link/budget.hpp"

#include "fixtures/near.hpp"
#include "fixtures/reading_scale.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <numeric>

using namespace linkmargin;

TEST_CASE("the three ways of saying a power") {
  Profile profile = fixture::profiles().at("contact");
  profile.transmit = TransmitPower{TransmitPower::Kind::erp, Dbm{13.979400086720377}};
  // 25 mW e.r.p. is 16.129 dBm e.i.r.p.: published.md, case 15 of section 13, within the last digit.
  CHECK(near(radio_end(profile).eirp->value, 16.129, 0.0005));
  profile.transmit = TransmitPower{TransmitPower::Kind::eirp, Dbm{10}};
  CHECK(radio_end(profile).eirp->value == 10);
  profile.transmit = TransmitPower{TransmitPower::Kind::conducted, Dbm{10}};
  CHECK(radio_end(profile).eirp->value == 7);  // with its gain of -3 dBi
}

TEST_CASE("sensitivity from bandwidth, noise figure and required ratio") {
  Profile profile = fixture::profiles().at("hub");
  profile.sensitivity = ReceiverNoise{25e3, 7, 10};
  // published.md, case 15 of section 13: 25 kHz, 7 dB, 10 dB: -112.996 dBm.
  CHECK(near(radio_end(profile).sensitivity->value, -112.996, 0.0005));
  profile.sensitivity = std::monostate{};
  CHECK_FALSE(radio_end(profile).sensitivity.has_value());
}

TEST_CASE("the items of a direction add up to its level, every loss on its own side") {
  RadioEnd device{
      .eirp = Dbm{12}, .gain_dbi = -3, .sensitivity = Dbm{-104}, .mount_loss_db = 2, .body_loss_db = 5};
  RadioEnd hub{
      .eirp = Dbm{16}, .gain_dbi = 1, .sensitivity = Dbm{-106}, .mount_loss_db = 1, .body_loss_db = 0};
  const ReadingScale scale = fixture::kHalfDecibelScale;
  const auto up = link_budget(device, hub, 80, scale);
  REQUIRE(up);
  CHECK(up->level.value == 12 - 2 - 5 - 80 - 1 + 1);
  CHECK(up->margin.value == -75 + 106);
  CHECK(up->reading_percent == 60);
  const auto down = link_budget(hub, device, 80, scale);
  REQUIRE(down);
  CHECK(down->level.value == 16 - 1 - 80 - 2 - 5 - 3);
  for (const auto& one : {*up, *down}) {
    const double sum =
        std::accumulate(one.items.begin(), one.items.end(), 0.0,
                        [](double total, const BudgetItem& item) { return total + item.value_db; });
    CHECK(near(sum, one.level.value, 1e-12));
  }
  hub.sensitivity.reset();
  CHECK_FALSE(link_budget(device, hub, 80, scale).has_value());
  device.eirp.reset();
  CHECK_FALSE(link_budget(device, device, 80, scale).has_value());
}

TEST_CASE(
    "what readings taught of a hub's links is an item of both directions, and the path's is free of it") {
  RadioEnd device{.eirp = Dbm{12}, .sensitivity = Dbm{-104}};
  RadioEnd hub{.eirp = Dbm{16}, .sensitivity = Dbm{-106}};
  hub.learned_offset_db = -3.5;
  for (const auto& way : {link_budget(device, hub, 80, fixture::kHalfDecibelScale),
                          link_budget(hub, device, 80, fixture::kHalfDecibelScale)}) {
    REQUIRE(way);
    REQUIRE(way->items.size() == 3);
    CHECK(way->items[1].value_db == -80);
    CHECK(way->items[2].term == BudgetTerm::learned);
    CHECK(way->items[2].value_db == -3.5);
  }
  CHECK(link_budget(device, hub, 80, fixture::kHalfDecibelScale)->level == Dbm{12 - 80 - 3.5});
  CHECK(link_budget(hub, device, 80, fixture::kHalfDecibelScale)->level == Dbm{16 - 80 - 3.5});
}

TEST_CASE("a level under what the receiver hears gives no reading, whatever the scale says") {
  RadioEnd device;
  device.eirp = Dbm{12};
  RadioEnd hub;
  hub.sensitivity = Dbm{-85};
  const ReadingScale scale = fixture::kHalfDecibelScale;  // 0 % at -105, 100 % at -55 dBm
  const auto heard = link_budget(device, hub, 97, scale);
  CHECK(heard->level == Dbm{-85});  // on the sensitivity: heard
  CHECK_FALSE(heard->below_sensitivity());
  CHECK(heard->reading_percent == 40);
  const auto lost = link_budget(device, hub, 97.001, scale);
  CHECK(lost->below_sensitivity());
  CHECK(lost->reading_percent == 0);
  hub.noise_rise_db = 6;  // -79 dBm is needed now
  CHECK(link_budget(device, hub, 91, scale)->reading_percent == 52);
  CHECK(link_budget(device, hub, 92, scale)->reading_percent == 0);
}

TEST_CASE("the level needed is the threshold's, or what is heard at all where that is more") {
  const ReadingScale scale = fixture::kHalfDecibelScale;  // the threshold of 40 % is at -85 dBm
  LinkBudget way;
  way.sensitivity = Dbm{-105};
  CHECK(needed_level(scale, way) == Dbm{-85});
  way.noise_rise = Db{15};
  CHECK(needed_level(scale, way) == Dbm{-85});
  way.noise_rise = Db{25};
  CHECK(needed_level(scale, way) == Dbm{-80});
}

TEST_CASE("a device's own losses stand in for its profile's, and a one-way device does not receive") {
  auto table = fixture::profiles();
  Device device = fixture::two_rooms().devices[0];
  CHECK(radio_end(table.at("contact"), device).sensitivity.has_value());
  table.at("contact").two_way = false;
  CHECK_FALSE(radio_end(table.at("contact"), device).sensitivity.has_value());
  device.mount_loss_db = 4;
  device.body_loss_db = 0;
  CHECK(radio_end(table.at("fob"), device).mount_loss_db == 4);
  CHECK(radio_end(table.at("fob"), device).body_loss_db == 0);
  CHECK(radio_end(table.at("fob")).body_loss_db == 6);
}

TEST_CASE("the reading is cut to 0..100 and the threshold is where it says") {
  const ReadingScale scale = fixture::kHalfDecibelScale;  // 0 % at -105, 100 % at -55 dBm
  CHECK(reading_percent(scale, Dbm{-105}) == 0);
  CHECK(reading_percent(scale, Dbm{-120}) == 0);
  CHECK(reading_percent(scale, Dbm{-55}) == 100);
  CHECK(reading_percent(scale, Dbm{-20}) == 100);
  CHECK(reading_percent(scale, Dbm{-80}) == 50);
  CHECK(threshold_level(scale).value == -85);
}

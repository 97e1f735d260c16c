#include "linkmargin/analysis/relocation/relocation.hpp"

#include "linkmargin/analysis/survey/spot_options.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/room_wall.hpp"

#include "fixtures/readings_fixture.hpp"
#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

/// The contact of two_rooms() made weak by a scale that asks for much.
Site weak_contact(double weak_below_percent) {
  Site site = fixture::two_rooms();
  site.reading = {.zero = Dbm{-85}, .full = Dbm{-25}, .weak_below_percent = weak_below_percent};
  return site;
}

const Remedy* find_way(const DeviceRelocation& device, RemedyKind kind) {
  const auto found = std::ranges::find(device.remedies, kind, &Remedy::kind);
  return found == device.remedies.end() ? nullptr : &*found;
}

bool has(const DeviceRelocation& device, SkipReason reason) {
  return std::ranges::find(device.left_out, reason) != device.left_out.end();
}

}  // namespace

TEST_CASE("rungs come in order, and the wire last") {
  Site site = weak_contact(85);
  site.devices[0].may_move = Mobility{Mobility::WithinRoom{"right"}};
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const Relocation found = relocation(site, {});
  REQUIRE(found.devices.size() == 1);
  const auto& remedies = found.devices[0].remedies;
  CHECK(std::ranges::is_sorted(remedies, {}, [](const Remedy& remedy) { return remedy.rung(); }));
  CHECK(remedies.front().rung() == RemedyStage::shift);
  CHECK(remedies.back().rung() == RemedyStage::wire);
  CHECK(find_way(found.devices[0], RemedyKind::hub_moved) != nullptr);
}

TEST_CASE("a fixed hub is not moved, and no repeater is proposed for a room to keep out of") {
  Site site = weak_contact(97);
  Profile repeater = site.profiles.at("hub");
  repeater.name = "repeater";
  site.profiles.emplace("repeater", repeater);
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const auto ways = [&] { return relocation(site, {.devices = {"contact"}}).devices.at(0); };
  const DeviceRelocation before = ways();
  CHECK(find_way(before, RemedyKind::hub_moved) != nullptr);
  REQUIRE(find_way(before, RemedyKind::new_repeater) != nullptr);
  const double free_x = find_way(before, RemedyKind::new_repeater)->place->at.x;
  site.hubs[0].fixed = true;
  site.storeys[0].rooms[free_x < 4 ? 0 : 1].keep_out = true;
  const DeviceRelocation after = ways();
  CHECK(find_way(after, RemedyKind::hub_moved) == nullptr);
  const Remedy* other = find_way(after, RemedyKind::new_repeater);
  if (other != nullptr) CHECK((other->place->at.x < 4) != (free_x < 4));
  site.storeys[0].rooms[0].keep_out = site.storeys[0].rooms[1].keep_out = true;
  const DeviceRelocation none = ways();
  CHECK(find_way(none, RemedyKind::new_repeater) == nullptr);
}

TEST_CASE("what is promised of a place is what check says there") {
  Site site = weak_contact(75);
  site.devices[0].may_move = Mobility{Mobility::Along{{{4.5, 2}, {7.5, 2}}}};
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const Relocation found = relocation(site, {.devices = {"contact"}, .chance = 0.9});
  int promised = 0;
  for (const Remedy& remedy : found.devices[0].remedies) {
    if (remedy.edits.empty()) continue;
    const auto moved = edited_site(site, remedy.edits);
    REQUIRE(moved);
    const Link link = link_table(*moved).links[0];
    CHECK(std::abs(link.pass_probability - remedy.expected->pass_probability) <= 1e-9);
    CHECK(std::abs(link.weaker().reading_percent - remedy.expected->percent) <= 1e-9);
    CHECK(remedy.enough == (link.pass_probability >= 0.9));
    ++promised;
  }
  CHECK(promised >= 2);
}

TEST_CASE("a spacer brings what the metal behind a device costs, and check then says so") {
  Site site = weak_contact(75);
  const auto spacer = [&]() -> std::optional<Remedy> {
    const DeviceRelocation device = relocation(site, {.devices = {"contact"}}).devices.at(0);
    const Remedy* remedy = find_way(device, RemedyKind::spacer);
    return remedy == nullptr ? std::nullopt : std::optional(*remedy);
  };
  CHECK_FALSE(spacer());  // nothing is known to be behind it
  site.devices[0].mount = Mount{.gap_m = 0.005, .faces_deg = {}};
  const auto by_gap = spacer();
  REQUIRE(by_gap);
  CHECK(by_gap->rung() == RemedyStage::shift);
  CHECK(by_gap->edits == std::vector<Edit>{{"/devices/contact/mount/gap_m", 0.03}});
  site.devices[0].mount.reset();
  site.devices[0].mount_loss_db = 8;
  const auto by_loss = spacer();
  REQUIRE(by_loss);
  const double usual_db = site.profiles.at("contact").mount_loss_db;
  CHECK(by_loss->edits == std::vector<Edit>{{"/devices/contact/mount_loss_db", usual_db}});
  const auto fitted = edited_site(site, by_loss->edits);
  REQUIRE(fitted);
  CHECK(std::abs(link_table(*fitted).links[0].pass_probability - by_loss->expected->pass_probability) <=
        1e-9);
  site.profiles.at("contact").fixed_by_rule = true;
  CHECK_FALSE(spacer());
}

TEST_CASE("no place lies outside may_move, and a nearest place is the nearest that does") {
  int moved = 0;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    Site site = fixture::random_block(seed, 1, 3, 2);
    site.reading = {.zero = Dbm{-85}, .full = Dbm{-25}, .weak_below_percent = 90};
    Device& contact = site.devices[0];
    const double x = contact.place.at.x;
    contact.may_move = Mobility{Mobility::Along{{contact.place.at, {x, contact.place.at.y + 2}}}};
    const Relocation found = relocation(site, {.devices = {contact.name}, .chance = 0.6});
    for (const Remedy& remedy : found.devices[0].remedies) {
      if (remedy.rung() != RemedyStage::slide) continue;
      CHECK(remedy.place->at.x == x);
      CHECK(remedy.place->at.y >= contact.place.at.y);
      CHECK(remedy.place->at.y <= contact.place.at.y + 2 + 1e-3);
      CHECK(std::abs(remedy.distance_m - distance(remedy.place->at, contact.place.at)) <= 1e-12);
      CHECK((remedy.kind != RemedyKind::nearest_place || remedy.enough));
      ++moved;
    }
  }
  CHECK(moved > 5);
}

TEST_CASE("a place ruled by more than radio is left, but for the radius that its rules allow") {
  Site site = weak_contact(85);
  site.devices[0].may_move = Mobility{Mobility::WithinRoom{"right"}};
  site.profiles.at("contact").fixed_by_rule = true;
  const DeviceRelocation fixed = relocation(site, {}).devices[0];
  CHECK(has(fixed, SkipReason::ruled_place));
  CHECK(find_way(fixed, RemedyKind::spots) == nullptr);
  CHECK(std::ranges::none_of(fixed.remedies, [](const Remedy& remedy) {
    return remedy.rung() == RemedyStage::slide || remedy.with_spots.has_value();
  }));
  site.devices[0].may_move = Mobility{Mobility::Radius{0.1}};
  const DeviceRelocation shifted = relocation(site, {}).devices[0];
  CHECK(has(shifted, SkipReason::ruled_reach));
  const Remedy* spots = find_way(shifted, RemedyKind::spots);
  REQUIRE(spots != nullptr);
  CHECK(spots->distance_m <= 0.1 + 1e-12);
  CHECK(spots->trial->spots <= kFirstSpots);
  site.profiles.at("contact").mounted_on = MountingSurface::ceiling;
  CHECK(find_way(relocation(site, {}).devices[0], RemedyKind::spots)->trial->spots <= kFirstCeilingSpots);
}

TEST_CASE("a device that stays is not shifted, and says so") {
  Site site = weak_contact(97);
  const DeviceRelocation free = relocation(site, {}).devices[0];
  CHECK(has(free, SkipReason::device_stays));
  CHECK_FALSE(has(free, SkipReason::hubs_stay));  // without may_move a hub may go into its own room
  site.hubs[0].fixed = true;
  const DeviceRelocation device = relocation(site, {}).devices[0];
  CHECK(has(device, SkipReason::hubs_stay));
  CHECK(device.remedies.front().rung() >= RemedyStage::hub);
}

TEST_CASE("a reading tells of its surroundings the less the farther away") {
  Site site = weak_contact(60);
  site.devices[0].may_move = Mobility{Mobility::Along{{{4.5, 2}, {7.5, 2}}}};
  const auto at_end = [&](double percent) -> std::pair<double, double> {
    const Relocation found = relocation(
        site, {.devices = {"contact"}, .readings = {fixture::read_of("contact", percent)}, .chance = 0.999});
    const DeviceRelocation& device = found.devices[0];
    const Remedy* best = find_way(device, RemedyKind::best_place);
    return {device.expected.percent, best == nullptr ? -1 : best->expected->percent};
  };
  const double predicted = link_table(site).links[0].weaker().reading_percent;
  const auto [low_here, low_there] = at_end(predicted - 20);
  const auto [high_here, high_there] = at_end(predicted + 1);
  CHECK(low_here < high_here);
  CHECK(low_here > predicted - 20);  // part of it is the spot's fade
  REQUIRE(low_there >= 0);
  if (high_there >= 0) CHECK(high_there - low_there < high_here - low_here);
}

TEST_CASE("a reading taken elsewhere, or with doors otherwise, counts where it was taken alone") {
  Site site = weak_contact(75);
  site.devices[0].may_move = Mobility{Mobility::Along{{{4.5, 2}, {7.5, 2}}}};
  Reading elsewhere = fixture::read_of("contact", 5);
  elsewhere.place = Placement{0, {5, 2}, 1.5};
  elsewhere.doors_open = true;
  const Relocation found =
      relocation(site, {.devices = {"contact"}, .readings = {elsewhere}, .chance = 0.999});
  CHECK(found.nearby_readings == 1);
  CHECK(!found.devices[0].reading_percent);
  CHECK(fixture::has(found.warnings, WarningCode::reading_elsewhere));
  const Relocation unread = relocation(site, {.devices = {"contact"}, .chance = 0.999});
  const Remedy* before = find_way(unread.devices[0], RemedyKind::best_place);
  REQUIRE(before != nullptr);
  const Remedy* after = find_way(found.devices[0], RemedyKind::best_place);
  const bool worse =
      after == nullptr || after->expected->pass_probability < before->expected->pass_probability - 0.02;
  CHECK(worse);
  CHECK(found.devices[0].expected.pass_probability < unread.devices[0].expected.pass_probability);
}

TEST_CASE("a device that was read stays with the hub that it was read with") {
  Site site = weak_contact(60);
  site.devices[0].may_move = Mobility{Mobility::Along{{{4.5, 2}, {7.5, 2}}}};
  Hub second = site.hubs[0];
  second.name = "second";
  second.place.at = {0.7, 2};  // a little less good
  site.hubs.push_back(second);
  REQUIRE(link_table(site).links[0].hub == "hub");
  const double predicted = link_table(site).links[0].lower().reading_percent;
  Reading reading = fixture::read_of("contact", predicted - 20);
  for (const char* hub : {"hub", "second"}) {
    reading.hub = hub;
    const DeviceRelocation device =
        relocation(site, {.devices = {"contact"}, .readings = {reading}, .chance = 0.999}).devices[0];
    CHECK(device.link.hub == hub);
    CHECK(device.expected.percent < predicted - 3);  // not the other hub's, of which nothing was read
  }
  reading.hub.reset();
  CHECK(relocation(site, {.devices = {"contact"}, .readings = {reading}}).devices[0].link.hub == "hub");
}

TEST_CASE("a hub is not moved to where another device loses what it has") {
  Site site = weak_contact(75);
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  Device other = site.devices[0];
  other.name = "other";
  other.place.at = {0.5, 2};
  site.devices.push_back(other);
  const Relocation found = relocation(site, {.devices = {"contact"}});
  for (const Remedy& remedy : found.devices[0].remedies) {
    if (remedy.kind != RemedyKind::hub_moved) continue;
    CHECK(remedy.loses.empty());
    const auto moved = edited_site(site, remedy.edits);
    REQUIRE(moved);
    CHECK(link_table(*moved).links[1].pass_probability >= 0.9);
  }
}

TEST_CASE("a hub goes off the metal behind it, by a spacer or to another place, and check then says so") {
  Site site = weak_contact(75);
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  site.hubs[0].mount = Mount{.gap_m = 0.005, .faces_deg = {}};
  const auto ways = [&] { return relocation(site, {.devices = {"contact"}}).devices.at(0); };
  const auto then = [&](const Remedy& remedy) {
    const auto edited = edited_site(site, remedy.edits);
    REQUIRE(edited);
    const double chance = link_table(*edited).links[0].pass_probability;
    CHECK(std::abs(chance - remedy.expected->pass_probability) <= 1e-9);
    CHECK(chance > link_table(site).links[0].pass_probability + 0.2);
    return *edited;
  };
  const DeviceRelocation found = ways();
  const Remedy* moved = find_way(found, RemedyKind::hub_moved);
  const Remedy* spaced = find_way(found, RemedyKind::station_spacer);
  REQUIRE(moved != nullptr);
  REQUIRE(spaced != nullptr);
  CHECK(moved->edits.back() == Edit{"/hubs/hub/mount", Removal{}});
  CHECK_FALSE(then(*moved).hubs[0].mount);
  CHECK(spaced->edits == std::vector<Edit>{{"/hubs/hub/mount/gap_m", 0.03}});
  CHECK(then(*spaced).hubs[0].place == site.hubs[0].place);
  CHECK(spaced < moved);
  site.hubs[0].fixed = true;  // it may still be fitted on a spacer
  CHECK(find_way(ways(), RemedyKind::station_spacer) != nullptr);
  CHECK(find_way(ways(), RemedyKind::hub_moved) == nullptr);
  CHECK(has(ways(), SkipReason::hubs_stay));
}

TEST_CASE("the same for any number of threads; nothing for a sound site; wrong names and figures are told") {
  Site site = weak_contact(97);
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const Relocation one = relocation(site, {.threads = 1});
  const Relocation three = relocation(site, {.threads = 3});
  REQUIRE(one.devices.size() == three.devices.size());
  REQUIRE(one.devices[0].remedies.size() == three.devices[0].remedies.size());
  for (std::size_t i = 0; i + 1 < one.devices[0].remedies.size(); ++i)
    CHECK(one.devices[0].remedies[i].expected->pass_probability ==
          three.devices[0].remedies[i].expected->pass_probability);
  CHECK(relocation(fixture::two_rooms(), {}).devices.empty());
  CHECK_THROWS_AS(relocation(site, {.devices = {"nobody"}}), DomainError);
  CHECK_THROWS_AS(relocation(site, {.chance = 0.2}), DomainError);
  CHECK_THROWS_AS(relocation(site, {.readings = {fixture::read_of("contact", 101)}}), DomainError);
}

TEST_CASE("a hub goes no farther from a socket than its cable reaches") {
  Site site = weak_contact(97);
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  const auto moved_to = [&]() -> std::optional<Point2> {
    const DeviceRelocation device = relocation(site, {.devices = {"contact"}}).devices.at(0);
    const Remedy* remedy = find_way(device, RemedyKind::hub_moved);
    return remedy == nullptr ? std::nullopt : std::optional(remedy->place->at);
  };
  const auto free = moved_to();
  REQUIRE(free);
  CHECK(free->x > 3);  // towards the contact
  Room& left = site.storeys[0].rooms[0];
  left.sockets = {{WallSpot{SheetSide::bottom, SheetSide::right, 0.4}}};
  site.hubs[0].cable_m = 1;
  const auto near_socket = moved_to();
  REQUIRE(near_socket);
  CHECK(along_walls_m(left, {3.6, 0}, *near_socket) <= 1 + 1e-9);
  left.sockets = {std::vector<Socket>{}};
  CHECK_FALSE(moved_to());
}

TEST_CASE("a device is sent to another hub as long as that has a slot, and to its last one too") {
  Site site = weak_contact(97);
  Hub second = site.hubs[0];
  second.name = "second";
  second.place.at = {6.5, 2};
  second.capacity = Capacity{.total = 1, .by_class = {}};
  site.hubs.push_back(second);
  site.devices[0].hub = "hub";
  const auto sent = [&] {
    return find_way(relocation(site, {.devices = {"contact"}}).devices.at(0), RemedyKind::other_hub) !=
           nullptr;
  };
  CHECK(sent());
  site.hubs[1].capacity->total = 0;
  CHECK_FALSE(sent());
}

TEST_CASE("no hub is moved to the harm of another weak device") {
  // Between two devices, neither of which reads enough: what brings the hub nearer to one takes it from the
  // other.
  int moved = 0, free = 0;
  for (const double weak_below : {80.0, 85.0, 90.0, 95.0}) {
    Site site = weak_contact(weak_below);
    site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
    Device other = site.devices[0];
    other.name = "other";
    other.place.at = {-5, 2};
    site.devices.push_back(other);
    const auto chance_of = [](const Site& of, const char* name) {
      return relocation(of, {.devices = {name}}).devices[0].expected.pass_probability;
    };
    const double before = chance_of(site, "other");
    REQUIRE(before < 0.9);
    const Relocation both = relocation(site, {.devices = {"contact"}});
    if (const Remedy* remedy = find_way(both.devices[0], RemedyKind::hub_moved)) {
      const auto after = edited_site(site, remedy->edits);
      REQUIRE(after);
      CHECK(chance_of(*after, "other") >= before - 0.02);
      ++moved;
    }
    // Without the other device the hub does go there.
    site.devices.pop_back();
    free += find_way(relocation(site, {.devices = {"contact"}}).devices[0], RemedyKind::hub_moved) != nullptr
                ? 1
                : 0;
  }
  MESSAGE(moved << " moves with the other device, " << free << " without");
  CHECK(free > 0);
}

TEST_CASE("through a repeater the reading expected is that of the device's own hop") {
  // The device is kept off repeaters by name; the one on the way is a remedy.
  int proposed = 0;
  for (const double weak_below : {60.0, 70.0, 80.0, 90.0}) {
    Site site = weak_contact(weak_below);
    Profile profile = site.profiles.at("hub");
    profile.name = "repeater";
    site.profiles.emplace("repeater", profile);
    Repeater repeater;
    repeater.name = "on the way";
    repeater.profile = "repeater";
    repeater.place = {0, {3.5, 2}, 1.5};
    site.repeaters = {repeater};
    site.devices[0].via = kDirect;
    const DeviceRelocation found = relocation(site, {.devices = {"contact"}, .chance = 0.999}).devices.at(0);
    const Remedy* remedy = find_way(found, RemedyKind::known_repeater);
    if (remedy == nullptr) continue;
    ++proposed;
    const Remedy* first = chosen(found);  // nothing needs to be bought for it
    REQUIRE(first != nullptr);
    CHECK((first->does() || first->pass_probability() >= remedy->pass_probability()));
    // As if a hub hung where the repeater does.
    Site hop = site;
    hop.hubs[0].place.at = {3.5, 2};
    hop.repeaters.clear();
    hop.devices[0].via.reset();
    CHECK(remedy->expected->percent == doctest::Approx(link_table(hop).links[0].lower().reading_percent));
    const auto edited = edited_site(site, remedy->edits);
    REQUIRE(edited);
    const Link then = link_table(*edited).links[0];
    CHECK(then.via == std::vector<std::string>{"on the way"});
    CHECK(then.pass_probability == doctest::Approx(remedy->expected->pass_probability).epsilon(1e-9));
  }
  CHECK(proposed > 0);
}

TEST_CASE("spots beside a moved hub or repeater lie as the device does") {
  Site site = pottery();
  int on_frames = 0, beside_station = 0;
  for (const Device& device : pottery().devices) {
    const SpotSetting setting =
        spot_setting(site.profiles.at(device.profile), hanging_spot(site, device.place));
    if (setting != SpotSetting::frame) continue;
    ++on_frames;
    for (const double weak_below : {75.0, 80.0, 85.0, 90.0, 95.0}) {
      site.reading.weak_below_percent = weak_below;
      const DeviceRelocation found =
          relocation(site, {.devices = {device.name}, .chance = 0.999}).devices.at(0);
      for (const Remedy& remedy : found.remedies) {
        if (!remedy.with_spots || !remedy.place || remedy.radio == device.name) continue;
        CHECK(remedy.with_spots->setting == setting);
        ++beside_station;
      }
    }
  }
  CHECK(on_frames > 1);
  CHECK(beside_station > 0);
}

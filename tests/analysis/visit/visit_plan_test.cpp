#include "linkmargin/analysis/visit/visit_plan.hpp"

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include "fixtures/served_block.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

/// Enough for a choice, few enough for many sites.
constexpr int kSomeSets = 60;

/// A served block whose devices may be moved, some of them not or on metal, some enrolled by name.
Site movable_block(std::uint64_t number) {
  Site site = fixture::served_block(number);
  site.reading = {.zero = Dbm{-85}, .full = Dbm{-25}};
  std::vector<double> percents;  // about half of the devices are to be short
  for (const Link& link : link_table(site).links) percents.push_back(link.lower().reading_percent);
  std::ranges::sort(percents);
  site.reading.weak_below_percent = std::clamp(std::floor((percents[0] + percents[2]) / 2), 1.0, 95.0);
  site.devices[0].may_move = Mobility{Mobility::Radius{0.3}};
  if (number % 2 == 0) site.devices[1].may_move = Mobility{Mobility::Radius{2}};
  if (number % 4 == 1) site.devices[2].mount = Mount{.gap_m = 0.005, .faces_deg = {}};
  if (number % 6 == 1) site.hubs[0].mount = Mount{.gap_m = 0.005, .faces_deg = {}};
  if (number % 5 == 0) site.devices[3].hub = "hub";
  if (number % 7 == 0) site.devices[1].via = kDirect;
  site.profiles["ruled"] = site.profiles.at("contact");
  site.profiles["ruled"].name = "ruled";
  site.profiles["ruled"].fixed_by_rule = true;
  if (number % 3 == 1) site.devices[2].profile = "ruled";
  return site;
}

const Link& link_of(const LinkTable& table, const std::string& device) {
  return *std::ranges::find(table.links, device, &Link::device);
}

template <typename Work>
std::vector<Work> works(const VisitPlan& plan) {
  std::vector<Work> found;
  for (const VisitStop& stop : plan.stops) {
    if (const auto* work = std::get_if<Work>(&stop.work)) found.push_back(*work);
  }
  return found;
}

/// A row of rooms with two contacts at the far end, which the hub does not hear well.
Site far_contacts() {
  Site site = fixture::two_rooms();
  site.reading = {.zero = Dbm{-85}, .full = Dbm{-25}, .weak_below_percent = 74};
  Profile repeater = site.profiles.at("hub");
  repeater.name = "repeater";
  site.profiles.emplace("repeater", repeater);
  site.hubs[0].fixed = true;
  Device other = site.devices[0];
  other.name = "other contact";
  other.place.at = snapped({7, 3});
  site.devices.push_back(other);
  return site;
}

}  // namespace

TEST_CASE("check says of the edited site what the plan promises, and nothing good gets worse") {
  int planned = 0, moved = 0, bought = 0, enrolled = 0, shared = 0, reached = 0;
  for (std::uint64_t number = 1; number <= 300; ++number) {
    CAPTURE(number);
    const Site site = movable_block(number);
    const Doors doors = number % 4 < 2 ? Doors::armed : Doors::open;
    const VisitPlan plan = visit_plan(site, {.doors = doors, .most_sets = kSomeSets});
    const LinkTable before = link_table(site, {.doors = doors});
    const auto edited = edited_site(site, plan.edits);
    REQUIRE(edited);
    const LinkTable after = link_table(*edited, {.doors = doors});
    REQUIRE(after.links.size() == plan.after.links.size());
    for (std::size_t i = 0; i < after.links.size(); ++i) {
      const Link& promised = plan.after.links[i];
      CHECK(std::abs(after.links[i].pass_probability - promised.pass_probability) <= 1e-9);
      CHECK(std::abs(after.links[i].weaker().reading_percent - promised.weaker().reading_percent) <= 1e-9);
      CHECK(after.links[i].hub == promised.hub);
      CHECK(after.links[i].via == promised.via);
      if (before.links[i].outcome == Outcome::good) CHECK(after.links[i].outcome == Outcome::good);
    }
    for (const DeviceWork& work : works<DeviceWork>(plan)) {
      ++planned;
      CHECK(work.check_chance == link_of(plan.after, work.device).pass_probability);
      CHECK(work.chance >= work.check_chance);
      if (work.met) {
        ++reached;
        CHECK(work.chance >= plan.chance);
        if (!work.change.spots) CHECK(link_of(after, work.device).outcome == Outcome::good);
      }
      const auto device = std::ranges::find(site.devices, work.device, &Device::name);
      if (site.profiles.at(device->profile).fixed_by_rule || !device->may_move) {
        CHECK_FALSE(work.change.place);
        CHECK_FALSE(work.change.spots);
      }
      if (site.profiles.at(device->profile).fixed_by_rule) CHECK_FALSE(work.change.spacer);
      moved += work.change.place ? 1 : 0;
      enrolled += work.change.enrol ? 1 : 0;
    }
    for (const std::string& weak : before.weak_devices) {
      const auto all = works<DeviceWork>(plan);
      CHECK(std::ranges::find(all, weak, &DeviceWork::device) != all.end());
    }
    shared += static_cast<int>(works<SharedWork>(plan).size());
    bought += plan.effort.parts > 0 ? 1 : 0;
    CHECK((plan.effort.parts > 0) == (visit_parts(plan).repeaters + visit_parts(plan).hubs > 0));
  }
  MESSAGE("planned " << planned << ", reached " << reached << ", moved " << moved << ", enrolled " << enrolled
                     << ", shared " << shared << ", bought " << bought);
  CHECK(planned > 200);
  CHECK(reached > 100);
  CHECK(moved > 5);
  CHECK(shared > 50);
  CHECK(bought > 20);
}

TEST_CASE("once all is done a second visit has nothing to buy or to drill for what was reached") {
  constexpr int sets = 500;
  int visited = 0;
  for (std::uint64_t number = 1; number <= 60; ++number) {
    CAPTURE(number);
    const Site site = movable_block(number);
    const VisitPlan first = visit_plan(site, {.most_sets = sets});
    if (first.stops.empty() || !short_devices(first).empty()) continue;
    const auto edited = edited_site(site, first.edits);
    REQUIRE(edited);
    const VisitPlan second = visit_plan(*edited, {.most_sets = sets});
    ++visited;
    CHECK(second.effort.parts == 0);
    CHECK(second.effort.holes == 0);
    for (const DeviceWork& work : works<DeviceWork>(second)) CHECK(work.change.spots);
  }
  CHECK(visited > 10);
}

TEST_CASE("one repeater serves all that need one") {
  const Site site = far_contacts();
  REQUIRE(link_table(site).doubtful_devices.size() == 2);
  const VisitPlan plan = visit_plan(site, {});
  const auto shared = works<SharedWork>(plan);
  REQUIRE(shared.size() == 1);
  CHECK(shared[0].kind == SharedKind::repeater_added);
  CHECK(shared[0].needed_by.size() == 2);
  CHECK(plan.effort.parts == 1);
  CHECK(short_devices(plan).empty());
  CHECK(std::holds_alternative<SharedWork>(plan.stops.front().work));  // before what it serves
}

TEST_CASE("a hub that may move is moved before anything is bought") {
  Site site = far_contacts();

  site.hubs[0].fixed = false;
  const VisitPlan plan = visit_plan(site, {});
  const auto shared = works<SharedWork>(plan);
  REQUIRE(shared.size() == 1);
  CHECK(shared[0].kind == SharedKind::hub_moved);
  CHECK(plan.effort.parts == 0);
  CHECK(short_devices(plan).empty());
}

TEST_CASE("where all is good there is nothing to do") {
  Site site = fixture::two_rooms();
  site.reading.weak_below_percent = 5;
  const VisitPlan plan = visit_plan(site, {});
  CHECK(plan.stops.empty());
  CHECK(plan.edits.empty());
  CHECK(plan.proved);
}

TEST_CASE("a reading decides what needs something") {
  Site site = far_contacts();
  std::vector<Reading> readings{fixture::read_of("contact", 95), fixture::read_of("other contact", 95)};
  CHECK(visit_plan(site, {.readings = readings}).stops.empty());
  readings = {fixture::read_of("contact", 71), fixture::read_of("other contact", 95)};
  const VisitPlan plan = visit_plan(site, {.readings = readings});
  const auto all = works<DeviceWork>(plan);
  REQUIRE(all.size() == 1);
  CHECK(all[0].device == "contact");
  CHECK(all[0].read_percent == readings[0].percent);
  CHECK_FALSE(all[0].read_first);
}

TEST_CASE(
    "a reading that the plan does not explain asks for its cause, and one that was weak before is read "
    "again") {
  const Site site = far_contacts();
  const VisitPlan odd = visit_plan(site, {.readings = {fixture::read_of("contact", 3)}});
  const auto all = works<DeviceWork>(odd);
  const auto of_contact = std::ranges::find(all, "contact", &DeviceWork::device);
  REQUIRE(of_contact != all.end());
  CHECK(of_contact->stop == DeviceStop::cause);
  CHECK(of_contact->change.empty());
  const VisitPlan again =
      visit_plan(site, {.readings = {fixture::read_of("contact", 70), fixture::read_of("contact", 92),
                                     fixture::read_of("other contact", 95)}});
  const auto others = works<DeviceWork>(again);
  REQUIRE(others.size() == 1);
  CHECK(others[0].stop == DeviceStop::read_again);
}

TEST_CASE("a detector that its standard holds where it is, and that reads too little, gets another way") {
  Site site = far_contacts();
  site.profiles["ruled"] = site.profiles.at("contact");
  site.profiles["ruled"].name = "ruled";
  site.profiles["ruled"].fixed_by_rule = true;
  site.devices[0].profile = "ruled";
  const double predicted = link_of(link_table(site), "contact").lower().reading_percent;
  const double low = site.reading.weak_below_percent - 1;
  REQUIRE(predicted > low);
  const auto works_of = [&](double percent) {
    const auto all = works<DeviceWork>(visit_plan(
        site, {.readings = {fixture::read_of("contact", percent), fixture::read_of("other contact", 95)}}));
    REQUIRE(all.size() == 1);
    return all.front();
  };
  const DeviceWork little = works_of(low);
  CHECK_FALSE(little.change.place);
  CHECK_FALSE(little.change.spots);
  CHECK((little.change.enrol || little.remedy));
  const DeviceWork odd = works_of(40);  // far below: look for the cause, then another way
  CHECK(odd.stop == DeviceStop::cause);
  CHECK((odd.remedy || (odd.otherwise && odd.otherwise->enrol)));
  const DeviceWork dead = works_of(0);  // no fade is so deep
  CHECK(dead.stop == DeviceStop::cause);
  CHECK_FALSE(dead.otherwise);
  CHECK_FALSE(dead.remedy);
}

TEST_CASE("the plan is the same for any number of threads") {
  for (std::uint64_t number = 1; number <= 40; ++number) {
    CAPTURE(number);
    const Site site = movable_block(number);
    const VisitPlan one = visit_plan(site, {.most_sets = kSomeSets, .threads = 1});
    const VisitPlan four = visit_plan(site, {.most_sets = kSomeSets, .threads = 4});
    CHECK(one.edits == four.edits);
    CHECK(one.tried == four.tried);
    CHECK(one.stops.size() == four.stops.size());
  }
}

TEST_CASE("a search with a limit says that it was cut short") {
  const Site site = far_contacts();
  const VisitPlan plan = visit_plan(site, {.most_sets = 1});
  CHECK_FALSE(plan.proved);
  CHECK(plan.tried == 1);
  CHECK(plan.sets > 1);
}

TEST_CASE("a chance outside its range is refused") {
  CHECK_THROWS_AS(visit_plan(fixture::two_rooms(), {.chance = 0.4}), DomainError);
}

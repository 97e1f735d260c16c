#include "linkmargin/analysis/placement/model/placement_fewest.hpp"
#include "linkmargin/analysis/placement/model/placement_places.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/site/site_radios.hpp"

#include "fixtures/hanging_oracle.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace linkmargin;

namespace {

Device contact_at(const std::string& name, std::size_t storey, Point2 at, double height_m) {
  return {.name = name, .profile = "contact", .place = {storey, snapped(at), height_m}};
}

/// A block of rooms with some contacts and a scale that asks for much.
Site random_site(std::uint64_t seed) {
  const RandomStream random(seed, 61);
  std::uint64_t draw = 0;
  const auto uniform = [&](double from, double to) { return from + (to - from) * random.uniform(draw++); };
  const int storeys = 1 + static_cast<int>(seed % 2);
  const int columns = 2 + static_cast<int>(seed % 2);
  const int rows = 1 + static_cast<int>(seed % 3 == 0);
  Site site = fixture::random_block(seed, storeys, columns, rows);
  site.reading = {.zero = Dbm{-95}, .full = Dbm{-15}, .weak_below_percent = 60};
  site.radio.diffraction = seed % 3 != 0;
  site.fading.on = seed % 5 != 0;
  site.devices.clear();
  const int devices = 2 + static_cast<int>(seed % 4);
  for (int i = 0; i < devices; ++i) {
    const auto storey = static_cast<std::size_t>(random.bits(draw++) % static_cast<std::uint64_t>(storeys));
    const Point2 at{uniform(0.2, 3.0 * columns - 0.2), uniform(0.2, 4.0 * rows - 0.2)};
    site.devices.push_back(contact_at("contact " + std::to_string(i), storey, at, uniform(0.2, 2.3)));
    if (i == 1) site.devices.back().mount = Mount{.gap_m = 0.02, .faces_deg = uniform(-180, 180)};
  }
  if (seed % 6 == 1) {
    site.calibration = Calibration{.offset_db = -2, .offset_sigma_db = 1.5, .exponent_sigma = 0.1};
    site.calibration->zero_sigma_db = 2;
    site.calibration->full_sigma_db = 1;
    site.calibration->materials["board"] = {.shift_db = 1, .sigma_db = 2};
    site.calibration->correlations = {{kOffsetPointer, kZeroPointer, 0.4}};
  }
  if (seed % 7 == 0) site.hubs[0].mount = Mount{.gap_m = 0.03, .faces_deg = 45.0};
  if (seed % 7 == 3) site.hubs[0].mount = Mount{.gap_m = 0.01, .faces_deg = {}};
  return site;
}

struct Figures {
  double worst = -1;
  double sum = 0;
};

/// A hub at one place, every device by its single links, the least of all states of the doors.
Figures by_single_links(const std::vector<std::unique_ptr<Scene>>& scenes, const Site& site,
                        const Placement& place) {
  Hub hub = site.hubs[0];
  put_station(hub, place);
  const FadingModel fading_model(site.fading);
  std::vector<double> chances(site.devices.size(), 1);
  for (const auto& scene : scenes) {
    const HubEndpoint endpoint = hub_endpoint(site, *scene, hub);
    for (std::size_t i = 0; i < chances.size(); ++i)
      chances[i] =
          std::min(chances[i], device_link(site, site.devices[i], endpoint, fading_model).pass_probability);
  }
  Figures figures{1, 0};
  for (const double chance : chances) {
    figures.worst = std::min(figures.worst, chance);
    figures.sum += chance;
  }
  return figures;
}

const ChosenPart& hub_of(const PlacementChoice& choice, const std::string& name) {
  return *std::ranges::find(choice.parts, name, &ChosenPart::name);
}

/// Two rooms with contacts in both.
Site four_contacts() {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  site.reading = {.zero = Dbm{-95}, .full = Dbm{-15}, .weak_below_percent = 60};
  site.devices.clear();
  for (const auto& [name, x] :
       {std::pair("a", 0.5), std::pair("b", 1.5), std::pair("c", 6.0), std::pair("d", 7.5)})
    site.devices.push_back(contact_at(name, 0, {x, 1}, 1));
  return site;
}

}  // namespace

TEST_CASE("one hub: the best of all candidate places by single links, on 200 random sites") {
  double worst_off = 0;
  double sum_off = 0;
  std::size_t places = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    const Site site = random_site(seed);
    PlacementOptions options{.anywhere = true, .step_m = 1, .best_only = true};
    if (seed % 4 != 0) options.doors = {Doors::armed};
    const PlacementAnswer found = placement(site, options);
    REQUIRE(found.status == PlacementStatus::optimal);
    std::vector<std::unique_ptr<Scene>> scenes;
    for (const Doors doors : options.doors) scenes.push_back(std::make_unique<Scene>(site, doors));
    const PlacementPlaces candidates =
        placement_places(site, MountingPlaces(site), placed_radios(site, 1, 0, true), options.step_m);
    REQUIRE(candidates.points.size() == found.places);
    places += candidates.points.size();
    Figures best;
    for (const Placement& place : candidates.points) {
      const Figures here = by_single_links(scenes, site, place);
      if (here.worst > best.worst || (here.worst == best.worst && here.sum > best.sum)) best = here;
    }
    const PlacementChoice& choice = found.choices.at(0);
    const Figures there = by_single_links(scenes, site, choice.parts[0].place);
    CHECK(std::abs(there.worst - choice.worst_chance()) <= 1e-9);
    worst_off = std::max(worst_off, best.worst - there.worst);
    if (there.worst == best.worst) sum_off = std::max(sum_off, best.sum - there.sum);
  }
  MESSAGE("places " << places << ", worst off by " << worst_off << ", sum by " << sum_off);
  CHECK(places > 8000);
  CHECK(worst_off <= 1e-5);  // straight maps are floats, some 1e-5 dB off
  CHECK(sum_off <= 1e-5);
}

TEST_CASE("a choice made so is what check then says") {
  for (const int hubs : {1, 2}) {
    Site site = four_contacts();
    site.hubs[0].capacity = Capacity{hubs == 1 ? 4 : 2, {}};
    const PlacementAnswer found =
        placement(site, {.anywhere = true, .hubs = hubs, .step_m = 0.5, .doors = {Doors::armed}});
    REQUIRE(found.status == PlacementStatus::optimal);
    const PlacementChoice& choice = found.choices.at(0);
    const auto edited = edited_site(site, choice.edits);
    REQUIRE(edited);
    const LinkTable table = link_table(*edited);
    for (std::size_t i = 0; i < table.links.size(); ++i) {
      CHECK(table.links[i].hub == choice.services[i].hub);
      CHECK(std::abs(table.links[i].pass_probability - choice.services[i].chance) <= 1e-9);
    }
    for (const HubLoad& load : table.hubs) CHECK(load.slots_used <= (hubs == 1 ? 4 : 2));
  }
}

TEST_CASE("on 300 random sites every part can hang where it is put, and check then says what was promised") {
  int moved = 0;
  int added = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    CAPTURE(seed);
    Site site = random_site(seed);
    site.calibration.reset();
    site.profiles["repeater"] = site.profiles.at("hub");
    site.profiles["repeater"].name = "repeater";
    Storey& storey = site.storeys[0];
    storey.rooms[seed % storey.rooms.size()].use = RoomUse::wet;
    if (seed % 4 == 0) storey.rooms[(seed / 4) % storey.rooms.size()].keep_out = true;
    if (seed % 3 == 0) storey.rooms[0].sockets = {{WallSpot{SheetSide::left, SheetSide::bottom, 1}}};
    PlacementOptions options{.anywhere = true, .step_m = 1, .doors = {Doors::armed}, .best_only = true};
    if (seed % 6 == 0) options.repeaters = 1;
    const PlacementAnswer found = placement(site, options);
    REQUIRE(!found.choices.empty());
    const PlacementChoice& choice = found.choices.front();
    for (const ChosenPart& part : choice.parts) {
      const bool stays = part.present && part.place == site.hubs[0].place;
      moved += stays ? 0 : 1;
      added += part.repeater ? 1 : 0;
      const bool own_wet_room =
          part.present && part.place.storey == 0 && contains(storey.rooms[0].corners, part.place.at);
      const std::string flaw = fixture::oracle_flaw(site, part.place);
      if (!stays && !(own_wet_room && flaw.starts_with("wet"))) CHECK(flaw == "");
    }
    const auto edited = edited_site(site, choice.edits);
    REQUIRE(edited);
    CHECK(validate(*edited).empty());
    const LinkTable table = link_table(*edited);
    for (std::size_t i = 0; i < table.links.size(); ++i)
      CHECK(std::abs(table.links[i].pass_probability - choice.services[i].chance) <= 1e-9);
  }
  CHECK(moved > 200);
  CHECK(added > 5);
}

TEST_CASE("slots send a device to another hub than its best, and the site so edited says the same") {
  Site site = four_contacts();
  site.hubs[0].fixed = true;
  site.hubs[0].capacity = Capacity{2, {}};
  Hub other = site.hubs[0];
  other.name = "other";
  other.place.at = {3.5, 3};
  other.capacity = Capacity{2, {}};
  site.hubs.push_back(other);
  site.devices[2].place.at = {2, 2};
  const PlacementAnswer found = placement(site, {.anywhere = true, .doors = {Doors::armed}});
  REQUIRE(found.status == PlacementStatus::optimal);
  const PlacementChoice& choice = found.choices.at(0);
  CHECK(found.choices.size() == 1);
  CHECK(hub_of(choice, "hub").load->slots_used == 2);
  CHECK(hub_of(choice, "other").load->slots_used == 2);
  const auto edited = edited_site(site, choice.edits);
  REQUIRE(edited);
  const LinkTable table = link_table(*edited);
  for (std::size_t i = 0; i < table.links.size(); ++i) CHECK(table.links[i].hub == choice.services[i].hub);
}

TEST_CASE("too few slots are told, and how many are missing") {
  Site site = four_contacts();
  site.hubs[0].capacity = Capacity{3, {}};
  site.devices[0].slots = 2;
  const PlacementAnswer found = placement(site, {.anywhere = true});
  CHECK(found.status == PlacementStatus::infeasible);
  CHECK(found.missing_slots == 2);
  CHECK(found.choices.empty());
}

TEST_CASE("a hub goes where it may, and nowhere else") {
  Site site = four_contacts();
  const auto placed = [&](PlacementOptions options = {.anywhere = true}) {
    options.step_m = 0.25;
    const PlacementAnswer found = placement(site, options);
    REQUIRE(!found.choices.empty());
    return found.choices[0].parts[0].place;
  };
  const Point2 free = placed().at;
  CHECK(fixture::oracle_flaw(site, placed()) == "");
  site.storeys[0].rooms[free.x < 4 ? 0 : 1].keep_out = true;
  const Point2 kept = placed().at;
  CHECK((kept.x < 4) != (free.x < 4));
  site.storeys[0].rooms[0].keep_out = site.storeys[0].rooms[1].keep_out = false;
  for (Room& room : site.storeys[0].rooms) room.sockets = {{WallSpot{SheetSide::top, SheetSide::left, 1}}};
  CHECK(placed().at.y > 3);
  for (Room& room : site.storeys[0].rooms) room.sockets.reset();
  site.hubs[0].may_move = Mobility{Mobility::WithinRoom{"left"}};
  CHECK(placed().at.x < 4);
  site.hubs[0].may_move = Mobility{Mobility::Along{{{1, 2}, {3, 2}}}};
  CHECK(placed().at.y == 2);
  site.hubs[0].fixed = true;
  CHECK(placed().at == site.hubs[0].place.at);
  site.hubs[0].fixed = false;
  site.hubs[0].may_move.reset();
  Obstacle rack{.name = "rack",
                .corners = rectangle(free - Point2{0.6, 0.6}, 1.2, 1.2),
                .base_m = 0,
                .height_m = 2,
                .construction = {"board", {}}};
  site.storeys[0].obstacles.push_back(rack);
  CHECK(!contains(rack.corners, placed().at));
}

TEST_CASE("without may_move a hub keeps to its room and a repeater to its place") {
  Site site = four_contacts();
  const auto placed = [&](bool anywhere) {
    PlacementChoice found =
        placement(site, {.anywhere = anywhere, .step_m = 0.25, .best_only = true}).choices.at(0);
    return found.parts;
  };
  const auto room_of = [](Point2 at) { return at.x < 4 ? 0 : 1; };
  const Point2 free = placed(true).front().place.at;
  site.hubs[0].place.at = room_of(free) == 0 ? Point2{6, 2} : Point2{2, 2};
  CHECK(room_of(placed(true).front().place.at) == room_of(free));
  CHECK(room_of(placed(false).front().place.at) != room_of(free));

  Profile profile = site.profiles.at("hub");
  profile.name = "repeater";
  site.profiles.emplace("repeater", profile);
  site.materials.at("board") = fixture::measured("board", 10, 2);
  site.repeaters.push_back({.name = "known", .profile = "repeater", .place = {0, free, 1}});
  const auto parts = placed(false);
  REQUIRE(parts.size() == 2);
  CHECK(parts[1].place.at == free);
  site.repeaters[0].may_move = Mobility{Mobility::Radius{0.5}};
  for (const ChosenPart& part : placed(false)) {
    if (part.repeater) CHECK(distance(part.place.at, free) <= 0.5 + 1e-9);
  }
}

TEST_CASE("choices beside the best are in another room, and the best there") {
  Site site = four_contacts();
  const PlacementAnswer found = placement(site, {.anywhere = true, .step_m = 0.5, .doors = {Doors::armed}});
  REQUIRE(found.choices.size() == 2);  // there are two rooms
  std::vector<std::unique_ptr<Scene>> scenes;
  scenes.push_back(std::make_unique<Scene>(site, Doors::armed));
  const PlacementPlaces candidates =
      placement_places(site, MountingPlaces(site), placed_radios(site, 1, 0, true), 0.5);
  std::vector<Point2> earlier;
  for (const PlacementChoice& choice : found.choices) {
    double best = -1;
    for (const Placement& place : candidates.points) {
      const auto same_room = [&](Point2 other) { return (place.at.x < 4) == (other.x < 4); };
      if (std::ranges::none_of(earlier, same_room))
        best = std::max(best, by_single_links(scenes, site, place).worst);
    }
    CHECK(std::abs(choice.worst_chance() - best) <= 1e-5);
    earlier.push_back(choice.parts[0].place.at);
  }
  CHECK(found.choices[0].worst_chance() >= found.choices[1].worst_chance());
}

TEST_CASE("every figure is the least over the cases and the doors") {
  Site site = random_site(11);
  PlacementOptions options{.anywhere = true, .step_m = 0.75, .best_only = true};
  options.cases = {{"as it is", {}}, {"quiet room", {Edit{"/radio/noise_rise_db", 12.0}}}};
  const PlacementAnswer found = placement(site, options);
  REQUIRE(found.cases.size() == 4);
  const PlacementChoice& choice = found.choices.at(0);
  Site noisy = site;
  noisy.radio.noise_rise_db = 12;
  for (std::size_t i = 0; i < site.devices.size(); ++i) {
    double least = 1;
    for (const Site* of : {&site, &noisy}) {
      for (const Doors doors : {Doors::armed, Doors::open}) {
        Site moved = *of;
        moved.hubs[0].place = choice.parts[0].place;
        least = std::min(least, link_table(moved, {.doors = doors}).links[i].pass_probability);
      }
    }
    CHECK(std::abs(choice.services[i].chance - least) <= 1e-9);
  }
  CHECK(choice.worst_chance() <=
        placement(site, {.anywhere = true, .step_m = 0.75, .best_only = true}).choices.at(0).worst_chance());
}

TEST_CASE("a repeater is used where the hub does not reach, takes a slot, and the weaker hop counts") {
  Site site = four_contacts();
  Profile repeater = site.profiles.at("hub");
  repeater.name = "repeater";
  site.profiles.emplace("repeater", repeater);
  site.materials.at("board") = fixture::measured("board", 10, 2);
  site.hubs[0].fixed = true;
  site.hubs[0].place.at = {0.5, 3};
  site.hubs[0].capacity = Capacity{6, {}};
  site.devices[3].body_loss_db = 15;
  const PlacementAnswer without =
      placement(site, {.anywhere = true, .doors = {Doors::armed}, .best_only = true});
  const PlacementAnswer with =
      placement(site, {.anywhere = true, .repeaters = 1, .step_m = 0.5, .doors = {Doors::armed}});
  REQUIRE(with.status == PlacementStatus::optimal);
  const PlacementChoice& choice = with.choices.at(0);
  REQUIRE(choice.parts.size() == 2);
  CHECK(choice.worst_chance() > without.choices.at(0).worst_chance() + 0.05);
  CHECK(choice.parts[0].load->slots_used == 5);
  const auto by_way =
      std::ranges::find_if(choice.services, [](const ChosenService& one) { return !one.via.empty(); });
  REQUIRE(by_way != choice.services.end());
  CHECK(by_way->link.via == by_way->via);
  site.hubs[0].capacity = Capacity{4, {}};
  const PlacementAnswer full = placement(
      site, {.anywhere = true, .repeaters = 1, .step_m = 0.5, .doors = {Doors::armed}, .best_only = true});
  CHECK(full.choices.at(0).parts.size() == 1);
  const auto fewer =
      std::ranges::find_if(with.prices, [](const CountTradeoff& one) { return one.repeaters == 0; });
  REQUIRE(fewer != with.prices.end());
  CHECK(std::abs(fewer->worst_chance - without.choices.at(0).worst_chance()) <= 1e-5);
}

TEST_CASE("any number of threads gives the same answer") {
  const Site site = random_site(10);
  const PlacementAnswer one = placement(site, {.anywhere = true, .step_m = 0.5, .threads = 1});
  const PlacementAnswer two = placement(site, {.anywhere = true, .step_m = 0.5, .threads = 2});
  REQUIRE(one.choices.size() == two.choices.size());
  for (std::size_t c = 0; c < one.choices.size(); ++c) {
    CHECK(one.choices[c].edits == two.choices[c].edits);
    CHECK(one.choices[c].sum == two.choices[c].sum);
  }
  REQUIRE(one.field);
  CHECK(std::ranges::equal(one.field->spots, two.field->spots, {}, &PlacementField::Spot::worst,
                           &PlacementField::Spot::worst));
}

TEST_CASE("where links are dear the grid is coarser, and the choice is refined from there") {
  Site site = random_site(10);
  REQUIRE(site.radio.diffraction);
  const PlacementAnswer whole = placement(site, {.anywhere = true, .step_m = 0.25, .best_only = true});
  const PlacementAnswer refined =
      placement(site, {.anywhere = true, .step_m = 0.25, .best_only = true, .link_work = 60});
  CHECK(whole.status == PlacementStatus::optimal);
  CHECK(refined.status == PlacementStatus::bounded);
  CHECK(refined.proved);
  CHECK(!refined.bound_db);
  REQUIRE(refined.proved_step_m >= 1);
  const PlacementAnswer coarse =
      placement(site, {.anywhere = true, .step_m = refined.proved_step_m, .best_only = true});
  CHECK(coarse.places == refined.places);
  CHECK(refined.choices[0].worst_chance() >= coarse.choices[0].worst_chance() - 1e-9);
  CHECK(refined.choices[0].worst_chance() <= whole.choices[0].worst_chance() + 0.02);
  CHECK(refined.choices[0].parts[0].place.at != coarse.choices[0].parts[0].place.at);
}

TEST_CASE("the fewest parts are those with which every number below fails, by searches for the worst alone") {
  int reached = 0;
  int more_than_one = 0;
  int none = 0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    Site site = random_site(seed);
    site.reading.weak_below_percent = 70 + static_cast<double>(seed % 4) * 5;
    site.profiles["repeater"] = site.profiles.at("hub");
    site.profiles["repeater"].name = "repeater";
    const PlacementOptions most{
        .anywhere = true, .hubs = 2, .repeaters = 1, .step_m = 1.5, .best_only = true};
    const double chance = seed % 2 == 0 ? 0.9 : 0.6;
    std::optional<std::pair<int, int>> fewest;
    for (const auto& [hubs, repeaters] : {std::pair{1, 0}, {1, 1}, {2, 0}, {2, 1}}) {
      PlacementOptions options = most;
      options.hubs = hubs;
      options.repeaters = repeaters;
      const PlacementAnswer answer = placement(site, options);
      if (answer.choices.empty() || answer.choices.front().worst_chance() < chance - 1e-6) continue;
      fewest = {hubs, repeaters};
      break;
    }
    const PlacementAnswer answer = fewest_parts(site, most, chance);
    REQUIRE(answer.fewest);
    CHECK(answer.fewest->reached == fewest.has_value());
    none += fewest ? 0 : 1;
    if (!fewest) continue;
    ++reached;
    const auto& parts = answer.choices.front().parts;
    const auto hubs = std::ranges::count_if(parts, [](const ChosenPart& part) { return !part.repeater; });
    CHECK(hubs == fewest->first);
    CHECK(static_cast<int>(parts.size()) == fewest->first + fewest->second);
    CHECK(answer.choices.front().worst_chance() >= chance - 1e-6);
    more_than_one += parts.size() > 1 ? 1 : 0;
  }
  CHECK(reached >= 5);
  CHECK(more_than_one >= 2);
  CHECK(none >= 1);
}

TEST_CASE("the sum alone is never less than with the worst first, which is never worse off") {
  int differ = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    const Site site = random_site(seed);
    PlacementOptions options{.anywhere = true, .step_m = 1, .best_only = true};
    const PlacementChoice worst_first = placement(site, options).choices.at(0);
    options.target_probability = 0;
    const PlacementAnswer answer = placement(site, options);
    const PlacementChoice& by_sum = answer.choices.at(0);
    CHECK(answer.status == PlacementStatus::optimal);
    CHECK(by_sum.sum >= worst_first.sum - 1e-4);
    CHECK(worst_first.worst_chance() >= by_sum.worst_chance() - 1e-4);
    differ += by_sum.sum > worst_first.sum + 1e-4 ? 1 : 0;
  }
  CHECK(differ >= 1);
}

TEST_CASE("told to stop, it says so") {
  const PlacementAnswer found = placement(random_site(10), {.anywhere = true, .stop = [] { return true; }});
  CHECK(found.status == PlacementStatus::stopped);
  CHECK(found.present);
}

TEST_CASE("what cannot be asked for is refused") {
  Site site = four_contacts();
  CHECK_THROWS_AS(placement(site, {.anywhere = true, .hubs = 0}), DomainError);
  CHECK_THROWS_AS(placement(site, {.anywhere = true, .hubs = kMostPlacedHubs + 1}), DomainError);
  CHECK_THROWS_AS(placement(site, {.anywhere = true, .step_m = 0.01}), DomainError);
  CHECK_THROWS_AS(placement(site, {.anywhere = true, .repeaters = 1}),
                  DomainError);  // no profile is a repeater's
  CHECK_THROWS_AS(placement(site, {.anywhere = true, .cases = {{"wrong", {Edit{"/nothing", 1.0}}}}}),
                  DomainError);
}

#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/turned_sites.hpp"
#include "properties/random_site.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

using namespace linkmargin;

/// What holds of every site, held on sites of the generator. A failure names the seed:
/// `linkmargin_random_site SEED` prints the site.
namespace {

constexpr std::uint64_t kSites = 300;

Site site_of(std::uint64_t seed) {
  const auto site = parse_site(properties::random_site_text(seed), "site.yaml", embedded_tables());
  REQUIRE_MESSAGE(fault_lines(site) == "", "seed " << seed);
  return *site;
}

/// Calls look(site) for the site of every seed.
template <typename Look>
void for_sites(Look look, std::uint64_t sites = kSites) {
  for (std::uint64_t seed = 1; seed <= sites; ++seed) {
    CAPTURE(seed);
    look(site_of(seed), seed);
  }
}

std::vector<Link> all_links(const Site& site, Doors doors = Doors::armed) {
  LinkTable table = link_table(site, {.doors = doors, .all_pairs = true});
  table.links.insert(table.links.end(), table.repeaters.begin(), table.repeaters.end());
  return table.links;
}

const Link& same_link(const std::vector<Link>& links, const Link& wanted) {
  const auto found = std::ranges::find_if(links, [&](const Link& link) {
    return link.device == wanted.device && link.hub == wanted.hub && link.via == wanted.via;
  });
  REQUIRE(found != links.end());
  return *found;
}

/// How far levels lie apart where a site is drawn another way.
struct Apart {
  double worst_db = 0;
  int links = 0;
  int over_bound = 0;

  void take(double one_db, double other_db, double bound_db) {
    const double apart_db = std::abs(one_db - other_db);
    worst_db = std::max(worst_db, apart_db);
    over_bound += apart_db > bound_db ? 1 : 0;
    ++links;
  }
};

template <typename Draw>
Apart apart(double bound_db, Draw draw) {
  Apart found;
  for_sites([&](const Site& site, std::uint64_t seed) {
    const std::vector<Link> after = all_links(draw(site, seed));
    for (const Link& link : all_links(site)) {
      const Link& other = same_link(after, link);
      if (std::abs(link.uplink.level.value - other.uplink.level.value) > bound_db)
        MESSAGE("seed " << seed << ", " << link.device << " to " << link.heard_by() << ": "
                        << link.uplink.level.value << " dBm, " << other.uplink.level.value << " dBm");
      found.take(link.uplink.level.value, other.uplink.level.value, bound_db);
    }
  });
  MESSAGE(found.links << " links, the farthest apart " << found.worst_db << " dB, " << found.over_bound
                      << " over " << bound_db << " dB");
  CHECK(found.links > 2000);
  return found;
}

/// How sigma_db grows, link by link, as readings of the first devices are added one after the other.
struct Widening {
  double widest_db = 0;
  std::size_t narrower = 0, wider = 0;  ///< links; wider by more than 0.01 dB
};

/// @param level_of  what a device reads, by its link and its place in the file
template <typename LevelOf>
Widening widening(double bound_db, LevelOf level_of) {
  constexpr std::uint64_t sites = 100;
  constexpr std::size_t most = 5;
  Widening found;
  const auto look = [&](const Site& site, std::uint64_t seed) {
    const LinkTable unread = link_table(site, {.direct = true});
    std::vector<Link> before = all_links(site);
    std::vector<Reading> readings;
    for (std::size_t count = 0; count < std::min(most, site.devices.size()); ++count) {
      Reading& reading = readings.emplace_back();
      reading.device = site.devices[count].name;
      reading.hub = unread.links[count].hub;
      reading.level = level_of(unread.links[count], count);
      LinkTableOptions options{.all_pairs = true};
      options.nearby = fitted_shadowing(site, readings, Doors::armed);
      const std::vector<Link> after = link_table(site, options).links;
      for (const Link& link : after) {
        const double wider_db = link.sigma_db - same_link(before, link).sigma_db;
        if (wider_db > bound_db)
          MESSAGE("seed " << seed << ", " << count + 1 << " readings, " << link.device << " to "
                          << link.heard_by() << ": " << wider_db << " dB wider");
        found.widest_db = std::max(found.widest_db, wider_db);
        found.narrower += wider_db < -0.01 ? 1 : 0;
        found.wider += wider_db > 0.01 ? 1 : 0;
      }
      before = after;
    }
  };
  for_sites(look, sites);
  MESSAGE(found.narrower << " links narrower by 0.01 dB, " << found.wider << " wider, the widest step "
                         << found.widest_db << " dB");
  CHECK(found.narrower > 200);
  return found;
}

}  // namespace

TEST_CASE("the sites of the generator are sound and of many kinds") {
  std::size_t storeys = 0, rooms = 0, openings = 0, walls = 0, obstacles = 0, repeaters = 0, areas = 0,
              weak = 0, links = 0;
  for_sites([&](const Site& site, std::uint64_t seed) {
    CHECK(properties::random_site_text(seed) == properties::random_site_text(seed));
    storeys += site.storeys.size();
    for (const Storey& storey : site.storeys) {
      rooms += storey.rooms.size();
      openings += storey.openings.size();
      walls += storey.walls.size();
      obstacles += storey.obstacles.size();
    }
    repeaters += site.repeaters.size();
    areas += site.areas.size();
    const LinkTable table = link_table(site, {.detail = TableDetail::chances});
    weak += table.weak_devices.size();
    links += table.links.size();
  });
  CAPTURE(weak);
  CAPTURE(links);
  CHECK(storeys > 400);
  CHECK(rooms > 800);
  CHECK(openings > 500);
  CHECK(walls > 300);
  CHECK(obstacles > 50);
  CHECK(repeaters > 50);
  CHECK(areas > 50);
  CHECK(weak > links / 50);
  CHECK(weak < links / 2);
}

TEST_CASE(
    "levels do not depend on the order of the file, on where the plan lies and which way round it is drawn") {
  SUBCASE("order") {
    CHECK(apart(1e-6, [](const Site& site, std::uint64_t seed) {
            return turned::reordered(site, seed);
          }).over_bound == 0);
  }
  SUBCASE("translation") {
    CHECK(apart(1e-6, [](const Site& site, std::uint64_t) {
            return turned::shifted(site, {17.375, -5.25});
          }).over_bound == 0);
  }
  // Seen from the other side, sums run in another order, and of two ways that cost the same another is taken.
  constexpr double other_side_db = 0.005;
  SUBCASE("mirror") {
    CHECK(apart(other_side_db, [](const Site& site, std::uint64_t) {
            return turned::mirrored(site);
          }).over_bound == 0);
  }
  SUBCASE("quarters") {
    CHECK(apart(other_side_db, [](const Site& site, std::uint64_t seed) {
            return turned::quarter_turned(site, 1 + static_cast<int>(seed % 3));
          }).over_bound == 0);
  }
  SUBCASE("any turn") {
    // Coordinates are rounded to a millimetre then. A radio stays 37 cm clear of walls, so that most levels
    // move by little; a line that just meets or misses the end of a wall may step.
    const Apart found = apart(0.05, [](const Site& site, std::uint64_t seed) {
      return turned::turned_by(site, 1 + static_cast<double>(seed % 89));
    });
    CHECK(found.over_bound <= found.links / 200);
  }
}

TEST_CASE("swapping the ends of a link changes no bit of its loss, and its items add up to it") {
  std::size_t links = 0;
  double worst_db = 0;
  for_sites([&](const Site& site, std::uint64_t seed) {
    const Scene scene(site, seed % 2 == 0 ? Doors::open : Doors::armed);
    for (const Device& device : site.devices) {
      for (const Hub& hub : site.hubs) {
        const Point3 a = site.point(device.place), b = site.point(hub.place);
        const LossBreakdown there = path_loss(scene, a, b), back = path_loss(scene, b, a);
        CHECK(there.path_loss_db == back.path_loss_db);
        REQUIRE(there.items.size() == back.items.size());
        double sum_db = 0;
        for (const LossItem& item : there.items) sum_db += item.loss_db;
        worst_db = std::max(worst_db, std::abs(sum_db - there.path_loss_db));
        ++links;
      }
    }
  });
  CHECK(links > 1000);
  CHECK(worst_db <= 1e-9);
  for_sites([&](const Site& site, std::uint64_t) {
    for (const Link& link : all_links(site)) {
      double sum_db = 0;
      for (const LossItem& item : link.loss.items) sum_db += item.loss_db;
      CHECK(std::abs(sum_db - link.loss.path_loss_db) <= 1e-9);
      double level_dbm = 0;
      for (const BudgetItem& item : link.uplink.items) level_dbm += item.value_db;
      CHECK(std::abs(level_dbm - link.uplink.level.value) <= 1e-9);
    }
  });
}

TEST_CASE("one more wall never raises what comes along the straight line") {
  std::size_t lower = 0, same = 0;
  for_sites([&](Site site, std::uint64_t seed) {
    if (site.radio.model != PathLossModel::walls) return;
    site.radio.diffraction = false;
    const RandomStream random(seed, 12);
    const std::vector<Link> before = all_links(site);
    for (std::uint64_t i = 0; i < 4; ++i) {
      Site with = site;
      const Point2 from{std::round(64 * (random.uniform(4 * i) * 16 - 3)) / 64,
                        std::round(64 * (random.uniform(4 * i + 1) * 14 - 3)) / 64};
      const Point2 by{std::round(64 * (random.uniform(4 * i + 2) * 6 + 0.5)) / 64,
                      std::round(64 * (random.uniform(4 * i + 3) * 6 - 3)) / 64};
      with.storeys[static_cast<std::size_t>(i) % with.storeys.size()].walls.push_back(
          {.name = "one more wall",
           .line = {from, from + by},
           .construction = {"stud wall", {}},
           .height_m = {}});
      if (!validate(with).empty()) continue;
      const std::vector<Link> after = all_links(with);
      for (const Link& link : before) {
        const double change_db = same_link(after, link).loss.path_loss_db - link.loss.path_loss_db;
        if (change_db < -1e-9)
          MESSAGE("seed " << seed << ", " << link.device << " to " << link.heard_by() << ": " << change_db
                          << " dB by a wall from " << from.x << ", " << from.y << " by " << by.x << ", "
                          << by.y);
        CHECK(change_db >= -1e-9);
        ++(change_db > 1e-9 ? lower : same);
      }
    }
  });
  MESSAGE(lower << " links lost, " << same << " as before");
  CHECK(lower > 300);
  CHECK(same > 500);
}

TEST_CASE("a wall drawn in two pieces is the wall drawn in one, but for a link in a thousand") {
  constexpr double bound_db = 1e-6;
  Apart found;
  for_sites([&](const Site& site, std::uint64_t) {
    Site pieces = site;
    bool any = false;
    for (Storey& storey : pieces.storeys) {
      const std::size_t whole = storey.walls.size();
      for (std::size_t i = 0; i < whole; ++i) {
        TracedWall rest = storey.walls[i];
        if (rest.line.a.y != rest.line.b.y) continue;  // the middle of a slanted one lies beside the grid
        const Point2 middle = at_fraction(rest.line, 0.5);
        rest.name += ", the rest";
        rest.line.a = middle;
        storey.walls[i].line.b = middle;
        storey.walls.push_back(rest);
        any = true;
      }
    }
    if (!any || !validate(pieces).empty()) return;
    const std::vector<Link> after = all_links(pieces);
    for (const Link& link : all_links(site))
      found.take(link.uplink.level.value, same_link(after, link).uplink.level.value, bound_db);
  });
  MESSAGE(found.links << " links, the farthest apart " << found.worst_db << " dB, " << found.over_bound
                      << " over " << bound_db << " dB");
  CHECK(found.links > 500);
  CHECK(found.over_bound <= found.links / 300);
  CHECK(found.worst_db <= 0.5);
}

TEST_CASE("more power never lowers a level, a reading or a chance") {
  for_sites([](const Site& site, std::uint64_t) {
    Site louder = site;
    for (auto& [name, profile] : louder.profiles) {
      if (profile.transmit) profile.transmit->value = profile.transmit->value + Db{3};
    }
    const std::vector<Link> after = all_links(louder);
    for (const Link& link : all_links(site)) {
      CAPTURE(link.device);
      const Link& other = same_link(after, link);
      CHECK(std::abs(other.uplink.level.value - link.uplink.level.value - 3) <= 1e-9);
      CHECK(other.uplink.margin.value >= link.uplink.margin.value);
      CHECK(other.weaker().reading_percent >= link.weaker().reading_percent);
      CHECK(other.own_probability >= link.own_probability - 1e-12);
      CHECK(other.pass_probability >= link.pass_probability - 1e-6);
      CHECK(other.outage <= link.outage + 1e-12);
    }
  });
}

TEST_CASE("more readings hardly ever widen what is expected, and by little then") {
  SUBCASE("readings that are as predicted") {
    // How far and how much readings are alike is learned from all of them, and anew with each.
    constexpr double bound_db = 0.5;
    const Widening found =
        widening(bound_db, [](const Link& link, std::size_t) { return link.lower().level; });
    CHECK(found.widest_db <= bound_db);
    CHECK(found.wider * 30 <= found.narrower);
  }
  SUBCASE("readings that contradict each other") {
    // One that is far from what those beside it say makes all of them count less, and that shows.
    constexpr double bound_db = 1.5;
    const Widening found = widening(bound_db, [](const Link& link, std::size_t place) {
      return link.lower().level + Db{place % 2 == 0 ? 12.0 : -15.0};
    });
    CHECK(found.widest_db <= bound_db);
    CHECK(found.wider * 5 <= found.narrower);
  }
}

TEST_CASE("one thread and many say the same, bit for bit") {
  for_sites([](const Site& site, std::uint64_t) {
    const LinkTable one = link_table(site, {.all_pairs = true}),
                    many = link_table(site, {.all_pairs = true, .threads = 5});
    REQUIRE(one.links.size() == many.links.size());
    for (std::size_t i = 0; i < one.links.size(); ++i) {
      CHECK(one.links[i].uplink.level == many.links[i].uplink.level);
      CHECK(one.links[i].pass_probability == many.links[i].pass_probability);
      CHECK(one.links[i].low_percent == many.links[i].low_percent);
    }
    for (std::size_t i = 0; i < one.areas.size(); ++i)
      CHECK(one.areas[i].share_percent == many.areas[i].share_percent);
  });
}

TEST_CASE("an edit and its undoing leave the same bytes") {
  std::size_t undone = 0;
  for_sites([&](const Site& site, std::uint64_t seed) {
    const std::string text = properties::random_site_text(seed);
    const Device& device = site.devices.front();
    const std::string at = "/devices/" + device.name + "/";
    const Storey& storey = site.storeys.back();
    const std::vector<std::pair<Edit, Edit>> pairs{
        {{at + "height_m", 1.4375}, {at + "height_m", device.place.height_m}},
        {{at + "at_m", device.place.at + Point2{0.25, 0.125}}, {at + "at_m", device.place.at}},
        {{at + "profile", std::string(device.profile == "motion" ? "contact" : "motion")},
         {at + "profile", device.profile}},
        {{"/hubs/hub/height_m", 2.0}, {"/hubs/hub/height_m", site.hubs.front().place.height_m}},
        {{"/radio/frequency_mhz", 869.525}, {"/radio/frequency_mhz", site.radio.frequency_hz / 1e6}},
        {{"/reading/weak_below_percent", 33.0},
         {"/reading/weak_below_percent", site.reading.weak_below_percent}},
        {{"/storeys/" + storey.name + "/height_m", 2.4375},
         {"/storeys/" + storey.name + "/height_m", storey.height_m}}};
    for (const auto& [edit, undo] : pairs) {
      const std::string& path = edit.path;
      CAPTURE(path);
      const auto made = edited_site(site, std::vector{edit});
      if (!made) continue;  // such as a storey under a device
      const auto changed = edited_text(text, "site.yaml", std::vector{edit}, embedded_tables());
      REQUIRE(fault_lines(changed) == "");
      const auto back = edited_text(*changed, "site.yaml", std::vector{undo}, embedded_tables());
      REQUIRE(fault_lines(back) == "");
      CHECK(*back == text);
      undone += *changed != text ? 1 : 0;
    }
  });
  MESSAGE(undone << " edits undone");
  CHECK(undone > 6 * kSites);
}

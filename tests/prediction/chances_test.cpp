#include "linkmargin/base/random.hpp"
#include "linkmargin/prediction/serving/device_link.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <memory>
#include <numbers>
#include <vector>

using namespace linkmargin;

/// Sites whose truth is drawn from the distribution that the program claims, by other means than its own
/// laws: does what it says of one reading come true as often as it says?
namespace {

constexpr int kSites = 2000;
constexpr int kReadingsASite = 20;

/// Standard normal, after Box and Muller.
double normal(const RandomStream& random, std::uint64_t index) {
  const double radius = std::sqrt(-2 * std::log(1 - random.uniform(2 * index)));
  return radius * std::cos(2 * std::numbers::pi * random.uniform(2 * index + 1));
}

/// Power of one steady wave and many weak ones over their mean power, dB: the field itself is drawn.
double fade_db(const RandomStream& random, std::uint64_t index, double k_db) {
  const double k = std::pow(10, k_db / 10);
  const double weak = std::sqrt(0.5 / (1 + k));
  const double along = std::sqrt(k / (1 + k)) + weak * normal(random, 2 * index);
  const double across = weak * normal(random, 2 * index + 1);
  return 10 * std::log10(along * along + across * across);
}

/// What truth is drawn with.
struct Truth {
  std::optional<double> k_in_sight_db{};  // else what the link's own K is
  std::optional<double> k_behind_walls_db{};
  double k_over_time_db = 7;
  double sigma_factor = 1;
};

/// A link with a threshold some decibels about its level, and in half of the sites a below_sensitivity
/// device.
struct Drawn {
  Site site;
  Link link;
};

Drawn drawn(std::uint64_t number) {
  const RandomStream random(number, 2);
  Drawn made{fixture::random_block(number, 1, 3, 2), {}};
  Site& site = made.site;
  site.reading = {.zero = Dbm{-150}, .full = Dbm{30}, .weak_below_percent = 40};
  const Point3 hub = fixture::random_point(random, 0, 1, 3, 2);
  const Point3 device = fixture::random_point(random, 1, 1, 3, 2);
  site.hubs[0].place = {0, {hub.x, hub.y}, hub.z};
  site.devices[0].place = {0, {device.x, device.y}, device.z};
  const Scene scene(site, Doors::armed);
  const HubRadio end = hub_radio(site, site.hubs[0]);
  const HubEndpoint endpoint{end, std::make_shared<const LinkEndpoint>(scene, end.at)};
  const FadingModel fading_model(site.fading);
  const Dbm level = device_link(site, site.devices[0], endpoint, fading_model).weaker().level;
  const Dbm threshold = level + Db{-16 + 26 * random.uniform(100)};
  site.reading.weak_below_percent = reading_percent(site.reading, threshold);
  if (number % 2 == 0) {
    site.profiles.at("contact").sensitivity = threshold + Db{4 * random.uniform(101)};
  }
  made.link = device_link(site, site.devices[0], endpoint, fading_model);
  return made;
}

/// How often something that was given a chance came true.
struct Bin {
  double count = 0;
  double told = 0;      ///< sum of the chances
  double variance = 0;  ///< of the number that come true, should the chances be right
  double came_true = 0;

  void add(double chance, bool yes) {
    ++count;
    told += chance;
    variance += chance * (1 - chance);
    came_true += yes ? 1 : 0;
  }
  double off_share() const { return (came_true - told) / count; }
  bool kept(double sigmas) const { return std::abs(came_true - told) <= sigmas * std::sqrt(variance); }
};

struct Diagram {
  std::array<Bin, 10> tenths;
  Bin about_four_fifths;  ///< told 0.75 to 0.85
  Bin intervals;          ///< readings inside Link::low_percent to high_percent
  Bin outages;            ///< moments at which the weaker direction is not heard

  int tenths_off(double sigmas) const {
    int off = 0;
    for (const Bin& bin : tenths) off += bin.kept(sigmas) ? 0 : 1;
    return off;
  }
};

/// One reading: both directions take the same path, so they share its shadow and its fade.
void add_reading(const Drawn& drawn, double off_db, Diagram& diagram) {
  const Link& link = drawn.link;
  const ReadingScale& scale = drawn.site.reading;
  bool passes = true;
  for (const LinkBudget& way : {link.uplink, *link.downlink}) {
    passes = passes && way.level + Db{off_db} >= needed_level(scale, way);
  }
  const double chance = link.pass_probability;
  diagram.tenths[std::min<std::size_t>(9, static_cast<std::size_t>(10 * chance))].add(chance, passes);
  if (chance >= 0.75 && chance < 0.85) diagram.about_four_fifths.add(chance, passes);
  if (link.low_percent > 0 && link.high_percent < 100) {
    const double reading = reading_percent(scale, link.weaker().level + Db{off_db});
    diagram.intervals.add(kIntervalChance, reading >= link.low_percent && reading <= link.high_percent);
  }
}

Diagram diagram_of(const std::vector<Drawn>& sites, const Truth& truth) {
  Diagram diagram;
  for (std::size_t number = 0; number < sites.size(); ++number) {
    const Drawn& site = sites[number];
    const RandomStream shadows(number, 3);
    const RandomStream spots(number, 4);
    const RandomStream moments(number, 5);
    const auto& of_truth = site.link.loss.line_of_sight ? truth.k_in_sight_db : truth.k_behind_walls_db;
    const double k_db = of_truth.value_or(site.link.k_db);
    for (std::uint64_t i = 0; i < kReadingsASite; ++i) {
      const double shadow_db = truth.sigma_factor * site.link.loss.sigma_db * normal(shadows, i);
      add_reading(site, shadow_db + fade_db(spots, i, k_db), diagram);
      const double moment_db = fade_db(moments, i, truth.k_over_time_db);
      diagram.outages.add(site.link.outage, site.link.weaker().margin + Db{moment_db} < Db{0});
    }
  }
  return diagram;
}

const std::vector<Drawn>& sites() {
  static const std::vector<Drawn> made = [] {
    std::vector<Drawn> list;
    for (std::uint64_t number = 0; number < kSites; ++number) list.push_back(drawn(number));
    return list;
  }();
  return made;
}

}  // namespace

TEST_CASE("what was given a chance comes true that often, in every tenth") {
  const Diagram diagram = diagram_of(sites(), {});
  for (std::size_t tenth = 0; tenth < diagram.tenths.size(); ++tenth) {
    const Bin& bin = diagram.tenths[tenth];
    CAPTURE(tenth);
    CAPTURE(bin.count);
    CAPTURE(bin.off_share());
    CHECK(bin.count > 1000);
    CHECK(bin.kept(3.5));
  }
  CHECK(std::abs(diagram.about_four_fifths.off_share()) <= 0.02);
}

TEST_CASE("nine readings in ten lie in the interval, and the outage is that of the moments drawn") {
  const Diagram diagram = diagram_of(sites(), {});
  CHECK(diagram.intervals.count > 10'000);
  CHECK(diagram.intervals.kept(3.5));
  CHECK(diagram.outages.told > 100);
  CHECK(diagram.outages.kept(3.5));
}

TEST_CASE("another truth is found out") {
  std::vector<Drawn> line_of_sight;
  std::ranges::copy_if(sites(), std::back_inserter(line_of_sight),
                       [](const Drawn& site) { return site.link.loss.line_of_sight; });
  CHECK(line_of_sight.size() > kSites / 20);
  CHECK(line_of_sight.size() < kSites / 2);
  CHECK(diagram_of(line_of_sight, {}).intervals.kept(3.5));
  CHECK_FALSE(diagram_of(line_of_sight, {.k_in_sight_db = 2}).intervals.kept(3.5));
  CHECK(diagram_of(sites(), {.k_behind_walls_db = 7}).tenths_off(3.5) >= 3);
  CHECK(diagram_of(sites(), {.k_behind_walls_db = -20}).tenths_off(3.5) >= 3);
  CHECK(diagram_of(sites(), {.sigma_factor = 1.2}).tenths_off(3.5) >= 3);
  const Diagram mild = diagram_of(sites(), {.k_in_sight_db = 20, .k_behind_walls_db = 20});
  CHECK(std::abs(mild.about_four_fifths.off_share()) > 0.02);
  CHECK_FALSE(mild.intervals.kept(3.5));
  CHECK_FALSE(diagram_of(sites(), {.k_over_time_db = 4}).outages.kept(3.5));
}

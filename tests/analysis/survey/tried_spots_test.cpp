#include "linkmargin/analysis/survey/tried_spots.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/prediction/spot_reading.hpp"
#include "linkmargin/propagation/fading/spot_sequence.hpp"

#include "fixtures/link_table_fixture.hpp"
#include "fixtures/reading_scale.hpp"
#include "fixtures/wave_fields.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace linkmargin;
using fixture::kFrequencyHz;
using fixture::kHalfDecibelScale;

namespace {

constexpr double kSigmaDb = 6;

Link tried_link(double level_dbm) {
  Link link;
  link.uplink = fixture::way(level_dbm, -110, kHalfDecibelScale);
  link.loss.sigma_db = link.sigma_db = kSigmaDb;
  return link;
}

FadingModel plane_fading() {
  Fading fading;
  fading.in_space = false;  // as the fields are simulated
  return FadingModel(fading);
}

/// The present spot and four about it a quarter of a wave off, as tried_spots() orders them.
const std::vector<fixture::PlaneSpot> kSpots{{0, 0}, {-0.25, 0}, {0.25, 0}, {0, 0.25}, {0, -0.25}};

/// Devices that read too little where they hang: levels at all their spots over the predicted local mean.
class WeakDevices {
 public:
  WeakDevices(double k_db, double needed_db, std::size_t count) {
    fixture::WaveFields fields(777, k_db, kSpots);
    while (levels_.size() < count) {
      const double shadow_db = kSigmaDb * fields.normal();
      std::vector<double> levels = fields.levels_db();
      for (double& level : levels) level += shadow_db;
      if (levels.front() < needed_db) levels_.push_back(std::move(levels));
    }
  }
  const std::vector<std::vector<double>>& levels() const { return levels_; }

 private:
  std::vector<std::vector<double>> levels_;
};

/// The chances of the spots left after `read` of a device's spots.
std::vector<double> first_to_reach(const std::vector<double>& levels, std::size_t read, double k_db,
                                   double needed_db, int fields) {
  std::vector<SpotLevel> known;
  std::vector<SpotOffset> left;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    const SpotOffset at{kSpots[i].x, kSpots[i].y, 0};
    if (i < read)
      known.push_back({at, levels[i]});
    else
      left.push_back(at);
  }
  return SpotSequence(Scattering::plane, k_db, kSigmaDb, known, left, fields).first_to_reach(needed_db);
}

double sum(const std::vector<double>& values) {
  double all = 0;
  for (const double value : values) all += value;
  return all;
}

}  // namespace

TEST_CASE("after one reading the spots left have the chance that the best of four has") {
  const FadingModel fading = plane_fading();
  for (const double level_dbm : {-82.0, -88.0, -94.0}) {
    for (const double percent : {10.0, 25.0, 36.0}) {
      CAPTURE(level_dbm);
      CAPTURE(percent);
      const Link link = tried_link(level_dbm);
      const FadePosterior after =
          fade_posterior(fading, link, spot_reading(kHalfDecibelScale, link, percent));
      const SpotSearch search =
          spot_search(fading, kHalfDecibelScale, kFrequencyHz, link, &after, {.most_spots = 5});
      const auto tried = tried_spots(fading, kHalfDecibelScale, kFrequencyHz, link,
                                     std::array{TriedSpot{{}, percent}}, {.most_spots = 5});
      REQUIRE(tried);
      CHECK(tried->left_m.size() == 4);
      CHECK(std::abs(tried->pass_probability - search.choice()->pass_probability) <= 0.025);
      CHECK(std::abs(tried->shadow.mean_db - after.shadow().mean_db) <= 0.1);
      CHECK(std::abs(tried->shadow.deviation_db - after.shadow().deviation_db) <= 0.1);
    }
  }
}

TEST_CASE("chances told after each reading, against fields simulated from scratch") {
  constexpr int fields = 12;
  double worst = 0;
  for (const double k_db : {-5.0, 7.0}) {
    for (const double needed_db : {0.0, 5.0}) {
      const WeakDevices devices(k_db, needed_db, 1500);
      for (std::size_t read = 1; read <= 4; ++read) {
        // Apart: those told less than their median chance, and more.
        std::vector<std::pair<double, bool>> told;
        for (const std::vector<double>& levels : devices.levels()) {
          if (*std::max_element(levels.begin(), levels.begin() + static_cast<long>(read)) >= needed_db)
            continue;
          const bool reached = *std::ranges::max_element(levels) >= needed_db;
          told.emplace_back(sum(first_to_reach(levels, read, k_db, needed_db, fields)), reached);
        }
        std::ranges::sort(told);
        REQUIRE(told.size() >= 700);
        for (const std::size_t half : {std::size_t{0}, std::size_t{1}}) {
          const std::size_t from = half * told.size() / 2, to = (half + 1) * told.size() / 2;
          double chance = 0, share = 0;
          for (std::size_t i = from; i < to; ++i) {
            chance += told[i].first;
            share += told[i].second ? 1 : 0;
          }
          const double count = static_cast<double>(to - from);
          chance /= count;
          share /= count;
          CAPTURE(k_db);
          CAPTURE(needed_db);
          CAPTURE(read);
          CAPTURE(half);
          // three deviations of the share, and what so few fields cost
          CHECK(std::abs(chance - share) <= 0.02 + 3 * std::sqrt(chance * (1 - chance) / count));
          worst = std::max(worst, std::abs(chance - share));
        }
      }
    }
  }
  MESSAGE("chances told after one to four readings, worst against simulated fields: " << worst);
}

TEST_CASE("stopping as told gains more than any fixed number of spots") {
  constexpr int fields = 12;
  for (const double k_db : {-5.0, 2.0, 7.0}) {
    for (const double needed_db : {-4.0, 0.0, 5.0, 10.0}) {
      const WeakDevices devices(k_db, needed_db, 500);
      std::array<double, 5> fixed{};  // the gain of reading up to so many
      double told = 0, clairvoyant = 0, spots = 0;
      for (const std::vector<double>& levels : devices.levels()) {
        double cost = 0;
        std::size_t needed_spots = 0;
        for (std::size_t i = 1; i < levels.size() && needed_spots == 0; ++i)
          needed_spots = levels[i] >= needed_db ? i : 0;
        for (std::size_t most = 1; most < levels.size(); ++most) {
          const bool reaches = needed_spots > 0 && needed_spots <= most;
          cost = kSpotCost * static_cast<double>(reaches ? needed_spots : most);
          fixed[most] += (reaches ? 1 : 0) - cost;
        }
        if (needed_spots > 0) clairvoyant += std::max(0.0, 1 - kSpotCost * static_cast<double>(needed_spots));
        for (std::size_t read = 1; read < levels.size(); ++read) {
          if (spots_worth_reading(first_to_reach(levels, read, k_db, needed_db, fields), kSpotCost) == 0)
            break;
          told -= kSpotCost;
          spots += 1;
          if (levels[read] < needed_db) continue;
          told += 1;
          break;
        }
      }
      const double count = static_cast<double>(devices.levels().size());
      const double best_fixed = *std::ranges::max_element(fixed);
      MESSAGE("K " << k_db << " dB, " << needed_db << " dB over the mean needed: gain of stopping as told "
                   << told / count << " with " << spots / count << " spots, of the best fixed number "
                   << best_fixed / count << ", of who knows all " << clairvoyant / count);
      CHECK(told / count >= best_fixed / count - 0.02);
      CHECK(told <= clairvoyant);
    }
  }
}

TEST_CASE("spots worth reading: by hand") {
  CHECK(spots_worth_reading(std::vector<double>{}, 0.1) == 0);
  CHECK(spots_worth_reading(std::vector{0.09, 0.05}, 0.1) == 0);
  CHECK(spots_worth_reading(std::vector{0.2, 0.05}, 0.1) == 1);
  CHECK(spots_worth_reading(std::vector{0.2, 0.2}, 0.1) == 2);
  // -0.05, then 0.4 - 0.095: the first alone is not worth it, both are
  CHECK(spots_worth_reading(std::vector{0.05, 0.4}, 0.1) == 2);
}

TEST_CASE("what was read is taken off what is left, and a wider trial follows") {
  const FadingModel fading = plane_fading();
  const Link link = tried_link(-86);
  const double quarter_m = wavelength_m(kFrequencyHz) / 4;
  const auto after = [&](const std::vector<TriedSpot>& read, const SpotSearchOptions& options) {
    return tried_spots(fading, kHalfDecibelScale, kFrequencyHz, link, read, options);
  };
  const SpotSearchOptions five{.most_spots = 5};
  std::vector<TriedSpot> read{{{}, 31}};
  const SpotTrial trial = after(read, five)->trial;
  double before = 1;
  std::size_t left = 4;
  for (const Point3& offset_m : spot_offsets_m(trial)) {
    read.push_back({offset_m, 29});
    const auto tried = after(read, five);
    REQUIRE(tried);
    --left;
    CHECK(tried->read.size() == read.size());
    CHECK_FALSE(tried->reached);
    if (left > 0) {
      CHECK(tried->left_m.size() == left);
      CHECK(tried->pass_probability < before);
      CHECK_FALSE(tried->wider);
      before = tried->pass_probability;
    }
  }
  const auto done = after(read, five);
  CHECK(done->wider == (trial.distance_m < 1.5 * quarter_m));
  read.back().percent = 44;
  CHECK(after(read, five)->reached);
  CHECK(after(read, five)->best == 4);
  CHECK_FALSE(after(read, five)->goes_on());
  // A spot that was read again counts once, with its last reading.
  read.push_back({read.back().offset_m, 33});
  CHECK(after(read, five)->read.size() == 5);
  CHECK_FALSE(after(read, five)->reached);
  // Bare readings may have been taken the other way round.
  std::vector<TriedSpot> turned{
      {{}, 31}, {{0, trial.distance_m * std::sqrt(0.5), trial.distance_m * std::sqrt(0.5)}, 20}};
  CHECK(after(turned, five)->left_m.size() == 3);
  CHECK_FALSE(after(read, {.reach_m = 0}).has_value());
  CHECK_FALSE(after({}, five).has_value());
  CHECK_THROWS_AS(after({{{}, 101}}, five), DomainError);
}

TEST_CASE("offsets of a trial") {
  const SpotTrial four{SpotShape::four, 0.1, 5, 0};
  CHECK(spot_offsets_m(four).size() == 4);
  const SpotTrial line{SpotShape::line, 0.2, 5, 0};
  const std::vector<Point3> along = spot_offsets_m(line);
  REQUIRE(along.size() == 4);
  for (const double at : {0.1, 0.2}) {
    const std::size_t i = at < 0.15 ? 0 : 1;
    CHECK(std::abs(along[i].x - at) <= 1e-12);
    CHECK(std::abs(along[i + 2].x + at) <= 1e-12);
  }
  const SpotTrial disc{SpotShape::disc, 0.2, 19, 0};
  CHECK(spot_offsets_m(disc).size() == 18);
  for (const Point3& at : spot_offsets_m(disc)) CHECK(std::hypot(at.x, at.y) <= 0.2 + 1e-12);
}

TEST_CASE("0 percent is a bound, and fading off leaves nothing to try") {
  const Link link = tried_link(-84);
  const std::array silent{TriedSpot{{}, 0}};
  const auto bound =
      tried_spots(plane_fading(), kHalfDecibelScale, kFrequencyHz, link, silent, {.most_spots = 5});
  const std::array low{TriedSpot{{}, 3}};
  const auto exact =
      tried_spots(plane_fading(), kHalfDecibelScale, kFrequencyHz, link, low, {.most_spots = 5});
  REQUIRE(bound);
  CHECK(bound->pass_probability > 0);
  CHECK(bound->shadow.mean_db < 0);
  CHECK(bound->shadow.mean_db < exact->shadow.mean_db);
  Fading off;
  off.on = false;
  const auto still =
      tried_spots(FadingModel(off), kHalfDecibelScale, kFrequencyHz, link, low, {.most_spots = 5});
  REQUIRE(still);
  CHECK(still->pass_probability == 0);
  CHECK_FALSE(still->goes_on());
}

TEST_CASE("turned by a quarter: the better of two independent fields about one local mean") {
  const FadingModel fading = plane_fading();
  const Link link = tried_link(-88);
  const double k_db = fading.k_db(link.loss);
  fixture::WaveFields fields(4242, k_db, {{0, 0}});
  constexpr int count = 40000;
  int reached = 0;
  for (int i = 0; i < count; ++i) {
    const double shadow_db = kSigmaDb * fields.normal();
    const double first_db = fields.levels_db().front(), other_db = fields.levels_db().front();
    reached += shadow_db + std::max(first_db, other_db) >= 3 ? 1 : 0;
  }
  const SpotSearch search = spot_search(fading, kHalfDecibelScale, kFrequencyHz, link, nullptr,
                                        {.may_turn = true, .most_spots = 5});
  REQUIRE(search.trials.front().turned);
  CHECK(std::abs(search.trials.front().pass_probability - double(reached) / count) <= 0.01);
  CHECK_FALSE(spot_search(fading, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials.front().turned);
  // It is taken where it is enough, for it takes no more than one further reading.
  const Link strong = tried_link(-72);
  CHECK(spot_search(fading, kHalfDecibelScale, kFrequencyHz, strong, nullptr, {.may_turn = true})
            .choice()
            ->turned);
}

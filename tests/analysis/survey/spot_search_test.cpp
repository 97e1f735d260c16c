#include "linkmargin/analysis/survey/spot_search.hpp"

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/link_table_fixture.hpp"
#include "fixtures/reading_scale.hpp"
#include "fixtures/wave_fields.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

using namespace linkmargin;
using fixture::kFrequencyHz;
using fixture::kHalfDecibelScale;

namespace {

/// A one-way link with that predicted level.
Link searched_link(double level_dbm, double sigma_db, bool line_of_sight = false) {
  Link link;
  link.uplink = fixture::way(level_dbm, -110, kHalfDecibelScale);
  link.loss.sigma_db = link.sigma_db = sigma_db;
  link.loss.line_of_sight = line_of_sight;
  return link;
}

const SpotTrial& trial(const SpotSearch& spots, SpotShape shape, std::size_t position) {
  std::vector<std::size_t> found;
  for (std::size_t index = 0; index < spots.trials.size(); ++index)
    if (spots.trials[index].shape == shape) found.push_back(index);
  return spots.trials.at(found.at(position));
}

/// Places simulated from scratch: the local mean off its prediction by a normal number, a field of waves, the
/// best of the spots.
class Places {
 public:
  struct Place {
    double shadow_db;
    double present_db;  ///< over the predicted local mean
    double four_db;     ///< best of the present spot and four a quarter wave off
    double disc_db;     ///< best within half a wave, spots 1/16 wave apart
    double rings_db;    ///< best of 1 + 6 + 12 spots, rings a quarter wave apart
  };

  Places(double sigma_db, double k_db, int count) {
    std::vector<fixture::PlaneSpot> spots{{}};
    const auto add_ring = [&](double radius, int count_there) {
      const std::size_t first = spots.size();
      for (int index = 0; index < count_there; ++index) {
        const double angle = 2 * kPi * index / count_there;
        spots.push_back({radius * std::cos(angle), radius * std::sin(angle)});
      }
      return first;
    };
    const std::size_t four = add_ring(0.25, 4), near = add_ring(0.25, 6), far = add_ring(0.5, 12);
    const std::size_t disc = spots.size();
    for (int ring = 1; ring <= 8; ++ring) add_ring(ring / 16.0, 6 * ring);
    fixture::WaveFields fields(20260, k_db, spots);
    for (int index = 0; index < count; ++index) {
      const double shadow_db = sigma_db * fields.normal();
      const std::vector<double> fades_db = fields.levels_db();
      const auto best_db = [&](std::size_t from, std::size_t to) {
        double highest_db = fades_db[0];
        for (std::size_t spot = from; spot < to; ++spot) highest_db = std::max(highest_db, fades_db[spot]);
        return shadow_db + highest_db;
      };
      places_.push_back({.shadow_db = shadow_db,
                         .present_db = shadow_db + fades_db[0],
                         .four_db = best_db(four, near),
                         .disc_db = best_db(disc, spots.size()),
                         .rings_db = std::max(best_db(near, far), best_db(far, disc))});
    }
  }

  /// Share of the places where `is` holds, of those with that reading.
  template <typename Among, typename Is>
  double share(Among among, Is is) const {
    double all = 0, those = 0;
    for (const Place& place : places_) {
      if (!among(place)) continue;
      all += 1;
      those += is(place) ? 1 : 0;
    }
    CAPTURE(all);
    REQUIRE(all >= 2500);  // standard error at most 0.01
    return those / all;
  }

 private:
  std::vector<Place> places_;
};

}  // namespace

TEST_CASE("chances of the best spot after a reading, against places simulated from scratch") {
  const double sigma_db = 6;
  Fading fading;
  fading.in_space = false;  // as the places are simulated
  const FadingModel fading_model(fading);
  const Places places(sigma_db, kSpotKBehindWallsDb, 160000);
  double worst = 0, aperture_cost = 0;
  for (const double needed_db : {-4.0, 0.0, 5.0}) {
    const Link link = searched_link(-85 - needed_db, sigma_db);
    const auto compare = [&](const FadePosterior* after, auto among) {
      const SpotSearch spots = spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, after);
      const double four = places.share(among, [&](const auto& place) { return place.four_db >= needed_db; });
      const double disc = places.share(among, [&](const auto& place) { return place.disc_db >= needed_db; });
      const double rings =
          places.share(among, [&](const auto& place) { return place.rings_db >= needed_db; });
      for (const double off : {trial(spots, SpotShape::four, 0).pass_probability - four,
                               trial(spots, SpotShape::disc, 1).pass_probability - disc}) {
        CHECK(std::abs(off) <= 0.02);
        worst = std::max(worst, std::abs(off));
      }
      aperture_cost = std::max(aperture_cost, disc - rings);
      if (after == nullptr) return;
      const double place = places.share(among, [&](const auto& one) { return one.shadow_db >= needed_db; });
      CHECK(std::abs(after->shadow_reaches(needed_db) - place) <= 0.02);
      worst = std::max(worst, std::abs(after->shadow_reaches(needed_db) - place));
    };
    compare(nullptr, [](const auto&) { return true; });
    for (const double reading_db : {-12.0, -7.0, -2.0}) {
      CAPTURE(needed_db);
      CAPTURE(reading_db);
      const FadePosterior after(kSpotKBehindWallsDb, sigma_db, reading_db);
      compare(&after, [&](const auto& place) { return std::abs(place.present_db - reading_db) <= 0.5; });
    }
    const FadePosterior bound(kSpotKBehindWallsDb, sigma_db, -9, ReadingKind::at_most);
    compare(&bound, [&](const auto& place) { return place.present_db <= -9; });
  }
  MESSAGE("chances against simulated places, worst: " << worst << "; gaps between spots cost at most "
                                                      << aperture_cost);
  CHECK(aperture_cost <= 0.06);
}

TEST_CASE("distances are parts of a wave, as far as the mount reaches") {
  const FadingModel fading_model{Fading{}};
  const Link link = searched_link(-90, 6);
  const double quarter_m = wavelength_m(kFrequencyHz) / 4;
  const auto spots = [&](double reach_m, bool along_line = false) {
    return spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr,
                       {.asked_chance = 0.9, .reach_m = reach_m, .along_line = along_line});
  };
  const SpotSearch freely = spots(std::numeric_limits<double>::infinity());
  REQUIRE(freely.trials.size() == 4);
  CHECK(std::abs(trial(freely, SpotShape::four, 0).distance_m - quarter_m) <= 1e-9);
  CHECK(std::abs(trial(freely, SpotShape::disc, 1).distance_m - 2 * quarter_m) <= 1e-9);
  CHECK(trial(freely, SpotShape::four, 1).spots == 5);
  CHECK(trial(freely, SpotShape::disc, 0).spots == 7);
  CHECK(trial(freely, SpotShape::disc, 1).spots == 19);
  const SpotSearch narrow = spots(0.1);
  REQUIRE(narrow.trials.size() == 4);
  CHECK(trial(narrow, SpotShape::disc, 1).distance_m == 0.1);
  CHECK(spots(0.03).trials.size() == 2);
  CHECK(spots(0).trials.empty());
  CHECK_FALSE(spots(0).recommended);
  CHECK(spots(0).choice() == nullptr);
  const SpotSearch line = spots(1, true);
  REQUIRE(line.trials.size() == 2);
  for (const SpotTrial& one : line.trials) CHECK(one.shape == SpotShape::line);
  CHECK(line.trials.back().spots == 5);
  // More spots never harm: a disc has the line and the four in it.
  for (std::size_t index = 0; index < 2; ++index) {
    CHECK(freely.trials[2 + index].pass_probability >= freely.trials[index].pass_probability - 0.01);
    CHECK(freely.trials[2 + index].pass_probability >= line.trials[index].pass_probability - 0.01);
    if (index > 0)
      CHECK(freely.trials[2 + index].pass_probability >= freely.trials[1 + index].pass_probability - 0.01);
  }
}

TEST_CASE("the fewest spots with the asked chance are recommended, else the best") {
  const FadingModel fading_model{Fading{}};
  for (const double level_dbm : {-75.0, -82.0, -86.0, -90.0, -97.0}) {
    CAPTURE(level_dbm);
    const Link link = searched_link(level_dbm, 5);
    const FadePosterior after = fade_posterior(fading_model, link, spot_reading(kHalfDecibelScale, link, 30));
    for (const double asked : {0.0, 0.5, 0.9, 1.0}) {
      const SpotSearch spots =
          spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, &after, {.asked_chance = asked});
      REQUIRE(spots.recommended);
      double best = 0;
      for (std::size_t index = 0; index < spots.trials.size(); ++index) {
        best = std::max(best, spots.trials[index].pass_probability);
        if (index < *spots.recommended) CHECK(spots.trials[index].pass_probability < asked);
      }
      const double chosen = spots.choice()->pass_probability;
      CHECK((chosen >= asked || chosen == best));
    }
  }
}

TEST_CASE("the direction that lacks more decides") {
  const FadingModel fading_model{Fading{}};
  Link link = searched_link(-80, 5);
  const double up =
      spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials[1].pass_probability;
  link.downlink = fixture::way(-88, -110, kHalfDecibelScale);
  const double both =
      spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials[1].pass_probability;
  CHECK(both < up - 0.1);
  link.uplink = *link.downlink;
  link.downlink.reset();
  CHECK(
      spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials[1].pass_probability ==
      both);
}

TEST_CASE("with fading off no spot differs from another") {
  Fading fading;
  fading.on = false;
  const FadingModel fading_model(fading);
  const Link link = searched_link(-80, 5);
  for (const SpotTrial& one :
       spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials)
    CHECK(std::abs(one.pass_probability - normal_cdf(1)) <= 1e-12);
  for (const double percent : {0.0, 39.0, 40.0, 41.0, 100.0}) {
    CAPTURE(percent);
    const FadePosterior after =
        fade_posterior(fading_model, link, spot_reading(kHalfDecibelScale, link, percent));
    for (const SpotTrial& one :
         spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, &after).trials)
      CHECK(std::abs(one.pass_probability - (percent >= 40 ? 1 : 0)) <= 1e-6);
  }
}

TEST_CASE("other spots help a device's own hop, not what comes after it") {
  const FadingModel fading_model{Fading{}};
  Link link = searched_link(-88, 4);
  const SpotSearch direct = spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr);
  Link next = searched_link(-80, 4);
  next.own_probability = next.pass_probability = 0.65;
  link.onward = std::make_shared<const Link>(next);
  link.own_probability = 0.3;
  link.pass_probability = 0.3 * 0.65;  // nothing in common
  const SpotSearch by_repeater = spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr);
  REQUIRE(by_repeater.trials.size() == direct.trials.size());
  for (std::size_t i = 0; i < direct.trials.size(); ++i)
    CHECK(std::abs(by_repeater.trials[i].pass_probability - 0.65 * direct.trials[i].pass_probability) <=
          1e-12);
  link.pass_probability = 0.3;  // whenever the first holds, so does the second
  for (const SpotTrial& trial :
       spot_search(fading_model, kHalfDecibelScale, kFrequencyHz, link, nullptr).trials) {
    CHECK(trial.pass_probability <= 0.65);
    CHECK(trial.pass_probability >= 0.3);
  }
}

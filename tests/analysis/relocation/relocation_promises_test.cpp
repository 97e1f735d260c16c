#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/propagation/fading/shadowing_correlation.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>

using namespace linkmargin;

namespace {

/// Draws of one invented world, each of its own index.
class Draws {
 public:
  explicit Draws(std::uint64_t seed) : stream_(seed, 77) {}

  double normal() { return normal_quantile(std::clamp(stream_.uniform(index_++), 1e-9, 1 - 1e-9)); }

  /// Power of a Rician spot over its local mean, in decibels.
  double fade_db(double k_db) {
    const double k = std::pow(10, k_db / 10);
    const double diffuse = std::sqrt(0.5 / (k + 1));
    const std::complex<double> rest{diffuse * normal(), diffuse * normal()};
    return 10 * std::log10(std::norm(std::sqrt(k / (k + 1)) + rest));
  }

 private:
  RandomStream stream_;
  std::uint64_t index_ = 0;
};

Site weak_block(std::uint64_t seed) {
  Site site = fixture::random_block(seed, 1, 3, 2);
  site.reading = {.zero = Dbm{-95}, .full = Dbm{-15}, .weak_below_percent = 65};
  Device& contact = site.devices[0];
  const Point2 at = contact.place.at;
  contact.may_move = Mobility{Mobility::Along{{at, {at.x + 1.5, at.y + 1.5}}}};
  return site;
}

double percent_of(const Site& site, const Link& link, double off_db) {
  return reading_percent(site.reading, link.lower().level + Db{off_db});
}

/// Over how many metres local means hang together, in worlds alike but for that: as the default says, less
/// far, and farther.
constexpr std::array<double, 3> kLengthsM{kShadowingCorrelationM, 1, 5};

struct Tally {
  int places = 0;
  double promised = 0;
  std::array<int, kLengthsM.size()> kept{};
};

/// One world: its local means are normal about the prediction and alike by exp(-d / length) where d apart,
/// its spots fade by Rice. A reading is taken where the device hangs, then it is moved as told.
void live_through(std::uint64_t seed, bool with_reading, Tally& tally) {
  const Site site = weak_block(seed);
  Draws draws(seed);
  const Link here = link_table(site).links[0];
  const double shadow = draws.normal();
  const double off_db = here.loss.sigma_db * shadow + draws.fade_db(here.k_db);
  const double read = percent_of(site, here, off_db);
  RelocationOptions options{.devices = {"contact"}, .chance = 0.8};
  if (with_reading) {
    if (read <= 1 || read >= 99) return;
    options.readings.push_back(fixture::read_of("contact", read));
  }
  const Relocation found = relocation(site, options);
  for (const Remedy& remedy : found.devices[0].remedies) {
    if (remedy.rung() != RemedyStage::slide) continue;
    const auto moved = edited_site(site, remedy.edits);
    REQUIRE(moved);
    const Link there = link_table(*moved).links[0];
    ++tally.places;
    tally.promised += remedy.expected->pass_probability;
    const double other = draws.normal();
    const double fade_db = draws.fade_db(there.k_db);
    for (std::size_t i = 0; i < kLengthsM.size(); ++i) {
      const double alike = std::exp(-remedy.distance_m / kLengthsM[i]);
      const double mean = alike * shadow + std::sqrt(1 - alike * alike) * other;
      const double level_db = there.loss.sigma_db * mean + fade_db;
      tally.kept[i] += there.shortfall(site.reading) <= Db{level_db} ? 1 : 0;
    }
  }
}

}  // namespace

TEST_CASE("places keep what is promised of them, with a reading taken and without") {
  for (const bool with_reading : {false, true}) {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 1500; ++seed) live_through(seed, with_reading, tally);
    REQUIRE(tally.places > 300);
    const double promised = tally.promised / tally.places;
    const double deviation = std::sqrt(promised * (1 - promised) / tally.places);
    for (std::size_t i = 0; i < kLengthsM.size(); ++i) {
      const double kept = static_cast<double>(tally.kept[i]) / tally.places;
      MESSAGE("with a reading: " << with_reading << ", length " << kLengthsM[i] << " m, places "
                                 << tally.places << ", promised " << promised << ", kept " << kept);
      CHECK(std::abs(kept - promised) <= 3 * deviation + (i == 0 ? 0.01 : 0.03));
    }
  }
}

#include "linkmargin/base/units.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

template <typename Left, typename Right>
concept CanAdd = requires(Left left, Right right) {
  left + right;
};
template <typename Left, typename Right>
concept CanSubtract = requires(Left left, Right right) {
  left - right;
};

}  // namespace

// Levels and ratios mix only where that means something.
static_assert(CanAdd<Db, Db> && CanAdd<Dbm, Db> && !CanAdd<Dbm, Dbm> && !CanAdd<Db, Dbm>);
static_assert(CanSubtract<Db, Db> && CanSubtract<Dbm, Db> && CanSubtract<Dbm, Dbm> && !CanSubtract<Db, Dbm>);
static_assert(!CanAdd<Db, double> && !CanAdd<Dbm, double>);

TEST_CASE("decibels add, levels and ratios mix as they should") {
  CHECK((Dbm{-80} - Dbm{-105}).value == 25);
  CHECK((Dbm{10} - Db{95}).value == -85);
  CHECK((Dbm{10} + Db{3}).value == 13);
  CHECK((-Db{3} + Db{5} - Db{1}).value == 1);
  CHECK(Db{3} < Db{4});
  CHECK(Dbm{-80} > Dbm{-81});
}

TEST_CASE("frequency and wavelength") {
  CHECK(hz_from_mhz(868.3) == 868.3e6);
  CHECK(mhz_from_hz(433.92e6) == 433.92);
  CHECK(wavelength_m(kSpeedOfLight) == 1);
  CHECK(std::abs(wavelength_m(868e6) / 4 - 0.0863) <= 0.0001);  // a quarter wavelength at 868 MHz: 8.6 cm
}

#include "linkmargin/site/edit/edit_value.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/field.hpp"
#include "linkmargin/site/site.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

using namespace linkmargin;
using namespace linkmargin::schema;

namespace {

/// Sets a field by its row and reads it by its row again.
template <typename Noun>
struct RoundTrip {
  Noun noun = unstated<Noun>();

  void operator()(const Number<Noun>& kind) {
    for (const double share : {0.0, 1.0}) {
      const double value = kind.range->min + share * (kind.range->max - kind.range->min);
      noun = unstated<Noun>();  // of keys that exclude each other the first counts
      kind.set(noun, value);
      REQUIRE(kind.get(noun));
      CHECK(*kind.get(noun) == doctest::Approx(value).epsilon(1e-12));
    }
  }
  void operator()(const Switch<Noun>& kind) {
    for (const bool on : {true, false}) {
      kind.set(noun, on);
      CHECK(kind.get(noun) == on);
    }
  }
  void operator()(const Word<Noun>& kind) {
    for (std::size_t i = 0; i < kind.words().size(); ++i) {
      kind.set(noun, i);
      CHECK(kind.get(noun) == i);
    }
  }
  void operator()(const Name<Noun>& kind) {
    kind.set(noun, "a name");
    CHECK(kind.get(noun) == "a name");
  }
  void operator()(const Point<Noun>& kind) {
    kind.set(noun, {1.5, -2});
    CHECK(kind.get(noun) == Point2{1.5, -2});
  }
  void operator()(const Corners<Noun>& kind) {
    CHECK_FALSE(kind.is_set(noun));
    kind.set(noun, rectangle({0, 0}, 1, 1));
    CHECK(kind.is_set(noun));
  }
  void operator()(const auto&) {}
};

/// What every table of fields must hold.
template <typename Noun>
void check_table() {
  std::set<std::string_view> keys;
  int one_of = 0;
  for (const Field<Noun>& field : fields<Noun>()) {
    const std::string key(field.key);
    CAPTURE(key);
    CHECK(keys.insert(field.key).second);
    CHECK_FALSE(field.meaning.empty());
    CHECK_FALSE(field.meaning.ends_with('.'));
    CHECK_FALSE(field.meaning.find('|') != std::string_view::npos);
    if (field.presence != Presence::optional) CHECK(field.absent.empty());
    one_of += field.presence == Presence::one_of ? 1 : 0;
    const bool refused = field.refuse != nullptr && !field.refuse(unstated<Noun>()).empty();
    if (!refused) std::visit(RoundTrip<Noun>{}, field.kind);
  }
  CHECK_FALSE(keys.empty());
  CHECK(one_of != 1);
}

}  // namespace

TEST_CASE("every key stands once in its table, and what is set by its row is what its row gets") {
  check_table<Site>();
  check_table<PropagationSettings>();
  check_table<Fading>();
  check_table<ReadingScale>();
  check_table<Calibration>();
  check_table<LearnedShift>();
  check_table<Material>();
  check_table<LossPoint>();
  check_table<ElectricalProperties>();
  check_table<Layer>();
  check_table<Profile>();
  check_table<Storey>();
  check_table<Room>();
  check_table<Construction>();
  check_table<Boundary>();
  check_table<TracedWall>();
  check_table<Opening>();
  check_table<Obstacle>();
  check_table<FloorOpening>();
  check_table<Hub>();
  check_table<Repeater>();
  check_table<Device>();
  check_table<Area>();
  check_table<Mount>();
  check_table<Mobility>();
  check_table<NewRadio>();
  check_table<NewDevice>();
}

TEST_CASE("two fields of one noun do not share a member") {
  Device device;
  double value = 1;
  for (const Field<Device>& field : fields<Device>()) {
    if (const auto* number = std::get_if<Number<Device>>(&field.kind)) number->set(device, value++);
  }
  value = 1;
  for (const Field<Device>& field : fields<Device>()) {
    const auto* number = std::get_if<Number<Device>>(&field.kind);
    if (number != nullptr) CHECK(number->get(device) == value++);
  }
  CHECK(value > 3);
}

TEST_CASE("a profile keeps the first of two powers, and a stated sensitivity over parts of one") {
  Profile profile;
  const auto set = [&](std::string_view key, double value) {
    const auto rows = fields<Profile>();
    const auto row = std::ranges::find(rows, key, &Field<Profile>::key);
    REQUIRE(row != rows.end());
    std::get<Number<Profile>>(row->kind).set(profile, value);
  };
  set("erp_dbm", 10);
  set("power_dbm", 5);
  CHECK(profile.transmit == TransmitPower{TransmitPower::Kind::erp, Dbm{10}});
  set("bandwidth_khz", 25);
  set("noise_figure_db", 7);
  CHECK(std::get<ReceiverNoise>(profile.sensitivity) == ReceiverNoise{25e3, 7, 0});
  set("sensitivity_dbm", -100);
  set("required_snr_db", 10);
  CHECK(std::get<Dbm>(profile.sensitivity) == Dbm{-100});
}

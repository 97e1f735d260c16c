#include "linkmargin/yaml/tree/unit_hint.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/tree/written_quantity.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;
using namespace linkmargin::yaml;

TEST_CASE("lengths may have been centimetres or millimetres") {
  CHECK(unit_slip_hint("height_m", 210, limits::kStoreyHeightM) == "did you mean 2.1, in metres?");
  CHECK(unit_slip_hint("height_m", 2600, limits::kStoreyHeightM) == "did you mean 26 or 2.6, in metres?");
  CHECK(unit_slip_hint("height_m", 26000, limits::kStoreyHeightM) == "did you mean 26, in metres?");
  CHECK(unit_slip_hint("rect_m", 600, limits::kRoomSideM) == "did you mean 6 or 0.6, in metres?");
  CHECK(unit_slip_hint("thickness_m", 240, limits::kThicknessM) == "did you mean 2.4 or 0.24, in metres?");
  CHECK(unit_slip_hint("height_m", 1e9, limits::kStoreyHeightM) == "");
  CHECK(unit_slip_hint("height_m", -2, limits::kStoreyHeightM) == "");
}

TEST_CASE("frequencies may have been hertz, kilohertz or gigahertz") {
  CHECK(unit_slip_hint("frequency_mhz", 868300000, limits::kFrequencyMhz) == "did you mean 868.3, in MHz?");
  CHECK(unit_slip_hint("frequency_mhz", 868300, limits::kFrequencyMhz) == "did you mean 868.3, in MHz?");
  CHECK(unit_slip_hint("frequency_mhz", 0.8683, limits::kFrequencyMhz) == "did you mean 868.3, in MHz?");
  CHECK(unit_slip_hint("frequency_mhz", 2.4, limits::kFrequencyMhz) == "did you mean 2400, in MHz?");
  CHECK(unit_slip_hint("frequency_mhz", 100, limits::kFrequencyMhz) == "");
  CHECK(unit_slip_hint("bandwidth_khz", 125000, limits::kBandwidthKhz) == "did you mean 125, in kHz?");
  CHECK(unit_slip_hint("bandwidth_khz", 0.05, limits::kBandwidthKhz) == "did you mean 50, in kHz?");
}

TEST_CASE("levels may lack their sign, powers may have been milliwatts") {
  CHECK(unit_slip_hint("sensitivity_dbm", 105, limits::kSensitivityDbm) == "did you mean -105, in dBm?");
  CHECK(unit_slip_hint("erp_dbm", 500, limits::kPowerDbm) == "did you mean 27, in dBm?");
  CHECK(unit_slip_hint("eirp_dbm", 100, limits::kPowerDbm) == "did you mean 20, in dBm?");
  CHECK(unit_slip_hint("power_dbm", -100, limits::kPowerDbm) == "");
  CHECK(unit_slip_hint("loss_db", -30, limits::kLossDb) == "did you mean 30, in dB?");
  CHECK(unit_slip_hint("share_percent", 140, limits::kPercent) == "");
}

TEST_CASE("a number in disguise is offered as it should stand") {
  CHECK(number_slip_hint("sigma", "2,6") == "did you mean 2.6? decimals take a point");
  CHECK(number_slip_hint("height_m", "2,6 m") == "did you mean 2.6? decimals take a point");
  CHECK(number_slip_hint("sensitivity_dbm", "-105dBm") == "did you mean -105? the unit stands in the key");
  CHECK(number_slip_hint("height_m", "2 yards") == "a length reads 2.65, 265cm, 8'8\" or 8.7ft");
  CHECK(number_slip_hint("sigma", "tall") == "");
  CHECK(number_slip_hint("sigma", "1,2,3") == "");
  CHECK(number_slip_hint("sigma", "1e999") == "it is too large or too small for any number here");
  CHECK(number_slip_hint("sigma", "-1e400") == "it is too large or too small for any number here");
  CHECK(number_slip_hint("sigma", "1e-400") == "it is too large or too small for any number here");
  CHECK(number_slip_hint("sigma", "1e") == "");
  CHECK(number_slip_hint("sigma", "0x1F") == "write it in decimal: 31");
  CHECK(number_slip_hint("sigma", "0o17") == "write it in decimal: 15");
  CHECK(number_slip_hint("sigma", "0x1.8p3") == "write it in decimal");
  CHECK(number_slip_hint("sigma", "") == "");
  CHECK(number_slip_hint("sigma", "--") == "");
}

TEST_CASE("a list with more numbers than it takes may have decimals parted by a comma") {
  const auto hint = [](std::initializer_list<const char*> written, std::size_t count) {
    Node list;
    list.kind = Node::Kind::sequence;
    for (const char* text : written) {
      Node item;
      item.kind = Node::Kind::scalar;
      item.text = text;
      list.items.push_back(item);
    }
    return split_list_hint(list, count);
  };
  CHECK(hint({"3.13", "3", "24"}, 2) == "did you mean [3.13, 3.24]? decimals take a point");
  CHECK(hint({"3", "24", "3.13"}, 2) == "did you mean [3.24, 3.13]? decimals take a point");
  CHECK(hint({"-1", "05", "2", "3"}, 2) == "did you mean [-1.05, 2.3]? decimals take a point");
  CHECK(hint({"3", "24", "2"}, 2) == "decimals take a point");  // 3.24 and 2, or 3 and 24.2
  CHECK(hint({"1", "2", "3"}, 2).empty());
  CHECK(hint({"1.5", "2.5", "3.5"}, 2).empty());
  CHECK(hint({"1", "hall", "2"}, 2).empty());
  CHECK(hint({"1", "2", "3", "4", "5"}, 2).empty());
  CHECK(hint({"1"}, 2).empty());
}

TEST_CASE("what has a unit of its own is told in that of the key") {
  const auto is = [](const char* key, const char* written, double value) {
    CAPTURE(written);
    const auto found = quantity_in(key, written);
    REQUIRE(found);
    CHECK(std::abs(*found - value) < 1e-9);
  };
  is("thickness_m", "2,65 m", 2.65);
  is("frequency_mhz", "2.4 GHz", 2400);
  is("frequency_mhz", "868300 kHz", 868.3);
  is("bandwidth_khz", "12500Hz", 12.5);
  is("erp_dbm", "25 mW", 14);
  is("erp_dbm", "0.5 W", 27);
  is("loss_db", "3dB", 3);
  is("share_percent", "95 %", 95);
  is("faces_deg", "90\u00B0", 90);
}

TEST_CASE("nothing is made of what is no quantity of the key") {
  for (const char* written : {"", "m", "8", "8 yards", "6' 6'", "6\" 6'", "6' -6\"", "1 m 2", "8.7.1 ft",
                              "two m", "8 dB", "8 m m"}) {
    CAPTURE(written);
    CHECK(!quantity_in("height_m", written));
  }
  CHECK(!quantity_in("sigma", "8 m"));
  CHECK(!quantity_in("erp_dbm", "-25 mW"));
}

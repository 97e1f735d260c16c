#include "linkmargin/site/validation/sub_bands.hpp"

#include "linkmargin/base/constants.hpp"

#include "fixtures/sound_site.hpp"
#include "fixtures/warnings.hpp"

#include <algorithm>
#include <cmath>

using namespace linkmargin;
using fixture::argument;
using fixture::figure;
using fixture::name;

namespace {

/// The warnings of a site about bands alone.
std::vector<Warning> band_warnings(const Site& site) {
  REQUIRE(validate(site).empty());
  std::vector<Warning> warnings = all_site_warnings(site);
  std::erase_if(warnings, [](const Warning& warning) {
    return warning.code != WarningCode::no_sub_band && warning.code != WarningCode::power_over_limit &&
           warning.code != WarningCode::power_for_hopping;
  });
  return warnings;
}

Site site_at(double frequency_hz, Region region) {
  Site site = site_test::sound_site();
  site.radio.frequency_hz = frequency_hz;
  site.region = region;
  return site;
}

void set_power(Site& site, const std::string& profile, TransmitPower::Kind kind, double power_dbm,
               double gain_dbi) {
  site.profiles.at(profile).transmit = TransmitPower{kind, Dbm{power_dbm}};
  site.profiles.at(profile).gain_dbi = gain_dbi;
}

}  // namespace

TEST_CASE("the table of sub-bands is whole: every row has a rule and a source, and its ends in order") {
  const auto& bands = sub_bands();
  CHECK(std::ranges::count(bands, Region::eu, &SubBand::region) == 10);
  CHECK(std::ranges::count(bands, Region::us, &SubBand::region) == 3);
  CHECK(bands.size() == 13);
  for (const SubBand& band : bands) {
    CAPTURE(band.rule);
    CHECK(band.from_hz < band.to_hz);
    CHECK_FALSE(band.rule.empty());
    CHECK_FALSE(band.source.empty());
    CHECK(erp_limit_dbm(band, band.from_hz) > -30);
    CHECK(erp_limit_dbm(band, band.to_hz) <= 36);
  }
}

TEST_CASE("limits as the rules print them") {
  struct Row {
    Region region;
    double frequency_mhz;
    double erp_dbm;
    const char* source;
  };
  const Row rows[] = {
      {Region::eu, 433.92, 10, "10 mW"},
      {Region::eu, 868.3, 13.979, "25 mW"},
      {Region::eu, 868.65, 10, "10 mW, alarms"},
      {Region::eu, 868.95, 13.979, "25 mW"},
      {Region::eu, 869.225, 10, "10 mW, social alarms"},
      {Region::eu, 869.525, 26.990, "500 mW"},
      {Region::eu, 869.675, 13.979, "25 mW, alarms"},
      {Region::eu, 869.85, 13.979, "25 mW"},
      {Region::us, 433.92, -14.40 - kEirpOverErpDb, "10 996.7 uV/m at 3 m, -14.40 dBm e.i.r.p. computed"},
      {Region::us, 260, -23.748 - kEirpOverErpDb, "3750 uV/m at 3 m, computed"},
      {Region::us, 915, -1.249 - kEirpOverErpDb, "50 mV/m at 3 m, -1.249 dBm e.i.r.p. computed"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.source);
    CAPTURE(row.frequency_mhz);
    const SubBand* band = sub_band(row.region, row.frequency_mhz * 1e6);
    REQUIRE(band != nullptr);
    CHECK(std::abs(erp_limit_dbm(*band, row.frequency_mhz * 1e6) - row.erp_dbm) <= 0.005);
  }
}

TEST_CASE("the ends belong to a sub-band, and where two meet the greater limit counts") {
  CHECK(sub_band(Region::eu, 867.9e6) == nullptr);
  REQUIRE(sub_band(Region::eu, 868e6) != nullptr);
  CHECK(sub_band(Region::eu, 868.6e6)->rule == "ERC/REC 70-03 Annex 1");
  CHECK(sub_band(Region::eu, 869.65e6)->limit_at_from == 500);
  CHECK(sub_band(Region::eu, 870e6) != nullptr);
  CHECK(sub_band(Region::eu, 870.01e6) == nullptr);
  CHECK(sub_band(Region::us, 868.3e6) == nullptr);
  CHECK(sub_band(Region::eu, 915e6) == nullptr);
  CHECK(sub_band(Region::none, 868.3e6) == nullptr);
  CHECK(sub_band(Region::eu, 868.3e6, true) == nullptr);
  CHECK(sub_band(Region::us, 915e6, true)->rule == "47 CFR 15.247");
}

TEST_CASE("what a profile radiates, by each way to state it") {
  Site site = site_test::sound_site();
  const auto radiated = [&](TransmitPower::Kind kind, double power_dbm, double gain_dbi) {
    set_power(site, "hub", kind, power_dbm, gain_dbi);
    return erp_dbm(site.profiles.at("hub")).value();
  };
  CHECK(radiated(TransmitPower::Kind::erp, 10, 3) == 10);
  CHECK(radiated(TransmitPower::Kind::eirp, 12.15, 3) == doctest::Approx(10));
  CHECK(radiated(TransmitPower::Kind::conducted, 14, 0) == doctest::Approx(11.85));
  CHECK(radiated(TransmitPower::Kind::conducted, 14, -4) == doctest::Approx(7.85));
  site.profiles.at("hub").transmit.reset();
  CHECK_FALSE(erp_dbm(site.profiles.at("hub")));
}

TEST_CASE("a profile over the limit is told with its power and the limit, one at it is not") {
  Site site = site_at(868.3e6, Region::eu);
  CHECK(band_warnings(site).empty());
  set_power(site, "hub", TransmitPower::Kind::erp, 14, 0);  // 25 mW, as data sheets round it
  CHECK(band_warnings(site).empty());
  set_power(site, "hub", TransmitPower::Kind::erp, 14.1, 0);
  REQUIRE(band_warnings(site).size() == 1);
  const Warning warning = band_warnings(site).front();
  CHECK(warning.code == WarningCode::power_over_limit);
  CHECK(name(warning, "profile") == "hub");
  CHECK(figure(warning, "power") == 14.1);
  CHECK(figure(warning, "limit") == doctest::Approx(13.979).epsilon(1e-4));
  CHECK(argument<std::string>(warning, "rule") == "ERC/REC 70-03 Annex 1");
  set_power(site, "contact", TransmitPower::Kind::conducted, 14, 6);
  CHECK(band_warnings(site).size() == 2);
  site.radio.frequency_hz = 869.525e6;
  CHECK(band_warnings(site).empty());
  site.radio.frequency_hz = 868.65e6;
  set_power(site, "hub", TransmitPower::Kind::eirp, 12.15, 0);
  set_power(site, "contact", TransmitPower::Kind::eirp, 12.15, 0);
  CHECK(band_warnings(site).empty());
}

TEST_CASE("profiles that nothing on the site has are not looked at") {
  Site site = site_at(868.3e6, Region::eu);
  Profile& loud = site_test::add_profile(site, "loud");
  loud.transmit = TransmitPower{TransmitPower::Kind::erp, Dbm{30}};
  CHECK(band_warnings(site).empty());
  site.devices.front().profile = "loud";
  CHECK(band_warnings(site).size() == 1);
}

TEST_CASE("a frequency that the table has no sub-band for is told once, or with no region not at all") {
  Site site = site_at(915e6, Region::eu);
  REQUIRE(band_warnings(site).size() == 1);
  const Warning warning = band_warnings(site).front();
  CHECK(warning.code == WarningCode::no_sub_band);
  CHECK(figure(warning, "frequency") == 915);
  CHECK(argument<std::string>(warning, "region") == "eu");
  site.region = Region::none;
  CHECK(band_warnings(site).empty());
  site.radio.frequency_hz = 868.3e6;
  site.region = Region::us;
  REQUIRE(band_warnings(site).size() == 1);
  CHECK(argument<std::string>(band_warnings(site).front(), "region") == "us");
}

TEST_CASE("what only hopping and wide radios may radiate is told so, and more than that is over the limit") {
  Site site = site_at(915e6, Region::us);
  for (auto& [name, profile] : site.profiles)
    profile.transmit = TransmitPower{TransmitPower::Kind::eirp, Dbm{-1.25}};
  CHECK(band_warnings(site).empty());
  set_power(site, "hub", TransmitPower::Kind::eirp, 36, 0);
  REQUIRE(band_warnings(site).size() == 1);
  CHECK(band_warnings(site).front().code == WarningCode::power_for_hopping);
  CHECK(argument<std::string>(band_warnings(site).front(), "rule") == "47 CFR 15.249");
  CHECK(argument<std::string>(band_warnings(site).front(), "wide_rule") == "47 CFR 15.247");
  set_power(site, "hub", TransmitPower::Kind::erp, 36, 0);
  CHECK(band_warnings(site).front().code == WarningCode::power_over_limit);
}

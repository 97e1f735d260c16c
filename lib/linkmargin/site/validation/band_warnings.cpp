#include "linkmargin/base/units.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/site/validation/sub_bands.hpp"

#include <algorithm>
#include <set>

namespace linkmargin::checks {
namespace {

/// Data sheets round: 25 mW are 13.98 dBm and printed as 14.
constexpr double kRoundedDb = 0.05;

/// The profiles that radios and areas of the site have.
std::set<std::string> profiles_in_use(const Site& site) {
  std::set<std::string> used;
  for (const SiteRadio& radio : site_radios(site)) used.insert(radio.profile);
  for (const Area& area : site.areas) used.insert(area.profile);
  return used;
}

std::string region_word(Region region) {
  const auto* found = std::ranges::find(kRegionWords, region, &EnumName<Region>::meaning);
  return std::string(found->word);
}

}  // namespace

void say_over_limits(const Site& site, std::vector<Warning>& warnings) {
  if (site.region == Region::none) return;
  const double frequency_hz = site.radio.frequency_hz;
  const Figure frequency_mhz{mhz_from_hz(frequency_hz)};
  const SubBand* any = sub_band(site.region, frequency_hz);
  if (any == nullptr) {
    warnings.push_back({.code = WarningCode::no_sub_band,
                        .arguments = {{"frequency", frequency_mhz}, {"region", region_word(site.region)}}});
    return;
  }
  const SubBand* wide = sub_band(site.region, frequency_hz, true);
  const double any_dbm = erp_limit_dbm(*any, frequency_hz);
  for (const std::string& name : profiles_in_use(site)) {
    const auto profile = site.profiles.find(name);
    const auto power_dbm = profile == site.profiles.end() ? std::nullopt : erp_dbm(profile->second);
    if (!power_dbm || *power_dbm <= any_dbm + kRoundedDb) continue;
    Warning warning{.code = WarningCode::power_over_limit,
                    .arguments = {{"profile", Quoted{name}},
                                  {"power", Figure{*power_dbm, 1}},
                                  {"frequency", frequency_mhz},
                                  {"rule", any->rule},
                                  {"limit", Figure{any_dbm, 1}}}};
    if (wide != nullptr && *power_dbm <= erp_limit_dbm(*wide, frequency_hz) + kRoundedDb) {
      warning.code = WarningCode::power_for_hopping;
      warning.arguments.push_back({"wide_rule", wide->rule});
    }
    warnings.push_back(std::move(warning));
  }
}

}  // namespace linkmargin::checks

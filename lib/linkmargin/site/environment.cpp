#include "linkmargin/site/environment.hpp"

#include "linkmargin/site/checks.hpp"

#include <algorithm>

namespace linkmargin {

std::vector<std::string> environment_names(PathLossModel model, SiteGeneralForm form) {
  if (model == PathLossModel::log_distance) {
    return {"retail store",
            "grocery store",
            "office hard partition",
            "office soft partition",
            "textile factory in sight",
            "textile factory out of sight",
            "cereals factory in sight",
            "metalworking factory in sight",
            "metalworking factory out of sight",
            "home"};
  }
  if (model != PathLossModel::site_general) return {};
  if (form == SiteGeneralForm::coefficients) return {"office", "corridor", "industrial"};
  return {"residential", "apartment", "house", "office", "commercial"};
}

Environment radio_with_equipment(const Site& site) {
  Environment radio = site.radio;
  if (site.calibration) return radio;
  const auto count = [&](const std::string& name) {
    const auto profile = site.profiles.find(name);
    if (profile == site.profiles.end()) return;
    radio.equipment_sigma_db = std::max(radio.equipment_sigma_db, profile->second.sigma_db);
  };
  for (const checks::Radio& one : checks::radios(site)) count(one.profile);
  for (const Area& area : site.areas) count(area.profile);
  return radio;
}

}  // namespace linkmargin

#include "linkmargin/site/environment.hpp"

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

bool counts_diffraction(const PropagationSettings& radio) {
  return radio.diffraction && radio.model == PathLossModel::walls;
}

bool counts_reverberation(const PropagationSettings& radio) {
  return radio.reverberation && counts_diffraction(radio);
}

}  // namespace linkmargin

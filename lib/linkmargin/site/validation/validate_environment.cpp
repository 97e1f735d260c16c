#include "linkmargin/base/joined.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin::checks {
namespace {}  // namespace

void check_environment(const Site& site, Diagnostics& faults) {
  const PropagationSettings& radio = site.radio;
  const auto known = environment_names(radio.model, radio.form);
  if (!radio.building_type.empty() && known.empty()) {
    add(faults, DiagnosticCode::conflicting_keys, "/radio/environment",
        "the model has no use for an environment", "environment serves log_distance and site_general");
  } else if (!radio.building_type.empty() && std::ranges::find(known, radio.building_type) == known.end()) {
    add_unknown(faults, "/radio/environment", "environment", radio.building_type, known);
    if (faults.back().hint.empty()) faults.back().hint = "one of " + joined(known);
  }
  if (radio.form != SiteGeneralForm::coefficients && radio.model != PathLossModel::site_general) {
    add(faults, DiagnosticCode::conflicting_keys, "/radio/form", "the model has no use for a form",
        "form serves site_general");
  }
  if (radio.constant_loss_db != 0 && radio.model != PathLossModel::multi_wall) {
    add(faults, DiagnosticCode::conflicting_keys, "/radio/constant_loss_db",
        "the model has no use for a constant loss", "constant_loss_db serves multi_wall");
  }
  if (site.reading.full.value <= site.reading.zero.value) {
    add(faults, DiagnosticCode::impossible, "/reading/full_dbm", "full_dbm must lie above zero_dbm");
  }
}

}  // namespace linkmargin::checks

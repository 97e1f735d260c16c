#include "linkmargin/report/material_facts.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/transmission.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

Transmission transmission_of(const MaterialTable& table, const Material& material,
                             std::optional<double> thickness_m, double frequency_hz) {
  return Transmission::of({material.name, thickness_m}, table, frequency_hz);
}

}  // namespace

MaterialFacts material_facts(const MaterialTable& table, const Material& material,
                             const MaterialsOptions& options) {
  MaterialFacts facts;
  facts.material = &material;
  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    facts.kind = "measured";
    if (measured->points.front().frequency_hz > 0) {
      facts.min_frequency_hz = measured->points.front().frequency_hz;
      facts.max_frequency_hz = measured->points.back().frequency_hz;
    }
  } else if (const auto* electrical = std::get_if<ElectricalProperties>(&material.kind)) {
    facts.kind = "electrical";
    facts.thickness_m = options.thickness_m;
    facts.min_frequency_hz = electrical->min_frequency_hz;
    facts.max_frequency_hz = electrical->max_frequency_hz;
  } else {
    facts.kind = "layers";
    double thickness_m = 0;
    for (const Layer& layer : std::get<BuildUp>(material.kind).layers) thickness_m += layer.thickness_m;
    facts.thickness_m = thickness_m;
  }
  const Transmission transmission = transmission_of(table, material, facts.thickness_m, options.frequency_hz);
  facts.loss_db = transmission.loss_db(1);
  facts.angled = transmission.depends_on_angle();
  facts.leakage_db = transmission.leakage_db();
  facts.reflects_percent = 100 * transmission.diffuse().reflected;
  for (const StatedBand& stated : transmission.out_of_range()) {  // a build-up may have a layer twice
    if (std::ranges::find(facts.out_of_range, stated) == facts.out_of_range.end())
      facts.out_of_range.push_back(stated);
  }
  return facts;
}

double loss_at_angle_db(const MaterialTable& table, const MaterialFacts& facts,
                        const MaterialsOptions& options, double incidence_deg) {
  return transmission_of(table, *facts.material, facts.thickness_m, options.frequency_hz)
      .loss_db(std::cos(incidence_deg * kPi / 180));
}

std::vector<MaterialFacts> chosen_materials(const MaterialTable& table, const MaterialsOptions& options,
                                            const std::string& name) {
  std::vector<MaterialFacts> chosen;
  for (const auto& [key, material] : table) {
    if (name.empty() || key == name) chosen.push_back(material_facts(table, material, options));
  }
  if (chosen.empty() && !name.empty()) throw DomainError("unknown material '" + name + "'");
  return chosen;
}

}  // namespace linkmargin

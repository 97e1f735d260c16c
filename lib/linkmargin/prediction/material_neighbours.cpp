#include "linkmargin/prediction/material_neighbours.hpp"

#include "linkmargin/link/building/transmission.hpp"
#include "linkmargin/site/constructions.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace linkmargin {
namespace {

constexpr double kUsualThicknessM = 0.1;  // as the list of materials has it

bool is_body(const Material& material) {
  return std::ranges::all_of(material.use, [](const std::string& use) { return use == "obstacle"; });
}

double loss_db(const Site& site, const Construction& construction) {
  return Transmission::of(construction, site.materials, site.radio.frequency_hz).loss_db(1);
}

/// What the other rows of the group lose, as thick as the one where the thickness counts.
std::vector<double> others_db(const Site& site, const Material& of, double thickness_m) {
  std::vector<double> losses;
  for (const auto& [name, other] : site.materials) {
    if (other.group != of.group || name == of.name) continue;
    losses.push_back(loss_db(site, {name, thickness_m}));
  }
  return losses;
}

Warning far_neighbour(const Material& of, double own_db, double nearest_db) {
  return {.code = WarningCode::far_neighbour,
          .arguments = {{"material", Quoted{of.name}},
                        {"loss", Figure{own_db, 0}},
                        {"group", of.group},
                        {"nearest", Figure{nearest_db, 0}},
                        {"row", of.name}}};
}

}  // namespace

std::vector<Warning> neighbour_warnings(const Site& site,
                                        const std::function<bool(const std::string&)>& counts) {
  constexpr std::size_t fewest = 2;  // others: less is no group
  std::vector<Warning> warnings;
  std::set<std::string> told;
  for (const Storey& storey : site.storeys) {
    for_each_construction(storey, [&](const Construction& construction, const PartName&) {
      const auto found = site.materials.find(construction.material);
      if (found == site.materials.end() || !counts(construction.material)) return;
      const Material& material = found->second;
      if (material.group.empty() || is_body(material) || told.contains(material.name)) return;
      const auto others = others_db(site, material, construction.thickness_m.value_or(kUsualThicknessM));
      if (others.size() < fewest) return;
      const double own_db = loss_db(site, construction);
      const auto away_db = [own_db](double other_db) { return std::abs(own_db - other_db); };
      const double nearest_db = *std::ranges::min_element(others, {}, away_db);
      if (away_db(nearest_db) <= std::max(kFarNeighbourDb, 1.5 * material.sigma_db)) return;
      told.insert(material.name);
      warnings.push_back(far_neighbour(material, own_db, nearest_db));
    });
  }
  return warnings;
}

}  // namespace linkmargin

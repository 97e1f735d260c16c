#pragma once

#include "linkmargin/report/materials_options.hpp"
#include "linkmargin/site/warning.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: what the writers of materials have in common.
namespace linkmargin {

/// What the table says of one material, at one frequency.
struct MaterialFacts {
  const Material* material = nullptr;
  std::string kind;                        ///< "measured", "electrical" or "layers"
  std::optional<double> thickness_m;       ///< absent where it plays no part
  std::optional<double> min_frequency_hz;  ///< for which the figures are stated; absent: not said
  std::optional<double> max_frequency_hz;
  double loss_db = 0;  ///< straight through
  bool angled = false;
  std::optional<double> leakage_db;      ///< of what passes round, which loss_db holds; absent: none is added
  double reflects_percent = 0;           ///< of a diffuse field, stated, computed or the program's own figure
  std::vector<StatedBand> out_of_range;  ///< what is used outside the frequencies its figures are stated for
};

/// @throws DomainError when the material is a build-up with an unknown layer
MaterialFacts material_facts(const MaterialTable& table, const Material& material,
                             const MaterialsOptions& options);

/// The loss at an angle from the perpendicular.
double loss_at_angle_db(const MaterialTable& table, const MaterialFacts& facts,
                        const MaterialsOptions& options, double incidence_deg);

/// The named one, or all, by name.
std::vector<MaterialFacts> chosen_materials(const MaterialTable& table, const MaterialsOptions& options,
                                            const std::string& name);

}  // namespace linkmargin

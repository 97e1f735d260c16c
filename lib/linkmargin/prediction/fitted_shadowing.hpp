#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/prediction/uncertainty/shadowing_regression.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <vector>

namespace linkmargin {

class Scene;

/// What a site's readings tell of the local means near them.
/// @param site      sound; best a calibrated one, whose offset and walls the readings do not have to explain
/// @param readings  of its devices, hubs and storeys
/// @param doors     when readings that do not say were taken
/// @throws DomainError when a reading names what the site lacks
ShadowingRegression fitted_shadowing(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                     int threads = 1);

/// The same in a scene that is made already. @param scene  of the site, with those doors
ShadowingRegression fitted_shadowing(const Site& site, const std::vector<Reading>& readings, Doors doors,
                                     const Scene& scene, int threads = 1);

}  // namespace linkmargin

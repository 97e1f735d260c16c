#include "linkmargin/link/passed.hpp"

#include "linkmargin/link/corners.hpp"
#include "linkmargin/link/routes.hpp"
#include "linkmargin/link/shading.hpp"

namespace linkmargin {

double passed_db(const Scene& scene, const Path& path) {
  const bool shades = counts_routes(scene.radio());
  GapShares shares(scene, path.from, path.to);
  double sum_db = 0;
  for (const Crossing& crossing : path.crossings) {
    if (shades && crossing.wall != kNone) {
      sum_db += shading(shares, crossing).loss_db;
    } else if (shades && crossing.body != kNone) {
      sum_db += body_shading(scene, path.from, path.to, crossing).loss_db;
    } else if (crossing.element != kNone) {
      sum_db += scene.elements()[crossing.element].transmission.loss_db(crossing.incidence_cos);
    }
  }
  return shades ? sum_db + corner_change_db(path, sum_db, shares) : sum_db;
}

}  // namespace linkmargin

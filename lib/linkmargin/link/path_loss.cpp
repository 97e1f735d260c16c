#include "linkmargin/link/path_loss.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/distance_model.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

LossItem item_of(const Element& element, const Crossing& crossing) {
  LossItem item{.cause = element.cause,
                .name = element.name,
                .material = element.material,
                .loss_db = element.transmission.loss_db(crossing.incidence_cos),
                .sigma_db = element.transmission.sigma_db(),
                .incidence_deg = 0};
  if (element.transmission.depends_on_angle()) {
    item.incidence_deg = std::acos(std::min(crossing.incidence_cos, 1.0)) * 180 / kPi;
  }
  return item;
}

void add_up(LossBreakdown& breakdown) {
  double variance = 0;
  for (const LossItem& item : breakdown.items) {
    breakdown.path_loss_db += item.loss_db;
    variance += item.sigma_db * item.sigma_db;
  }
  breakdown.sigma_db = std::sqrt(variance);
}

}  // namespace

LossBreakdown path_loss(const Scene& scene, Point3 a, Point3 b) {
  const Path path = trace(scene, a, b);
  std::vector<LossItem> passed;
  std::vector<double> floors_db;
  for (const Crossing& crossing : path.crossings) {
    passed.push_back(item_of(scene.elements()[crossing.element], crossing));
    if (passed.back().cause == LossCause::floor) floors_db.push_back(passed.back().loss_db);
  }
  DistanceTerm term = distance_term(scene.radio(), path.distance_m, floors_db, passed.empty());

  LossBreakdown breakdown;
  breakdown.distance_m = path.distance_m;
  breakdown.cautions = std::move(term.cautions);
  breakdown.items.push_back({.cause = LossCause::distance,
                             .name = term.name,
                             .material = {},
                             .loss_db = term.loss_db,
                             .sigma_db = term.sigma_db,
                             .incidence_deg = 0});
  std::size_t floor = 0;
  for (LossItem& item : passed) {
    if (item.cause == LossCause::floor) {
      if (floor >= term.floor_db.size()) continue;
      item.loss_db = term.floor_db[floor++];
      if (!term.floors_spread) item.sigma_db = 0;
    } else if (!term.itemises) {
      continue;
    }
    breakdown.items.push_back(std::move(item));
  }
  add_up(breakdown);
  return breakdown;
}

}  // namespace linkmargin

#include "linkmargin/link/mechanism/ground_reflection.hpp"

#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/propagation/path_loss/two_ray.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

bool spreads_freely(PathLossModel model) {
  return model == PathLossModel::free_space || model == PathLossModel::walls ||
         model == PathLossModel::multi_wall;
}

double over_ground_m(Point3 end) {
  return std::max(end.z, kLeastGroundHeightM);
}

}  // namespace

std::optional<LossItem> ground_reflection(const Building& building, const Path& path) {
  const PropagationSettings& radio = building.radio();
  if (!radio.ground_reflection || !spreads_freely(radio.model)) return {};
  if (building.indoors(path.from) && building.indoors(path.to)) return {};
  const double loss_db = ground_reflection_db(std::max(path.distance_m, kNearestM), over_ground_m(path.from),
                                              over_ground_m(path.to), radio.frequency_hz);
  if (loss_db == 0) return {};
  return LossItem{
      .cause = LossCause::ground, .material = {}, .loss_db = loss_db, .sigma_db = 0, .incidence_deg = 0};
}

}  // namespace linkmargin

#include "prediction.hpp"

#include "linkmargin/link/building/path.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>
#include <set>

namespace linkmargin::validation {
namespace {

Fading no_fading() {
  Fading fading;
  fading.on = false;
  return fading;
}

int walls_between(const Scene& scene, Point3 a, Point3 b) {
  int count = 0;
  for (const Crossing& crossing : trace(scene, a, b).crossings) {
    if (crossing.barrier >= scene.barriers().size()) continue;  // the air of a gap
    const LossCause cause = scene.barriers()[crossing.barrier].cause;
    if (cause == LossCause::wall || cause == LossCause::opening) ++count;
  }
  return count;
}

double distance_m(Point3 a, Point3 b) {
  return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

double residual_db(const PredictedLink& link, double offset_db) {
  return link.measured.level_db - (offset_db - link.path_loss_db);
}

}  // namespace

void choose(PropagationSettings& radio, Adds adds) {
  radio.diffraction = adds != Adds::nothing;
  radio.reverberation = adds == Adds::all;
}

std::string text(Adds adds) {
  switch (adds) {
    case Adds::all:
      return "routes and echoes";
    case Adds::diffraction:
      return "routes alone";
    case Adds::nothing:
      return "neither";
  }
  return {};
}

std::vector<PredictedLink> predict(const Site& site, Doors doors, const std::vector<MeasuredLink>& links) {
  const Scene scene(site, doors);
  const FadingModel fading_model(site.fading);
  std::vector<PredictedLink> result;
  result.reserve(links.size());
  for (const MeasuredLink& link : links) {
    const LossBreakdown loss = path_loss(scene, link.device, link.fixed);
    result.push_back({link, loss.path_loss_db, loss.sigma_db, loss.line_of_sight, fading_model.k_db(loss),
                      walls_between(scene, link.device, link.fixed)});
  }
  return result;
}

double fitted_offset_db(const std::vector<PredictedLink>& links, const Choice& chosen) {
  double sum = 0;
  std::size_t count = 0;
  for (const PredictedLink& link : links) {
    if (!chosen(link)) continue;
    sum += residual_db(link, 0);
    ++count;
  }
  return count == 0 ? 0 : sum / static_cast<double>(count);
}

Score score(const std::vector<PredictedLink>& links, double offset_db, const Choice& chosen) {
  Score result;
  double sum = 0;
  double squares = 0;
  double sigmas = 0;
  for (const PredictedLink& link : links) {
    if (!chosen(link)) continue;
    const double residual = residual_db(link, offset_db);
    ++result.count;
    sum += residual;
    squares += residual * residual;
    sigmas += link.sigma_db;
  }
  if (result.count == 0) return result;
  const auto count = static_cast<double>(result.count);
  result.rmse_db = std::sqrt(squares / count);
  result.bias_db = sum / count;
  result.claimed_sigma_db = sigmas / count;
  result.inside_percent = inside_percent(links, offset_db, no_fading(), chosen);
  return result;
}

double inside_percent(const std::vector<PredictedLink>& links, double offset_db, const Fading& fading,
                      const Choice& chosen) {
  const FadingModel fading_model(fading);
  std::size_t count = 0;
  std::size_t inside = 0;
  for (const PredictedLink& link : links) {
    if (!chosen(link)) continue;
    ++count;
    const LevelInterval interval =
        fading_model.interval(Dbm{offset_db - link.path_loss_db}, 0.9, link.sigma_db, link.k_db);
    const Dbm level{link.measured.level_db};
    if (level >= interval.low && level <= interval.high) ++inside;
  }
  return count == 0 ? 0 : 100 * static_cast<double>(inside) / static_cast<double>(count);
}

Excess mean_excess(const std::vector<PredictedLink>& links, double frequency_hz, const Choice& chosen) {
  Excess sum;
  double count = 0;
  for (const PredictedLink& link : links) {
    if (!chosen(link)) continue;
    const double free_db =
        free_space_loss_db(distance_m(link.measured.device, link.measured.fixed), frequency_hz);
    sum.measured_db += -link.measured.level_db - free_db;
    sum.predicted_db += link.path_loss_db - free_db;
    ++count;
  }
  return {sum.measured_db / count, sum.predicted_db / count};
}

double leave_one_anchor_out_rmse_db(const std::vector<PredictedLink>& links, const Choice& chosen) {
  std::set<std::string> anchors;
  for (const PredictedLink& link : links) anchors.insert(link.measured.anchor);
  double squares = 0;
  std::size_t count = 0;
  for (const std::string& anchor : anchors) {
    const double offset_db = fitted_offset_db(
        links, [&](const PredictedLink& link) { return chosen(link) && link.measured.anchor != anchor; });
    const Score left_out = score(links, offset_db, [&](const PredictedLink& link) {
      return chosen(link) && link.measured.anchor == anchor;
    });
    squares += left_out.rmse_db * left_out.rmse_db * static_cast<double>(left_out.count);
    count += left_out.count;
  }
  return count == 0 ? 0 : std::sqrt(squares / static_cast<double>(count));
}

}  // namespace linkmargin::validation

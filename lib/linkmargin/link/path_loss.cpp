#include "linkmargin/link/path_loss.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/mechanism/aperture_diffraction.hpp"
#include "linkmargin/link/mechanism/corner_diffraction.hpp"
#include "linkmargin/link/mechanism/detours.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/link/mechanism/ground_reflection.hpp"
#include "linkmargin/link/mechanism/slab_reflection.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"
#include "linkmargin/link/reverberation/echo_curves.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <utility>

namespace linkmargin {
namespace {

double sum_db(const std::vector<LossItem>& items) {
  double sum = 0;
  for (const LossItem& item : items) sum += item.loss_db;
  return sum;
}

/// A wall met near its apertures: what is passed there, and what its edges change.
void add_shaded(ApertureCache& shares, const Crossing& crossing, std::vector<LossItem>& items) {
  const Building& building = shares.building();
  const ApertureDiffraction met = aperture_diffraction(shares, crossing);
  const double bend_db = met.loss_db - met.element_db;
  const bool bends = std::abs(bend_db) >= kLeastBendDb;
  if (met.barrier != kNone) {
    items.push_back(loss_item(building.barriers()[met.barrier], crossing.incidence_cos));
    items.back().power_fraction *= met.power_fraction;
    if (!bends) items.back().loss_db = met.loss_db;
  }
  if (!bends) return;
  if (met.aperture == kNone) {
    items.push_back(change_item(LossCause::beside_gap, bend_db, building.barriers()[met.barrier].name));
    return;
  }
  items.push_back(change_item(LossCause::edge, bend_db, building.apertures()[met.aperture].name));
  items.back().sigma_db = bend_sigma_db(bend_db);
}

/// What the straight line passes, in its order.
std::vector<LossItem> passed_items(const Scene& scene, const Path& path) {
  const bool shades = counts_diffraction(scene.radio());
  std::vector<LossItem> items;
  items.reserve(2 * path.crossings.size() + 1);
  ApertureCache shares(scene, path.from, path.to);
  for (const Crossing& crossing : path.crossings) {
    const std::size_t before = items.size();
    if (shades && crossing.wall != kNone) {
      add_shaded(shares, crossing, items);
    } else if (shades && crossing.obstacle != kNone) {
      items.push_back(loss_item(scene.barriers()[crossing.barrier], 1));
      const ObstacleDiffraction met = obstacle_diffraction(scene, path.from, path.to, crossing);
      items.back().power_fraction *= met.power_fraction;
      const double bend_db = met.loss_db - items.back().loss_db;
      if (bend_db <= -kLeastBendDb) {
        PartName obstacle = items.back().part;
        items.push_back(change_item(LossCause::round, bend_db, std::move(obstacle)));
      }
    } else if (crossing.barrier != kNone) {
      items.push_back(loss_item(scene.barriers()[crossing.barrier], crossing.incidence_cos));
    }
    for (std::size_t i = before; i < items.size(); ++i) items[i].at = path.at(crossing.fraction);
  }
  if (!shades) return items;
  const double change_db = corner_diffraction_db(scene.corners(), path, sum_db(items), shares);
  if (std::abs(change_db) >= kLeastBendDb) items.push_back(change_item(LossCause::corner, change_db));
  return items;
}

/// The straight line by the site's model.
LossBreakdown straight(const Scene& scene, const Path& path) {
  std::vector<LossItem> passed = passed_items(scene, path);
  std::vector<double> floors_db;
  for (const LossItem& item : passed) {
    if (item.cause == LossCause::floor) floors_db.push_back(item.loss_db);
  }
  const bool crosses_nothing =
      std::ranges::all_of(path.crossings, [](const Crossing& crossing) { return crossing.barrier == kNone; });
  DistanceTerm term = distance_term(scene.radio(), path.distance_m, floors_db, crosses_nothing);

  LossBreakdown breakdown;
  breakdown.distance_m = path.distance_m;
  breakdown.line_of_sight = crosses_nothing;
  breakdown.warnings = std::move(term.warnings);
  constexpr std::size_t kMostLeading = 5;
  breakdown.items.reserve(passed.size() + kMostLeading);
  breakdown.items.push_back({.cause = LossCause::distance,
                             .material = {},
                             .loss_db = term.loss_db,
                             .sigma_db = term.sigma_db,
                             .law = std::move(term.law)});
  breakdown.leading_terms = breakdown.items.size();
  std::size_t floor = 0;
  for (LossItem& item : passed) {
    if (item.cause == LossCause::floor) {
      if (floor >= term.floor_db.size()) continue;
      const double own_db = std::exchange(item.loss_db, term.floor_db[floor++]);
      if (own_db > 0) item.power_fraction *= item.loss_db / own_db;
      if (!term.floors_spread) item.sigma_db = item.power_fraction = 0;
    } else if (!term.itemises) {
      continue;
    }
    breakdown.items.push_back(std::move(item));
  }
  return breakdown;
}

/// Puts a term behind the leading ones.
void add_leading(LossBreakdown& breakdown, LossItem term) {
  breakdown.items.insert(
      std::next(breakdown.items.begin(), static_cast<std::ptrdiff_t>(breakdown.leading_terms)),
      std::move(term));
  ++breakdown.leading_terms;
}

/// Ways fade out over the last decibels before kNegligibleDb, so that none steps in.
constexpr double kFadeDb = 2;  ///< assumption; doubled, halved: 0.3 dB at most

/// Adds the powers of the ways round; the strongest way keeps its items, the others become one.
///
/// Ways round bring what the straight line has lost: of their power the share that it lacks to free space. So
/// they set in gradually where something comes into the line, and nothing is counted twice.
void add_ways_round(const LinkEndpoint& from, const Path& path, LossBreakdown& breakdown) {
  const double direct_db = sum_db(breakdown.items);
  const double free_db = breakdown.items.front().loss_db;
  if (direct_db <= free_db) return;
  std::vector<Detour> ways = find_detours(from, path, direct_db);
  if (ways.empty()) return;
  const double best_db = std::min(direct_db, ways.front().loss_db);
  const auto power = [&](double loss_db) { return std::pow(10, (best_db - loss_db) / 10); };
  const double most = std::max(power(free_db), power(ways.front().loss_db));
  const double lost = 1 - power(direct_db) / most;
  double round = 0;
  for (const Detour& way : ways) {
    round += std::clamp((best_db + kNegligibleDb - way.loss_db) / kFadeDb, 0.0, 1.0) * power(way.loss_db);
  }
  const double total = power(direct_db) + lost * round;
  double share = std::max(0.0, 1 - round / most) / total;
  if (ways.front().loss_db < direct_db) {
    share = lost / total;
    breakdown.items = std::move(ways.front().items);
    breakdown.turns = std::move(ways.front().turns);
    breakdown.leading_terms = 1;
    breakdown.line_of_sight = false;
  }
  for (LossItem& item : breakdown.items) item.power_fraction *= share;
  add_leading(breakdown, change_item(LossCause::other_ways, -10 * std::log10(total)));
}

/// Waves by way of floor and ceiling, with what arrives otherwise in phase or against it.
void add_slab_reflections(const Scene& scene, const Path& path, LossBreakdown& breakdown) {
  const double change_db =
      slab_reflection_db(scene, path, sum_db(breakdown.items) - breakdown.items.front().loss_db);
  if (std::abs(change_db) < kLeastBendDb) return;
  add_leading(breakdown, change_item(LossCause::slab_reflection, change_db));
}

/// What the echoes are worth varies with what stands in the rooms, which the plan does not tell: absorption
/// within a factor of two (common practice).
constexpr double kEchoSigmaDb = 3;  ///< doubled, halved: no loss moves, the chance by 0.04, 0.01 at most

/// By a street, with what stands opposite, how high and how far along.
constexpr double kStreetSigmaDb =
    6;  ///< assumption: street_m halved or doubled is 4 to 5 dB, the rest guessed

Echoes echoes(const LinkEndpoint& from, const Path& path) {
  const DiffuseField& diffuse_field = from.scene().diffuse_field();
  const bool forward = from.at() == path.from;
  const Point3 there = forward ? path.to : path.from;
  if (from.echo_curves() != nullptr) {
    if (const auto found = from.echo_curves()->at(there, path.distance_m)) return *found;
  }
  const auto other = diffuse_field.end(from.scene(), there);
  return forward ? diffuse_field.echoes(from.diffuse_end(), *other, path.distance_m)
                 : diffuse_field.echoes(*other, from.diffuse_end(), path.distance_m);
}

/// Adds the power of echoes. What is uncertain of the way through the walls counts by its share of the power.
void add_echoes(const Echoes& found, LossBreakdown& breakdown) {
  const double echoed = found.in_building + found.by_street;
  const double direct_db = sum_db(breakdown.items);
  const double ratio = echoed * std::pow(10, direct_db / 10);
  if (found.told) breakdown.reverberant_ratio = ratio;
  if (ratio > 1) breakdown.line_of_sight = false;
  const double share = ratio / (1 + ratio);
  // The power is a mean; the level is the middle of decibels, which a spread of s dB puts lower by
  // ln(10) / 20 s^2. What is guessed of the street is no such spread.
  const double by_street = echoed > 0 ? found.by_street / echoed : 0;
  const double sigma_db = (kEchoSigmaDb + by_street * (kStreetSigmaDb - kEchoSigmaDb)) * share;
  const double gain_db =
      10 * std::log10(1 + ratio) - std::numbers::ln10 / 20 * std::pow(kEchoSigmaDb * share, 2);
  if (gain_db < kLeastBendDb) return;
  for (LossItem& item : breakdown.items) item.power_fraction *= 1 - share;
  for (auto item = std::next(breakdown.items.begin()); item != breakdown.items.end(); ++item) {
    item->sigma_db *= 1 - share;
  }
  LossItem item = change_item(LossCause::reverberation, -gain_db);
  item.sigma_db = sigma_db;
  add_leading(breakdown, std::move(item));
}

void add_up(LossBreakdown& breakdown) {
  double variance = 0;
  for (const LossItem& item : breakdown.items) variance += item.sigma_db * item.sigma_db;
  breakdown.path_loss_db = sum_db(breakdown.items);
  breakdown.sigma_db = std::sqrt(variance);
}

}  // namespace

LossBreakdown path_loss(const Scene& scene, Point3 a, Point3 b) {
  return path_loss(LinkEndpoint(scene, std::min(a, b)), std::max(a, b));
}

LossBreakdown path_loss(const LinkEndpoint& from, Point3 to) {
  const Scene& scene = from.scene();
  const Path path = trace(scene, from.at(), to);
  LossBreakdown breakdown = straight(scene, path);
  if (counts_diffraction(scene.radio())) add_ways_round(from, path, breakdown);
  if (counts_reverberation(scene.radio())) add_slab_reflections(scene, path, breakdown);
  if (counts_reverberation(from.scene().radio())) add_echoes(echoes(from, path), breakdown);
  if (auto ground = ground_reflection(scene, path)) {  // the same for every way
    breakdown.items.insert(std::next(breakdown.items.begin()), std::move(*ground));
    ++breakdown.leading_terms;
  }
  add_up(breakdown);
  return breakdown;
}

}  // namespace linkmargin

#include "linkmargin/link/path_loss.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/corners.hpp"
#include "linkmargin/link/distance_model.hpp"
#include "linkmargin/link/ground_reflection.hpp"
#include "linkmargin/link/routes.hpp"
#include "linkmargin/link/shading.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace linkmargin {
namespace {

double sum_db(const std::vector<LossItem>& items) {
  double sum = 0;
  for (const LossItem& item : items) sum += item.loss_db;
  return sum;
}

/// A wall met near its gaps: what is passed there, and what its edges change.
void add_shaded(GapShares& shares, const Crossing& crossing, std::vector<LossItem>& items) {
  const Scene& scene = shares.scene();
  const Shading met = shading(shares, crossing);
  const double bend_db = met.loss_db - met.element_db;
  const bool bends = std::abs(bend_db) >= kLeastBendDb;
  if (met.element != kNone) {
    items.push_back(loss_item(scene.elements()[met.element], crossing.incidence_cos));
    items.back().share *= met.share;
    if (!bends) items.back().loss_db = met.loss_db;
  }
  if (!bends) return;
  items.push_back(met.gap != kNone
                      ? bend_item("edge of " + scene.gaps()[met.gap].name, bend_db)
                      : bend_item("beside a gap in " + scene.elements()[met.element].name, bend_db));
}

/// What the straight line passes, in its order.
std::vector<LossItem> passed_items(const Scene& scene, const Path& path) {
  const bool shades = counts_routes(scene.radio());
  std::vector<LossItem> items;
  GapShares shares(scene, path.from, path.to);
  for (const Crossing& crossing : path.crossings) {
    const std::size_t before = items.size();
    if (shades && crossing.wall != kNone) {
      add_shaded(shares, crossing, items);
    } else if (shades && crossing.body != kNone) {
      items.push_back(loss_item(scene.elements()[crossing.element], 1));
      const BodyShading met = body_shading(scene, path.from, path.to, crossing);
      items.back().share *= met.share;
      const double bend_db = met.loss_db - items.back().loss_db;
      if (bend_db <= -kLeastBendDb) items.push_back(bend_item("round " + items.back().name, bend_db));
    } else if (crossing.element != kNone) {
      items.push_back(loss_item(scene.elements()[crossing.element], crossing.incidence_cos));
    }
    for (std::size_t i = before; i < items.size(); ++i) items[i].at = path.at(crossing.fraction);
  }
  if (!shades) return items;
  const double change_db = corner_change_db(path, sum_db(items), shares);
  if (std::abs(change_db) >= kLeastBendDb) items.push_back(bend_item(kCornersName, change_db));
  return items;
}

/// The straight line by the site's model.
LossBreakdown straight(const Scene& scene, const Path& path) {
  std::vector<LossItem> passed = passed_items(scene, path);
  std::vector<double> floors_db;
  for (const LossItem& item : passed) {
    if (item.cause == LossCause::floor) floors_db.push_back(item.loss_db);
  }
  DistanceTerm term = distance_term(scene.radio(), path.distance_m, floors_db, passed.empty());

  LossBreakdown breakdown;
  breakdown.distance_m = path.distance_m;
  breakdown.in_sight = passed.empty();
  breakdown.cautions = std::move(term.cautions);
  breakdown.items.push_back({.cause = LossCause::distance,
                             .name = term.name,
                             .material = {},
                             .loss_db = term.loss_db,
                             .sigma_db = term.sigma_db,
                             .incidence_deg = 0});
  breakdown.head = breakdown.items.size();
  std::size_t floor = 0;
  for (LossItem& item : passed) {
    if (item.cause == LossCause::floor) {
      if (floor >= term.floor_db.size()) continue;
      const double own_db = std::exchange(item.loss_db, term.floor_db[floor++]);
      if (own_db > 0) item.share *= item.loss_db / own_db;
      if (!term.floors_spread) item.sigma_db = item.share = 0;
    } else if (!term.itemises) {
      continue;
    }
    breakdown.items.push_back(std::move(item));
  }
  return breakdown;
}

/// Ways fade out over the last decibels before kNegligibleDb, so that none steps in.
constexpr double kFadeDb = 2;

/// Adds the powers of the ways round; the strongest way keeps its items, the others become one.
///
/// Ways round bring what the straight line has lost: of their power the share that it lacks to free space. So
/// they set in gradually where something comes into the line, and nothing is counted twice.
void add_ways_round(const Vantage& from, const Path& path, LossBreakdown& breakdown) {
  const double direct_db = sum_db(breakdown.items);
  const double free_db = breakdown.items.front().loss_db;
  if (direct_db <= free_db) return;
  std::vector<Route> ways = routes(from, path, direct_db);
  if (ways.empty()) return;
  const double best_db = std::min(direct_db, ways.front().loss_db);
  const auto power = [&](double loss_db) { return std::pow(10, (best_db - loss_db) / 10); };
  const double most = std::max(power(free_db), power(ways.front().loss_db));
  const double lost = 1 - power(direct_db) / most;
  double round = 0;
  for (const Route& way : ways) {
    round += std::clamp((best_db + kNegligibleDb - way.loss_db) / kFadeDb, 0.0, 1.0) * power(way.loss_db);
  }
  const double total = power(direct_db) + lost * round;
  double share = std::max(0.0, 1 - round / most) / total;
  if (ways.front().loss_db < direct_db) {
    share = lost / total;
    breakdown.items = std::move(ways.front().items);
    breakdown.turns = std::move(ways.front().turns);
    breakdown.head = 1;
  }
  for (LossItem& item : breakdown.items) item.share *= share;
  breakdown.items.insert(std::next(breakdown.items.begin(), static_cast<std::ptrdiff_t>(breakdown.head)),
                         bend_item("other ways there", -10 * std::log10(total)));
  ++breakdown.head;
}

/// What the echoes are worth varies with what stands in the rooms, which the plan does not tell: absorption
/// within a factor of two (common practice).
constexpr double kEchoSigmaDb = 3;

/// What echoes bring, over what is sent.
double echo_power(const Vantage& from, const Path& path) {
  if (!counts_echoes(from.scene().radio())) return 0;
  const Echoes& echoes = from.scene().echoes();
  const bool forward = from.at() == path.from;
  const Echoes::End other = echoes.end(from.scene(), forward ? path.to : path.from);
  return forward ? echoes.power(from.echo_end(), other) : echoes.power(other, from.echo_end());
}

/// Adds the power of echoes. What is uncertain of the way through the walls counts by its share of the power.
void add_echoes(double echoed, LossBreakdown& breakdown) {
  if (echoed <= 0) return;
  const double direct_db = sum_db(breakdown.items);
  const double ratio = echoed * std::pow(10, direct_db / 10);
  if (ratio > 1) breakdown.in_sight = false;
  const double gain_db = 10 * std::log10(1 + ratio);
  if (gain_db < kLeastBendDb) return;
  const double share = ratio / (1 + ratio);
  for (LossItem& item : breakdown.items) item.share *= 1 - share;
  for (auto item = std::next(breakdown.items.begin()); item != breakdown.items.end(); ++item) {
    item->sigma_db *= 1 - share;
  }
  LossItem item = bend_item(kEchoesName, -gain_db);
  item.sigma_db = kEchoSigmaDb * share;
  breakdown.items.insert(std::next(breakdown.items.begin(), static_cast<std::ptrdiff_t>(breakdown.head)),
                         std::move(item));
  ++breakdown.head;
}

void add_up(LossBreakdown& breakdown) {
  double variance = 0;
  for (const LossItem& item : breakdown.items) variance += item.sigma_db * item.sigma_db;
  breakdown.path_loss_db = sum_db(breakdown.items);
  breakdown.sigma_db = std::sqrt(variance);
}

}  // namespace

LossBreakdown path_loss(const Scene& scene, Point3 a, Point3 b) {
  return path_loss(Vantage(scene, std::min(a, b)), std::max(a, b));
}

LossBreakdown path_loss(const Vantage& from, Point3 to) {
  const Scene& scene = from.scene();
  const Path path = trace(scene, from.at(), to);
  LossBreakdown breakdown = straight(scene, path);
  if (counts_routes(scene.radio()) && !breakdown.in_sight) add_ways_round(from, path, breakdown);
  add_echoes(echo_power(from, path), breakdown);
  if (auto ground = ground_reflection(scene, path)) {  // the same for every way
    breakdown.items.insert(std::next(breakdown.items.begin()), std::move(*ground));
    ++breakdown.head;
  }
  add_up(breakdown);
  return breakdown;
}

}  // namespace linkmargin

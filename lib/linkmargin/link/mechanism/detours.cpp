#include "linkmargin/link/mechanism/detours.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/building/loss_item.hpp"
#include "linkmargin/link/mechanism/aperture_diffraction.hpp"
#include "linkmargin/link/mechanism/corner_diffraction.hpp"
#include "linkmargin/link/mechanism/detour_query.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <optional>

namespace linkmargin {
namespace {

/// The search's costs leave the bends out; a way is calculated only when even so it may matter.
constexpr double kSearchSlackDb = 3;  ///< assumption; doubled, halved: 0.12, 0.04 dB at most

/// Ways calculated for the few that are kept, from the cheapest on; those that are the straight line's own do
/// not count. The budget ends most searches before.
constexpr int kMostTries = 24;  ///< doubled: 0.8 dB at most, of 6400 links of random blocks

/// Where a way passes an aperture.
struct Turn {
  Point3 at;
  bool in_the_open = false;  ///< pressed against the end of the aperture's reach, where the air goes on
};

/// The point of an aperture nearest to the straight line from `before` to `after`, off the aperture's edges.
Turn turn_in(const Aperture& aperture, Point3 before, Point3 after) {
  constexpr double kOffEdgeM = 0.02;  ///< assumption; doubled, halved: 2.1, 2.2 dB at most, 0.1 rms
  const double a = dot(aperture.normal, before.plan() - aperture.base.a);
  const double b = dot(aperture.normal, after.plan() - aperture.base.a);
  constexpr double kAlongM = 1e-3;  // both on the aperture's own line
  const double fraction = std::abs(a - b) < kAlongM ? 0.5 : std::clamp(a / (a - b), 0.0, 1.0);
  const Point2 meets = before.plan() + fraction * (after.plan() - before.plan());
  const double size = length(aperture.base);
  const double inset = std::min(0.5, kOffEdgeM / size);
  const Point2 unit = (1 / size) * (aperture.base.b - aperture.base.a);
  const double along = dot(meets - aperture.base.a, unit) / size;
  const Point2 plan = at_fraction(aperture.base, std::clamp(along, inset, 1 - inset));
  const double to_m = distance(before.plan(), plan), from_m = distance(plan, after.plan());
  const double z = to_m + from_m > 0 ? before.z + to_m / (to_m + from_m) * (after.z - before.z) : before.z;
  const double off_level_m = std::min((aperture.top_m - aperture.bottom_m) / 2, kOffEdgeM);
  const bool in_the_open = (aperture.open_a && along < 0) || (aperture.open_b && along > 1) ||
                           (aperture.open_top && z > aperture.top_m);
  return {{plan.x, plan.y, std::clamp(z, aperture.bottom_m + off_level_m, aperture.top_m - off_level_m)},
          in_the_open};
}

/// By how much corners may make a leg better than a free one: past a lit edge the wave swings about that of
/// free space.
constexpr double kFocusDb = 3;  ///< assumption; doubled or halved, no loss moves

/// One way by its apertures, drawn tight.
class BentWay {
 public:
  BentWay(const Scene& scene, const Path& path, const std::vector<DetourGraph::ApertureCrossing>& passes)
      : scene_(scene), passes_(passes), wavelength_m_(wavelength_m(scene.radio().frequency_hz)) {
    points_.push_back(path.from);
    for (std::size_t i = 0; i < passes.size(); ++i) {
      const Aperture& of = aperture(i);
      const Point2 middle = at_fraction(of.base, 0.5);
      points_.push_back({middle.x, middle.y, (of.bottom_m + of.top_m) / 2});
    }
    points_.push_back(path.to);
    pull_tight();
    for (std::size_t i = 0; i + 1 < points_.size(); ++i) length_m_ += distance(points_[i], points_[i + 1]);
  }

  /// @return nothing where the way costs more than most_db; its parts are calculated only until that is sure
  std::optional<Detour> calculated(double most_db) {
    if (bends_in_the_open()) return std::nullopt;
    const DistanceTerm term = distance_term(scene_.radio(), length_m_, {}, false);
    double least_db = term.loss_db;
    for (std::size_t i = 0; i < passes_.size(); ++i) least_db += bend_db(i) + leaf_db(i);
    const std::size_t count = passes_.size() + 1;
    least_db -= static_cast<double>(count) * kFocusDb;
    if (least_db > most_db) return std::nullopt;
    for (std::size_t i = 0; i < count; ++i) add_leg(i);
    std::vector<Leg*> dearest;  // likely first: corners may spare a leg its walls, no more
    for (Leg& leg : legs_) dearest.push_back(&leg);
    std::ranges::stable_sort(dearest, std::greater{}, &Leg::passed_db);
    for (Leg* leg : dearest) {
      least_db += kFocusDb + leg->passed_db + corners_db(*leg);
      if (least_db > most_db) return std::nullopt;
    }
    Detour detour = itemised(term);
    for (const LossItem& item : detour.items) detour.loss_db += item.loss_db;
    return detour.loss_db > most_db ? std::nullopt : std::optional(std::move(detour));
  }

 private:
  struct Leg {
    Path path;
    bool backwards;                    ///< trace() has put its ends the other way round
    std::uint32_t line_from, line_to;  ///< those of the apertures at its ends, whose walls it does not pass
    double passed_db = 0;
    double corners_db = 0;
  };

  /// Some rounds from the first aperture to the last and as many from the last to the first, and the mean of
  /// both: neither end comes first.
  void pull_tight() {
    constexpr int kSweeps = 3;  ///< assumption; doubled, halved: 0.03, 0.4 dB at most
    std::vector<Point3> back = points_;
    const std::size_t count = passes_.size();
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
      for (std::size_t i = 0; i < count; ++i) {
        points_[i + 1] = turn_in(aperture(i), points_[i], points_[i + 2]).at;
        const std::size_t k = count - 1 - i;
        back[k + 1] = turn_in(aperture(k), back[k], back[k + 2]).at;
      }
    }
    for (std::size_t i = 1; i <= count; ++i) {
      const Point3 one = points_[i], other = back[i];
      points_[i] = {(one.x + other.x) / 2, (one.y + other.y) / 2, (one.z + other.z) / 2};
    }
  }

  /// Nothing bends past the reach of a free end or a low wall's top: a way that is pressed there is a
  /// straight line with a dent, and the line itself counts.
  bool bends_in_the_open() const {
    for (std::size_t i = 0; i < passes_.size(); ++i) {
      if (turn_in(aperture(i), points_[i], points_[i + 2]).in_the_open) return true;
    }
    return false;
  }

  const Aperture& aperture(std::size_t i) const { return scene_.apertures()[passes_[i].aperture]; }
  const Barrier& barrier(const Crossing& crossing) const { return scene_.barriers()[crossing.barrier]; }

  double leaf_db(std::size_t i) const {
    return aperture(i).barrier == kNone ? 0 : scene_.barriers()[aperture(i).barrier].transmission.loss_db(1);
  }

  /// What a bend costs over free space along the bent line. What the wall lets through without a bend is the
  /// straight line's.
  double bend_db(std::size_t i) const {
    const Point3 before = points_[i], at = points_[i + 1], after = points_[i + 2];
    const double bent_m = distance(before, at) + distance(at, after);
    const double straight_m = std::max(distance(before, after), kNearestM);
    return over_straight_db(i) - 20 * std::log10(bent_m / straight_m);
  }

  /// The same over free space along the straight line between the turns before and after.
  double over_straight_db(std::size_t i) const {
    const double share = contrast(scene_, aperture(i)) *
                         aperture_power_fraction(aperture(i), points_[i], points_[i + 2], wavelength_m_);
    return -10 * std::log10(std::max(share, kLeastShare));
  }

  /// A turn, moved off the wall's line to one side, where no joining wall ends.
  Point3 beside(std::size_t i, bool left) const {
    const Point2 plan = points_[i + 1].plan() + (left ? kFootM : -kFootM) * aperture(i).normal;
    return {plan.x, plan.y, points_[i + 1].z};
  }

  /// The straight line between two turns, without the walls of the apertures there.
  void add_leg(std::size_t i) {
    const bool first = i == 0, last = i == passes_.size();
    const Point3 from = first ? points_[0] : beside(i - 1, !passes_[i - 1].from_left);
    const Point3 to = last ? points_[i + 1] : beside(i, passes_[i].from_left);
    const std::uint32_t line_from = first ? kNone : aperture(i - 1).line;
    const std::uint32_t line_to = last ? kNone : aperture(i).line;
    Leg leg{trace(scene_, from, to), false, line_from, line_to};
    leg.backwards = leg.path.from != snapped_in_plan(from);
    for (const Crossing& crossing : leg.path.crossings) {
      if (is_passed(leg, crossing)) leg.passed_db += plain_loss_db(scene_, crossing);
    }
    legs_.push_back(std::move(leg));
  }

  bool is_passed(const Leg& leg, const Crossing& crossing) const {
    const std::uint32_t line = crossing.wall == kNone ? kNone : scene_.walls()[crossing.wall].line;
    return crossing.barrier != kNone && (line == kNone || (line != leg.line_from && line != leg.line_to));
  }

  /// What the corners beside a leg change.
  double corners_db(Leg& leg) const {
    ApertureCache shares(scene_, leg.path.from, leg.path.to);
    leg.corners_db = corner_diffraction_db(scene_.corners(), leg.path, leg.passed_db, shares);
    return leg.corners_db;
  }

  Detour itemised(const DistanceTerm& term) const {
    Detour detour;
    detour.items.push_back({.cause = LossCause::distance,
                            .part = aperture(0).name,
                            .material = {},
                            .loss_db = term.loss_db,
                            .sigma_db = term.sigma_db,
                            .law = term.law});
    detour.items.back().law->bent_m = length_m_;
    for (std::size_t i = 0; i <= passes_.size(); ++i) {
      std::ranges::move(leg_items(legs_[i]), std::back_inserter(detour.items));
      if (i == passes_.size()) break;
      const std::size_t before = detour.items.size();
      if (aperture(i).barrier != kNone)
        detour.items.push_back(loss_item(scene_.barriers()[aperture(i).barrier], 1));
      detour.items.push_back(change_item(LossCause::bend, bend_db(i), aperture(i).name));
      detour.items.back().sigma_db = bend_sigma_db(over_straight_db(i));
      for (std::size_t k = before; k < detour.items.size(); ++k) detour.items[k].at = points_[i + 1];
    }
    detour.turns.assign(std::next(points_.begin()), std::prev(points_.end()));
    return detour;
  }

  std::vector<LossItem> leg_items(const Leg& leg) const {
    std::vector<LossItem> items;
    for (const Crossing& crossing : leg.path.crossings) {
      if (!is_passed(leg, crossing)) continue;
      items.push_back(loss_item(barrier(crossing), crossing.incidence_cos));
      items.back().at = leg.path.at(crossing.fraction);
    }
    if (std::abs(leg.corners_db) >= kLeastBendDb)
      items.push_back(change_item(LossCause::corner, leg.corners_db));
    if (leg.backwards) std::ranges::reverse(items);
    return items;
  }

  const Scene& scene_;
  const std::vector<DetourGraph::ApertureCrossing>& passes_;
  double wavelength_m_;
  double length_m_ = 0;
  std::vector<Point3> points_;  ///< both ends, and the turns between
  std::vector<Leg> legs_;
};

/// The same way from its other end.
void turn_round(std::vector<DetourGraph::ApertureCrossing>& passes) {
  std::ranges::reverse(passes);
  for (DetourGraph::ApertureCrossing& pass : passes) pass.from_left = !pass.from_left;
}

bool counted_by_aperture(const Building& building, const Path& path,
                         const std::vector<DetourGraph::ApertureCrossing>& passes) {
  return std::ranges::all_of(passes, [&](const DetourGraph::ApertureCrossing& pass) {
    return std::ranges::any_of(path.crossings, [&](const Crossing& crossing) {
      return crossing.wall != kNone &&
             building.walls()[crossing.wall].line == building.apertures()[pass.aperture].line;
    });
  });
}

}  // namespace

std::vector<Detour> find_detours(const LinkEndpoint& from, const Path& path, double direct_db) {
  const Scene& scene = from.scene();
  const double line_of_sight_db = distance_term(scene.radio(), path.distance_m, {}, true).loss_db;
  const bool forward = from.at() == path.from;
  double most_db = direct_db + kNegligibleDb;
  const auto budget_db = [&] {
    return most_db - line_of_sight_db + kLegCostDbPerM * path.distance_m + kSearchSlackDb;
  };
  DetourQuery query(scene.detour_graph(), scene, from.detour_tree(), forward ? path.to : path.from,
                    budget_db(), from.plane());
  std::vector<Detour> found;
  for (int tries = 0; tries < kMostTries && found.size() < kMostRoutes;) {
    DetourGraph::Way way = query.next(budget_db());
    if (way.passes.empty()) break;
    if (counted_by_aperture(scene, path, way.passes)) continue;
    ++tries;
    if (!forward) turn_round(way.passes);
    std::optional<Detour> detour = BentWay(scene, path, way.passes).calculated(most_db);
    if (!detour) continue;
    most_db = std::min(most_db, detour->loss_db + kNegligibleDb);
    found.push_back(std::move(*detour));
  }
  std::ranges::stable_sort(found, {}, &Detour::loss_db);
  return found;
}

}  // namespace linkmargin

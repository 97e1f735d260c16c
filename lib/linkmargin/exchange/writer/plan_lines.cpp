#include "linkmargin/exchange/writer/plan_lines.hpp"

#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>

namespace linkmargin::exchange {

std::vector<PlanLine> plan_lines(const Storey& storey) {
  const std::vector<WallPiece> walls = wall_plan(storey);
  std::vector<OpeningPlace> places;
  for (std::size_t i = 0; i < storey.openings.size(); ++i) {
    if (const auto place = locate_opening(walls, storey, i)) places.push_back(*place);
  }
  std::ranges::sort(places, {}, [](const OpeningPlace& one) { return std::min(one.from, one.to); });
  std::vector<PlanLine> lines;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    if (!walls[i].construction) continue;
    const Segment2 whole = walls[i].line;
    const double thickness_m = walls[i].construction->thickness_m.value_or(0);
    double from = 0;
    const auto wall_up_to = [&](double to) {
      if (to > from)
        lines.push_back(
            {.line = {at_fraction(whole, from), at_fraction(whole, to)}, .thickness_m = thickness_m});
    };
    for (const OpeningPlace& place : places) {
      if (place.piece != i) continue;
      const auto [begin, end] = std::minmax(place.from, place.to);
      wall_up_to(begin);
      from = std::max(from, end);
      const Opening& opening = storey.openings[place.opening];
      if (opening.leaf.material == kNoMaterial) continue;
      const bool glazed = opening.sill_m > 0 || !opening.opens;
      lines.push_back({.kind = glazed ? PlanLine::Kind::window : PlanLine::Kind::door,
                       .line = {at_fraction(whole, begin), at_fraction(whole, end)},
                       .thickness_m = thickness_m,
                       .name = opening.name});
    }
    wall_up_to(1);
  }
  return lines;
}

}  // namespace linkmargin::exchange

// A map: what a contact would read all over a storey, and where it reads least.

#include <algorithm>
#include <cstdio>
#include <linkmargin/linkmargin.hpp>

using namespace linkmargin;

int main() {
  const Result<Site> site = parse_site(starter_text(), "starter.yaml", embedded_tables());
  if (!site) return 1;
  const CoverageMap map =
      coverage(*site, {.profile = "contact", .height_m = 2, .step_m = 0.25, .chances = false});
  std::size_t lowest = 0;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    if (value_at(map, cell, CoverageValue::reading) < value_at(map, lowest, CoverageValue::reading))
      lowest = cell;
  }
  const Point2 at = map.centre(lowest);
  std::printf("%d x %d cells; the lowest reads %.0f %%, at (%.2f, %.2f)\n", map.columns, map.rows,
              value_at(map, lowest, CoverageValue::reading), at.x, at.y);
  std::printf("%.0f %% of the rooms would read under %.0f %%\n",
              weak_shares(map, *site).rooms_percent.value_or(0), map.reading.weak_below_percent);
}

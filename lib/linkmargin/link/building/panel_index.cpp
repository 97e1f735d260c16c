#include "linkmargin/link/building/panel_index.hpp"

#include "linkmargin/link/building/parts.hpp"

#include <algorithm>

namespace linkmargin {

PanelIndex::PanelIndex(std::span<const Panel> panels, std::vector<double> floors_m) {
  std::ranges::sort(floors_m);
  std::vector<std::vector<std::uint32_t>> of_storey(floors_m.size() + 1);
  for (std::uint32_t i = 0; i < panels.size(); ++i) {
    // Walls reach half a slab under their floor: asked for the middle of what is sure to stand in the storey.
    const double inside_m = std::min(panels[i].top_m, panels[i].bottom_m + 0.5);
    const auto above = std::ranges::upper_bound(floors_m, inside_m);
    of_storey[static_cast<std::size_t>(above - floors_m.begin())].push_back(i);
  }
  for (std::vector<std::uint32_t>& positions : of_storey) {
    if (positions.empty()) continue;
    Band band{panels[positions.front()].bottom_m, panels[positions.front()].top_m, std::move(positions), {}};
    std::vector<Segment2> bases;
    bases.reserve(band.positions.size());
    for (const std::uint32_t p : band.positions) {
      band.bottom_m = std::min(band.bottom_m, panels[p].bottom_m);
      band.top_m = std::max(band.top_m, panels[p].top_m);
      bases.push_back(panels[p].base);
    }
    band.index = WallIndex(bases);
    bands_.push_back(std::move(band));
  }
}

void PanelIndex::crossings(Segment2 ray, double low_m, double high_m,
                           std::vector<std::uint32_t>& found) const {
  found.clear();
  thread_local std::vector<std::uint32_t> in_band;  // asked millions of times: no memory asked for each
  for (const Band& band : bands_) {
    if (low_m >= band.top_m || high_m < band.bottom_m) continue;
    band.index.crossings(ray, in_band);
    for (const std::uint32_t p : in_band) found.push_back(band.positions[p]);
  }
}

}  // namespace linkmargin

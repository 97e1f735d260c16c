#include "linkmargin/propagation/path_loss/multi_wall.hpp"

#include "sections.hpp"

#include <array>

namespace linkmargin::validation {

Section floor_section() {
  Section section;
  Outcome floors{"COST 231, floor term, one to five floors of 18.3 dB", {}, "dB", 0.0001};
  // k^((k + 2) / (k + 1) - 0.46) 18.3 dB; computed from the stated formula, not seen in print
  const std::array<double, 5> expected_db{18.3, 33.5236, 43.5890, 51.0476, 57.0676};
  for (std::size_t i = 0; i < expected_db.size(); ++i) {
    floors.deviations.add(floor_term_db(static_cast<int>(i) + 1, kCost231FloorDb), expected_db[i]);
  }
  Outcome whole{"COST 231, multi-wall, 1800 MHz, 20 m, three walls and a floor", {}, "dB", 0.0001};
  const std::array<double, 3> walls_db{kCost231LightWallDb, kCost231LightWallDb, kCost231HeavyWallDb};
  whole.deviations.add(multi_wall_loss_db(20, 1800e6, 0, walls_db, 1, kCost231FloorDb),
                       95.5738);  // computed from the stated formula, not seen in print
  section.outcomes = {floors, whole};
  section.text = "## Walls and floors by COST 231\n\n" + paragraph(R"(
      The floor term and a whole example (20 m at 1800 MHz, two light walls, a heavy one, one floor). Computed elsewhere
      from the formula of the final report, section 4.7; the text of the report was not seen.)");
  return section;
}

}  // namespace linkmargin::validation

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
    floors.deviations.add(floor_term_db(static_cast<int>(i) + 1, 18.3), expected_db[i]);
  }
  section.outcomes = {floors};
  section.text = "## Floors by COST 231\n\n" + paragraph(R"(
      The floor term, computed elsewhere from the formula of the final report, section 4.7; the text of the report was not
      seen.)");
  return section;
}

}  // namespace linkmargin::validation

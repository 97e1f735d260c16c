#include "linkmargin/yaml/writer/learned_table.hpp"

#include "linkmargin/yaml/writer/calibration_value.hpp"

namespace linkmargin {

std::string learned_table_text(const std::map<std::string, LearnedShift>& learned) {
  using namespace yaml;
  const NewEntry section{"learned", learned_value(learned)};
  return "# Losses learned from readings, for --materials. Do not calibrate with the same readings again." +
         block_text(section, {.indent = 0, .step = 2, .levels = 1}, Quotes::as_needed) + "\n";
}

}  // namespace linkmargin

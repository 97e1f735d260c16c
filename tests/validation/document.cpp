#include "document.hpp"

#include "data_set.hpp"
#include "measurement_section.hpp"
#include "sections.hpp"

namespace linkmargin::validation {
namespace {

constexpr const char* kBegin = "<!-- open measurements: begin -->\n";
constexpr const char* kEnd = "<!-- open measurements: end -->\n";

constexpr const char* kOpening = R"(
    Each outside check with the figure that it reached. Every figure of the program below is printed by
    `linkmargin_validation`, a program of the tests, and a test holds this file to what it prints:)";

constexpr const char* kCommand =
    "    LINKMARGIN_DATASETS=folder linkmargin_validation --write docs/validation.md docs/figures\n\n";

constexpr const char* kReading = R"(
    `rows` counts compared values, `worst` is the largest distance and `limit` what it must keep. Tables named
    `something.csv` are in `tests/published/`, each row with its source and how far it was checked against it.)";

std::string summary(const std::vector<Section>& sections) {
  std::vector<std::vector<std::string>> rows;
  for (const Section& section : sections) {
    for (const Outcome& outcome : section.outcomes) {
      const auto numbers = cells(outcome.deviations, outcome.shown);
      rows.push_back({outcome.check, numbers[0], numbers[1], numbers[2],
                      decimals(outcome.limit, outcome.shown), outcome.unit,
                      outcome.kept() ? "yes" : "**no**"});
    }
  }
  return table({"check", "rows", "worst", "rms", "limit", "unit", "kept"}, rows);
}

/// The data sets' part with its marks.
Section measurements() {
  Section part{std::string(kBegin) + "## Open measurements\n\n", {}};
  const auto folder = data_sets_folder();
  if (folder) {
    const Section flat = flat_section(*folder / "ble_flat");
    const Section learned = flat_learning_section(*folder / "ble_flat");
    part.kept = flat.kept && learned.kept;
    part.text += flat.text + learned.text + office_text(*folder / "lora868_office") +
                 office_learning_text(*folder / "lora868_office") +
                 open_office_text(*folder / "ble_open_office") + library_text(*folder / "ble_library");
  } else {
    part.text += paragraph("**Skipped**: LINKMARGIN_DATASETS names no folder.");
  }
  part.text += kEnd;
  return part;
}

}  // namespace

Document document() {
  const std::vector<Section> sections{distance_section(), slab_section(),     full_wave_section(),
                                      floor_section(),    receiver_section(), edge_section(),
                                      doorway_section(),  building_section(), reverberation_section(),
                                      metal_section(),    measurements()};
  Document result;
  result.with_data_sets = data_sets_folder().has_value();
  result.text = "# Validation\n\n" + paragraph(kOpening) + kCommand + paragraph(kReading) + summary(sections);
  for (const Section& section : sections) {
    result.text += section.text;
    result.kept = result.kept && section.kept;
    for (const Outcome& outcome : section.outcomes) result.kept = result.kept && outcome.kept();
  }
  return result;
}

std::string data_set_part(const std::string& text) {
  const std::size_t begin = text.find(kBegin);
  const std::size_t end = text.find(kEnd);
  if (begin == std::string::npos || end == std::string::npos || end < begin) return {};
  return text.substr(begin, end - begin);
}

std::string with_data_set_part_of(const std::string& text, const std::string& source) {
  const std::string here = data_set_part(text);
  const std::string there = data_set_part(source);
  if (here.empty() || there.empty()) return text;
  std::string result = text;
  return result.replace(result.find(here), here.size(), there);
}

}  // namespace linkmargin::validation

#include "document.hpp"

#include "data_set.hpp"
#include "measurement_section.hpp"
#include "sections.hpp"

#include <filesystem>

namespace linkmargin::validation {
namespace {

constexpr const char* kOpening = R"(
    Each outside check with the figure that it reached. Every figure of the program on these pages is printed by
    `linkmargin_validation`, a program of the tests, and a test holds the pages to what it prints:)";

constexpr const char* kCommand = "    LINKMARGIN_DATASETS=folder linkmargin_validation --write docs\n\n";

constexpr const char* kReading = R"(
    `rows` counts compared values, `worst` is the largest distance and `limit` what it must keep. Tables named
    `something.csv` are in `tests/published/`, each row with its source and how far it was checked against it. What the
    program cannot know is told in [limits](methods/limits.md).)";

std::string contents() {
  return table(
      {"page", "against what"},
      {{"[formulas](validation/formulas.md)", "published values, closed forms, the method of moments"},
       {"[field solvers](validation/field-solver.md)",
        "slabs, doorways, whole buildings by finite differences; rooms in sight by ITU-R P.1238"},
       {"[furnished flat](validation/flat.md)", "measured levels, 2.4 GHz, and learning from readings"},
       {"[office floor](validation/office.md)", "six measured links, 868 MHz"},
       {"[open-plan office](validation/open-office.md)", "measured levels, 2.4 GHz"},
       {"[library](validation/library.md)", "measured levels, 2.4 GHz"}});
}

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

/// One empty line less than paragraphs leave at their end.
std::string page_text(std::string text) {
  while (text.ends_with("\n\n")) text.pop_back();
  return text;
}

/// Adds a page; its sections' limits count for the whole.
void add_page(Document& document, const std::string& file_name, const std::string& beginning,
              const std::vector<Section>& sections) {
  std::string text = beginning;
  for (const Section& section : sections) {
    text += section.text;
    document.kept = document.kept && section.kept;
    for (const Outcome& outcome : section.outcomes) document.kept = document.kept && outcome.kept();
  }
  document.pages.push_back({file_name, page_text(text)});
}

void add_data_sets(Document& document, const std::filesystem::path& folder) {
  add_page(document, "validation/flat.md", "",
           {flat_section(folder / "ble_flat"), flat_learning_section(folder / "ble_flat")});
  const std::filesystem::path office = folder / "lora868_office";
  add_page(document, "validation/office.md", office_text(office) + office_learning_text(office), {});
  add_page(document, "validation/open-office.md", open_office_text(folder / "ble_open_office"), {});
  add_page(document, "validation/library.md", library_text(folder / "ble_library"), {});
}

}  // namespace

Document document() {
  const std::vector<Section> formulas{distance_section(), slab_section(), floor_section(),
                                      receiver_section(), edge_section(), metal_section()};
  const std::vector<Section> solvers{full_wave_section(), doorway_section(), building_section(),
                                     reverberation_section()};
  std::vector<Section> all = formulas;
  all.insert(all.end(), solvers.begin(), solvers.end());
  Document result;
  result.pages.push_back({"validation.md", page_text("# Validation\n\n" + paragraph(kOpening) + kCommand +
                                                     contents() + paragraph(kReading) + summary(all))});
  add_page(result, "validation/formulas.md", "# Formulas and published values\n\n", formulas);
  add_page(result, "validation/field-solver.md", "# Field solvers, and rooms in sight\n\n", solvers);
  if (const auto folder = data_sets_folder()) {
    result.with_data_sets = true;
    add_data_sets(result, *folder);
  }
  return result;
}

}  // namespace linkmargin::validation

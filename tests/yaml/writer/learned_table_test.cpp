#include "linkmargin/yaml/writer/learned_table.hpp"

#include "linkmargin/yaml/site/tables.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

std::map<std::string, LearnedShift> learned_of(const MaterialTable& table) {
  std::map<std::string, LearnedShift> learned;
  for (const auto& [name, material] : table) {
    if (material.learned) learned[name] = *material.learned;
  }
  return learned;
}

}  // namespace

TEST_CASE("what was learned is read back, number for number") {
  const MaterialTable& base = embedded_tables().materials;
  std::map<std::string, LearnedShift> learned;
  for (const auto& [name, material] : base) {
    const auto spread = static_cast<double>(learned.size());
    learned[name] = {.shift_db = std::round(1000 * std::sin(spread)) / 100 + 0.0,
                     .sigma_db = 0.1 * spread,
                     .readings = static_cast<int>(learned.size())};
  }
  const auto read = parse_materials(learned_table_text(learned), "walls.yaml", base);
  REQUIRE(fault_lines(read) == "");
  CHECK(learned_of(*read) == learned);
}

TEST_CASE("it is short, and one line a material") {
  CHECK(learned_table_text({{"brick", {2.1, 0.9, 14}}, {"stud wall", {-0.5, 0.25, 0}}}) ==
        "# Losses learned from readings, for --materials. Do not calibrate with the same readings again.\n"
        "learned:\n"
        "  brick: {shift_db: 2.1, sigma_db: 0.9, readings: 14}\n"
        "  stud wall: {shift_db: -0.5, sigma_db: 0.25}\n");
}

TEST_CASE("where nothing was learned the file says so") {
  const auto read = parse_materials(learned_table_text({}), "walls.yaml", embedded_tables().materials);
  REQUIRE(fault_lines(read) == "");
  CHECK(*read == embedded_tables().materials);
}

TEST_CASE("names that are no plain words are read back too") {
  MaterialTable base;
  std::map<std::string, LearnedShift> learned;
  for (const char* name : {"on", "1.5", "a: b", "#1", "it's", "\"x\"", "{a}", "null", "~", "\xc3\xa4"}) {
    Material material = embedded_tables().materials.at("brick");
    material.name = name;
    base[name] = material;
    learned[name] = {1, 0.5, 3};
  }
  const auto read = parse_materials(learned_table_text(learned), "walls.yaml", base);
  REQUIRE(fault_lines(read) == "");
  CHECK(learned_of(*read) == learned);
}

#include "linkmargin/yaml/site/tables.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/yaml/site/calibration_yaml.hpp"
#include "linkmargin/yaml/site/materials_yaml.hpp"
#include "linkmargin/yaml/site/profiles_yaml.hpp"
#include "linkmargin/yaml/tree/document.hpp"

#include <stdexcept>

namespace linkmargin {
namespace {

/// Reads the sections of a table file into a copy of the base.
template <typename Table, typename Read>
Result<Table> parse_table(std::string_view text, const std::string& file_name, const Table& base, Read read) {
  Faults faults(file_name);
  if (const auto root = yaml::parse_document(text, faults)) {
    const yaml::Cursor top(*root);
    yaml::ObjectReader reader(top, "", faults);
    Table table = base;
    read(reader, table, faults);
    reader.finish();
    if (faults.empty()) return table;
  }
  return std::move(faults).sorted();
}

/// What was learned from readings, set in the rows that it is about.
void add_learned(const yaml::Cursor& map, MaterialTable& table, Faults& faults) {
  std::vector<std::string> names;
  for (const auto& [name, material] : table) names.push_back(name);
  for (const auto& [name, shift] : yaml::read_learned(map, limits::kTableRows, faults)) {
    const auto row = table.find(name);
    if (row != table.end()) {
      row->second.learned = shift;
    } else {
      faults.add(yaml::find(map.node(), name)->mark, DiagnosticCode::unknown_name, map.pointer_to(name),
                 "unknown material " + quoted(name), faults.full() ? "" : name_hint("material", name, names));
    }
  }
}

void read_material_sections(yaml::ObjectReader& reader, MaterialTable& table, Faults& faults) {
  const auto materials = reader.find("materials");
  const auto learned = reader.find("learned");
  if (!materials && !learned) reader.missing({"materials", "learned"});
  if (materials) yaml::read_materials(*materials, table, faults);
  if (learned) add_learned(*learned, table, faults);
}

template <typename Table>
Table sound(Result<Table> table) {
  if (!table) throw std::logic_error("a built-in table is faulty: " + to_text(table.error().front()));
  return std::move(table.value());
}

Tables read_embedded_tables() {
  Tables tables{sound(parse_materials(joined(embedded::materials(), ""), "materials.yaml", {})),
                sound(parse_profiles(joined(embedded::profiles(), ""), "profiles.yaml", {}))};
  for (auto& [name, profile] : tables.profiles) profile.built_in = true;
  return tables;
}

}  // namespace

const Tables& embedded_tables() {
  static const Tables tables = read_embedded_tables();
  return tables;
}

Result<MaterialTable> parse_materials(std::string_view text, const std::string& file_name,
                                      const MaterialTable& base) {
  return parse_table(text, file_name, base, read_material_sections);
}

Result<ProfileTable> parse_profiles(std::string_view text, const std::string& file_name,
                                    const ProfileTable& base) {
  return parse_table(text, file_name, base,
                     [](yaml::ObjectReader& reader, ProfileTable& table, Faults& faults) {
                       if (const auto rows = reader.need("profiles"))
                         yaml::read_profiles(*rows, table, faults);
                     });
}

std::string_view starter_text() {
  static const std::string text = joined(embedded::starter(), "");
  return text;
}

}  // namespace linkmargin

#include "linkmargin/yaml/tables.hpp"

#include "linkmargin/yaml/document.hpp"
#include "linkmargin/yaml/embedded.hpp"
#include "linkmargin/yaml/materials_yaml.hpp"
#include "linkmargin/yaml/profiles_yaml.hpp"

#include <stdexcept>

namespace linkmargin {
namespace {

/// Reads the one section of a table file into a copy of the base.
template <typename Table, typename Read>
Result<Table> parse_table(std::string_view text, const std::string& file_name, std::string_view section,
                          const Table& base, Read read) {
  yaml::Faults faults(file_name);
  if (const auto root = yaml::parse_document(text, faults)) {
    const yaml::Cursor top(*root);
    yaml::ObjectReader reader(top, "", faults);
    Table table = base;
    if (const auto entries = reader.need(section)) read(*entries, table, faults);
    reader.finish();
    if (faults.empty()) return table;
  }
  return std::move(faults).sorted();
}

std::string joined(std::span<const std::string_view> parts) {
  std::string text;
  for (const std::string_view part : parts) text += part;
  return text;
}

template <typename Table>
Table sound(Result<Table> table) {
  if (!table) throw std::logic_error("a built-in table is faulty: " + to_text(table.error().front()));
  return std::move(table.value());
}

Tables read_embedded_tables() {
  Tables tables{sound(parse_materials(joined(yaml::embedded_materials()), "materials.yaml", {})),
                sound(parse_profiles(joined(yaml::embedded_profiles()), "profiles.yaml", {}))};
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
  return parse_table(text, file_name, "materials", base, yaml::read_materials);
}

Result<ProfileTable> parse_profiles(std::string_view text, const std::string& file_name,
                                    const ProfileTable& base) {
  return parse_table(text, file_name, "profiles", base, yaml::read_profiles);
}

std::string_view starter_text() {
  static const std::string text = joined(yaml::embedded_starter());
  return text;
}

}  // namespace linkmargin

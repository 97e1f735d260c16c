#include "linkmargin/yaml/site/site_yaml.hpp"

#include "linkmargin/yaml/site/building_yaml.hpp"
#include "linkmargin/yaml/site/calibration_yaml.hpp"
#include "linkmargin/yaml/tree/document.hpp"
#include "linkmargin/yaml/site/environment_yaml.hpp"
#include "linkmargin/yaml/site/semantic_checks.hpp"
#include "linkmargin/yaml/site/materials_yaml.hpp"
#include "linkmargin/yaml/site/profiles_yaml.hpp"
#include "linkmargin/yaml/site/radios_yaml.hpp"

#include <algorithm>

namespace linkmargin {
namespace yaml {
namespace {

/// Whether every storey of the file has a name, so that one may be called unknown.
bool storeys_named(const Node& root) {
  const Node* list = find(root, "storeys");
  return list != nullptr && !list->items.empty() &&
         std::all_of(list->items.begin(), list->items.end(),
                     [](const Node& item) { return !item_name(item).empty(); });
}

Site read_site(const Node& root, const Tables& tables, Faults& faults) {
  const Cursor top(root);
  ObjectReader reader(top, "", faults);
  Site site;
  site.materials = tables.materials;
  site.profiles = tables.profiles;
  site.name = reader.name("site");
  site.note = reader.text_or_empty("note");
  if (const auto radio = reader.need("radio")) site.radio = read_environment(*radio, faults);
  if (const auto reading = reader.find("reading")) site.reading = read_reading_scale(*reading, faults);
  if (const auto fading = reader.find("fading")) site.fading = read_fading(*fading, faults);
  if (const auto learned = reader.find("calibration")) site.calibration = read_calibration(*learned, faults);
  if (const auto materials = reader.find("materials")) read_materials(*materials, site.materials, faults);
  if (const auto profiles = reader.find("profiles")) read_profiles(*profiles, site.profiles, faults);
  if (const auto storeys = reader.need("storeys")) site.storeys = read_storeys(*storeys, faults);
  read_radios(reader, site, storeys_named(root), faults);
  reader.finish();
  return site;
}

}  // namespace
}  // namespace yaml

Result<Site> parse_site(std::string_view text, const std::string& file_name, const Tables& tables) {
  Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const bool tree_sound = faults.empty();
  Site site = yaml::read_site(*root, tables, faults);
  if (tree_sound && !site.storeys.empty()) yaml::add_findings(*root, site, faults);
  if (faults.empty()) return site;
  return std::move(faults).sorted();
}

}  // namespace linkmargin

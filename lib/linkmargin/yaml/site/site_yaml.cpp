#include "linkmargin/yaml/site/site_yaml.hpp"

#include "linkmargin/yaml/fields/field_reader.hpp"
#include "linkmargin/yaml/short_form/rooms_yaml.hpp"
#include "linkmargin/yaml/short_form/usual_tables.hpp"
#include "linkmargin/yaml/site/building_yaml.hpp"
#include "linkmargin/yaml/site/calibration_yaml.hpp"
#include "linkmargin/yaml/site/environment_yaml.hpp"
#include "linkmargin/yaml/site/materials_yaml.hpp"
#include "linkmargin/yaml/site/profiles_yaml.hpp"
#include "linkmargin/yaml/site/radios_yaml.hpp"
#include "linkmargin/yaml/site/semantic_checks.hpp"
#include "linkmargin/yaml/tree/document.hpp"

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
  StoreyNames storeys{{}, storeys_named(root)};
  HouseDefaults house;
  std::vector<StoreyMeasures> measures;
  read_fields(reader, site, {faults}, [&](std::string_view key, const Cursor& value) {
    if (key == "units") site.units = read_noun<Units>(value, "units", faults);
    if (key == "radio") site.radio = read_environment(value, faults);
    if (key == "reading") site.reading = read_reading_scale(value, faults);
    if (key == "fading") site.fading = read_fading(value, faults);
    if (key == "calibration") site.calibration = read_calibration(value, faults);
    if (key == "materials") read_materials(value, site.materials, faults);
    if (key == "profiles") read_profiles(value, site.profiles, faults);
    if (key == "construction") house.construction = read_house(value, faults);
    if (key == "outer_wall") house.outer_wall = read_construction(value, faults);
    if (key == "inner_wall") house.inner_wall = read_construction(value, faults);
    if (key == "measured") house.measured_inside = read_measured_inside(value, faults);
    if (key == "storeys") {
      TypedBuilding building = read_storeys(value, house, faults);
      site.storeys = std::move(building.storeys);
      measures = std::move(building.measures);
      for (const Storey& storey : site.storeys) storeys.names.push_back(storey.name);
    }
    read_radios(key, value, storeys, measures, site, faults);
  });
  reader.known_elsewhere(keys_of<Storey>(), "it belongs in a storey, beside its name");
  reader.finish();
  return site;
}

}  // namespace
}  // namespace yaml

SiteAttempt attempt_site(std::string_view text, const std::string& file_name, const Tables& tables) {
  Faults faults(file_name);
  SiteAttempt attempt;
  if (const auto root = yaml::parse_document(text, faults)) {
    const bool tree_sound = faults.empty();
    attempt.site = yaml::read_site(*root, tables, faults);
    if (tree_sound && !attempt.site.storeys.empty()) yaml::add_findings(*root, attempt.site, faults);
  }
  if (!faults.empty()) attempt.faults = std::move(faults).sorted();
  return attempt;
}

Result<Site> parse_site(std::string_view text, const std::string& file_name, const Tables& tables) {
  SiteAttempt attempt = attempt_site(text, file_name, tables);
  if (attempt.faults.empty()) return std::move(attempt.site);
  return std::move(attempt.faults);
}

}  // namespace linkmargin

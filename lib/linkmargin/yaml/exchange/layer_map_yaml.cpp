#include "linkmargin/yaml/exchange/layer_map_yaml.hpp"

#include "linkmargin/yaml/tree/document.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin {
namespace {

constexpr Range kPatterns{1, 1000, "names of layers", "bounds of this library"};

void read_patterns(const yaml::Cursor& value, exchange::LayerRole role, exchange::LayerMap& map,
                   Faults& faults) {
  const auto read_one = [&](const yaml::Cursor& one) {
    if (auto name = yaml::read_name(one, faults)) map.patterns.push_back({std::move(*name), role});
  };
  if (value.node().kind == yaml::Node::Kind::scalar) {
    read_one(value);
  } else {
    yaml::for_each_item(value, kPatterns, faults, read_one);
  }
}

}  // namespace

Result<exchange::LayerMap> parse_layer_map(std::string_view text, const std::string& file_name) {
  Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const yaml::Cursor top(*root);
  yaml::ObjectReader reader(top, "", faults);
  exchange::LayerMap map;
  for (const exchange::LayerRoleName& role : exchange::kLayerRoles) (void)reader.find(role.word);
  for (const yaml::Entry& entry : root->entries) {
    const auto role =
        std::ranges::find(exchange::kLayerRoles, std::string_view(entry.key), &exchange::LayerRoleName::word);
    if (role == exchange::kLayerRoles.end()) continue;
    read_patterns(yaml::Cursor::at_key(top, entry.key, entry.value), role->role, map, faults);
  }
  if (map.patterns.empty() && faults.empty()) reader.missing({"walls", "rooms"});
  reader.finish();
  if (faults.empty()) return map;
  return std::move(faults).sorted();
}

}  // namespace linkmargin

#include "linkmargin/yaml/writer/calibration_value.hpp"

#include "linkmargin/yaml/writer/field_values.hpp"

#include <utility>

namespace linkmargin::yaml {
namespace {

NewValue pair_value(const Calibration::Correlation& pair) {
  NewValue value{NewValue::Kind::list};
  value.items = {name_value(pair.first), name_value(pair.second), literal_value(shortest_text(pair.value))};
  return value;
}

}  // namespace

NewValue learned_value(const std::map<std::string, LearnedShift>& learned) {
  NewValue materials = map_value({});
  for (const auto& [row, shift] : learned) materials.entries.push_back({row, noun_value(shift, "sigma_db")});
  return materials;
}

NewValue calibration_value(const Calibration& learned) {
  NewValue value = noun_value(learned, "offset_db");
  value.lines = kCalibrationLines;
  NewValue materials = learned_value(learned.materials);
  if (!materials.entries.empty()) value.entries.push_back({"materials", std::move(materials)});
  NewValue radios = map_value({});
  for (const auto& [name, radio] : learned.radios)
    radios.entries.push_back({name, noun_value(radio, "sigma_db")});
  if (!radios.entries.empty()) value.entries.push_back({"radios", std::move(radios)});
  NewValue pairs{NewValue::Kind::list};
  for (const auto& pair : learned.correlations) pairs.items.push_back(pair_value(pair));
  if (!pairs.items.empty()) value.entries.push_back({"correlations", std::move(pairs)});
  return value;
}

}  // namespace linkmargin::yaml

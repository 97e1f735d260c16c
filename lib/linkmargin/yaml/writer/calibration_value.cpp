#include "linkmargin/yaml/writer/calibration_value.hpp"

#include "linkmargin/base/number_text.hpp"

#include <utility>

namespace linkmargin::yaml {
namespace {

NewValue number_value(double number) {
  return literal_value(shortest_text(number));
}

NewValue shift_value(const LearnedShift& shift) {
  NewValue value =
      map_value({{"shift_db", number_value(shift.shift_db)}, {"sigma_db", number_value(shift.sigma_db)}});
  if (shift.readings != 0)
    value.entries.push_back({"readings", literal_value(std::to_string(shift.readings))});
  return value;
}

NewValue pair_value(const Calibration::Correlation& pair) {
  NewValue value{NewValue::Kind::list};
  value.items = {name_value(pair.first), name_value(pair.second), number_value(pair.value)};
  return value;
}

}  // namespace

NewValue learned_value(const std::map<std::string, LearnedShift>& learned) {
  NewValue materials = map_value({});
  for (const auto& [row, shift] : learned) materials.entries.push_back({row, shift_value(shift)});
  return materials;
}

NewValue calibration_value(const Calibration& learned) {
  NewValue value = map_value({{"offset_db", number_value(learned.offset_db)}});
  value.lines = kCalibrationLines;
  const auto add = [&](const char* key, double number) {
    if (number != 0) value.entries.push_back({key, number_value(number)});
  };
  add("offset_sigma_db", learned.offset_sigma_db);
  add("exponent_sigma", learned.exponent_sigma);
  add("zero_sigma_db", learned.zero_sigma_db);
  add("full_sigma_db", learned.full_sigma_db);
  add("readings", learned.readings);
  NewValue materials = learned_value(learned.materials);
  if (!materials.entries.empty()) value.entries.push_back({"materials", std::move(materials)});
  NewValue pairs{NewValue::Kind::list};
  for (const auto& pair : learned.correlations) pairs.items.push_back(pair_value(pair));
  if (!pairs.items.empty()) value.entries.push_back({"correlations", std::move(pairs)});
  return value;
}

}  // namespace linkmargin::yaml

#include "linkmargin/site/calibration.hpp"

#include "linkmargin/base/diagnostic.hpp"

namespace linkmargin {

std::string shift_pointer(const std::string& material) {
  return "/calibration/materials/" + pointer_token(material) + "/shift_db";
}

std::string radio_pointer(const std::string& radio) {
  return "/calibration/radios/" + pointer_token(radio) + "/offset_db";
}

double learned_radio_db(const std::optional<Calibration>& calibration, const std::string& radio) {
  if (!calibration) return 0;
  const auto known = calibration->radios.find(radio);
  return known == calibration->radios.end() ? 0 : known->second.offset_db;
}

std::vector<LearnedParameter> parameters(const Calibration& calibration) {
  std::vector<LearnedParameter> all{{kOffsetPointer, calibration.offset_sigma_db},
                                    {kExponentPointer, calibration.exponent_sigma},
                                    {kZeroPointer, calibration.zero_sigma_db},
                                    {kFullPointer, calibration.full_sigma_db}};
  for (const auto& [name, shift] : calibration.materials)
    all.push_back({shift_pointer(name), shift.sigma_db});
  return all;
}

const LearnedShift* learned_shift(const std::optional<Calibration>& calibration, const Material& material) {
  if (calibration) {
    const auto own = calibration->materials.find(material.name);
    if (own != calibration->materials.end()) return &own->second;
  }
  return material.learned ? &*material.learned : nullptr;
}

}  // namespace linkmargin

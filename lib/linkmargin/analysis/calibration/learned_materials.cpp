#include "linkmargin/analysis/calibration/learned_materials.hpp"

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/calibration.hpp"

#include <cmath>
#include <set>

namespace linkmargin {
namespace {

double rounded(double value) {
  return std::round(value * 1000) / 1000 + 0.0;  // no zero below zero
}

bool same_but_learned(Material a, Material b) {
  a.learned.reset();
  b.learned.reset();
  return a == b;
}

bool has_same(const MaterialTable& table, const Material& material) {
  const auto row = table.find(material.name);
  return row != table.end() && same_but_learned(row->second, material);
}

int readings_of(const std::vector<CalibrationJob>& jobs, const CalibratedParameter& parameter) {
  std::size_t count = 0;
  for (const std::size_t job : parameter.jobs) count += jobs.at(job).readings.size();
  return static_cast<int>(count);
}

/// The name that `pointer_of` made a pointer of; nothing where it did not.
std::optional<std::string> name_in(const std::string& pointer,
                                   std::string (*pointer_of)(const std::string& name)) {
  constexpr std::size_t place = 2;
  const auto names = pointer_names(pointer);
  if (!names || names->size() <= place || pointer_of((*names)[place]) != pointer) return {};
  return (*names)[place];
}

}  // namespace

std::optional<std::string> shifted_material(const std::string& pointer) {
  return name_in(pointer, shift_pointer);
}

std::optional<std::string> radio_with_offset(const std::string& pointer) {
  return name_in(pointer, radio_pointer);
}

LearnedMaterials learned_materials(const std::vector<CalibrationJob>& jobs, const CalibrationReport& report,
                                   const MaterialTable& known, const MaterialTable& common) {
  LearnedMaterials found;
  std::set<std::string> own;
  for (const auto& [name, material] : known) {
    if (!material.learned) continue;
    if (has_same(common, material)) {
      found.shifts[name] = *material.learned;
    } else {
      own.insert(name);
    }
  }
  std::map<std::string, double> surest;
  for (const CalibratedParameter& parameter : report.parameters) {
    const auto name = shifted_material(parameter.path);
    if (!name || !parameter.is_informed()) continue;
    if (!has_same(common, jobs.at(parameter.jobs.front()).site.materials.at(*name))) {
      own.insert(*name);
      continue;
    }
    const auto earlier = surest.find(*name);
    if (earlier != surest.end() && earlier->second <= parameter.sigma) continue;
    surest[*name] = parameter.sigma;
    const auto before = known.find(*name);
    const bool counts_before = before != known.end() && before->second.learned;
    found.shifts[*name] = {
        .shift_db = rounded(parameter.value),
        .sigma_db = rounded(parameter.sigma),
        .readings = readings_of(jobs, parameter) + (counts_before ? before->second.learned->readings : 0)};
  }
  found.own.assign(own.begin(), own.end());
  return found;
}

}  // namespace linkmargin

#include "linkmargin/site/validation/electrical_flaw.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// Three significant digits.
std::string rounded_text(double value) {
  if (!std::isfinite(value) || value == 0) return shortest_text(value);
  const double step = std::pow(10, std::floor(std::log10(std::abs(value))) - 2);
  const double rounded = std::round(value / step) * step;
  return std::isfinite(rounded)
             ? fixed_text(rounded, step < 1 ? static_cast<int>(std::lround(-std::log10(step))) : 0)
             : shortest_text(value);
}

std::optional<ElectricalFlaw> flaw_of(const char* key, const char* law, double value, const Range& range,
                                      double frequency_hz) {
  if (range.contains(value)) return {};
  return ElectricalFlaw{key, std::string("the ") + law + " is " + rounded_text(value) + " at " +
                                 shortest_text(mhz_from_hz(frequency_hz)) + " MHz, outside " +
                                 shortest_text(range.min) + ".." + shortest_text(range.max)};
}

}  // namespace

std::optional<ElectricalFlaw> electrical_flaw(const ElectricalProperties& properties, double frequency_hz) {
  const double frequency_ghz = frequency_hz / 1e9;
  const double permittivity = properties.a * std::pow(frequency_ghz, properties.b);
  const double conductivity_s_per_m = properties.c * std::pow(frequency_ghz, properties.d);
  if (auto flaw = flaw_of("a", "permittivity a f^b", permittivity, kPermittivityAtFrequency, frequency_hz))
    return flaw;
  return flaw_of("c", "conductivity c f^d", conductivity_s_per_m, kConductivityAtFrequency, frequency_hz);
}

std::optional<ElectricalFlaw> electrical_flaw(const ElectricalProperties& properties) {
  if (auto flaw = electrical_flaw(properties, properties.min_frequency_hz)) return flaw;
  return electrical_flaw(properties, properties.max_frequency_hz);
}

}  // namespace linkmargin

#pragma once

#include "linkmargin/propagation/electrical.hpp"
#include "linkmargin/propagation/slab_loss.hpp"

#include "published_table.hpp"

#include <algorithm>
#include <complex>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <vector>

namespace linkmargin::testing {

/// The constants of ITU-R P.2040 in tests/published/electrical_properties.csv.
class ElectricalTable {
 public:
  std::complex<double> permittivity(const std::string& edition, const std::string& material,
                                    double frequency_hz) const {
    if (material == "air") return {1, 0};
    for (const auto& row : table_.rows()) {
      if (row.text("edition") == edition && row.text("material") == material) {
        return relative_permittivity(row.number("a"), row.number("b"), row.number("c"), row.number("d"),
                                     frequency_hz);
      }
    }
    throw std::runtime_error(edition + " has no " + material);
  }

  /// "brick:100/air:50/brick:100": materials and millimetres from one face to the other.
  std::vector<SlabLayer> layers(const std::string& edition, const std::string& text,
                                double frequency_hz) const {
    std::vector<SlabLayer> result;
    for (std::size_t start = 0; start <= text.size();) {
      const std::size_t end = std::min(text.find('/', start), text.size());
      const std::size_t colon = text.find(':', start);
      if (colon >= end) throw std::runtime_error("no thickness in " + text);
      const double thickness_mm = std::stod(text.substr(colon + 1, end - colon - 1));
      result.push_back(
          {permittivity(edition, text.substr(start, colon - start), frequency_hz), thickness_mm / 1000});
      start = end + 1;
    }
    return result;
  }

 private:
  PublishedTable table_ = PublishedTable::read("electrical_properties.csv", 25);
};

}  // namespace linkmargin::testing
